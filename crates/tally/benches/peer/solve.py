"""Solves with HiGHS every programme that the bench wrote, and holds cost and time against ours."""

import csv
import pathlib
import sys
import time

import highspy


def solve(path):
    """The least cost in the programme's own whole numbers, and the milliseconds that finding and proving it took."""
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    # To the last unit, as ours are: the gap that it stops at otherwise is one in ten thousand.
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.5)
    model.setOptionValue("threads", 1)
    if model.readModel(str(path)) != highspy.HighsStatus.kOk:
        sys.exit(f"{path.name}: HiGHS cannot read it")
    start = time.perf_counter()
    model.run()
    took = 1e3 * (time.perf_counter() - start)
    optimal = model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    cost = round(model.getInfo().objective_function_value) if optimal else None
    return cost, took


def main():
    folder = pathlib.Path(sys.argv[1])
    ours, theirs, same, n, dearer, none, biggest = 0.0, 0.0, 0, 0, 0, 0, 0
    with open(folder / "ours.csv", newline="") as file:
        for row in csv.DictReader(file):
            cost, took = solve(folder / row["programme"])
            n += 1
            ours += float(row["ms"])
            theirs += took
            biggest = max(biggest, int(row["columns"]))
            if cost is None:
                none += 1
            elif cost == int(row["cost"]):
                same += 1
            else:
                dearer += 1
                print(f"{row['programme']}: ours {row['cost']}, HiGHS {cost}")
    print(f"{n} programmes, up to {biggest} columns: the same optimum in {same}, another in {dearer}, none in {none}")
    print(f"ours {ours:.1f} ms, HiGHS {theirs:.1f} ms, ours in {100 * ours / theirs:.0f} % of its time")
    if same != n:
        sys.exit("the two do not agree")


main()
