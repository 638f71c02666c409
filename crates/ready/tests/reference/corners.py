"""Corners from measured lengths by scipy.optimize.least_squares: writes corners.json beside this file, or checks it.

Nothing here is the project's: the weights are in the cases, the model is four points in the plane of which the first is
the origin and the last lies on the y axis, and the covariance is the inverse of J'J of the weighted residuals.

    python corners.py          writes corners.json
    python corners.py --check  works the figures out again and holds them against corners.json
"""

import json
import math
import pathlib
import random
import sys

import numpy
import scipy
from scipy.optimize import least_squares

PAIRS = [(0, 1), (2, 3), (0, 3), (1, 2), (0, 2), (1, 3)]
FILE = pathlib.Path(__file__).with_name("corners.json")


def points(x):
    return [(0.0, 0.0), (x[0], x[1]), (x[2], x[3]), (0.0, x[4])]


def apart(p, pair):
    (ax, ay), (bx, by) = p[pair[0]], p[pair[1]]
    return math.hypot(bx - ax, by - ay)


def solve(case):
    width, length = case["width"], case["length"]

    def residuals(x):
        p = points(x)
        return [(apart(p, r["between"]) - r["level"]) / r["error"] for r in case["readings"]]

    start = [width, 0.0, width, length, length]
    fit = least_squares(residuals, start, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    covariance = numpy.linalg.inv(fit.jac.T @ fit.jac)
    return {
        "at": [list(point) for point in points(fit.x)],
        "error": [math.sqrt(v) for v in numpy.diag(covariance)],
        "misfit": float(2 * fit.cost),
    }


def cases():
    dice = random.Random(20260601)
    made = []
    sizes = [(9.144, 29.2608), (6.096, 14.6304), (5.1816, 10.9728), (7.3152, 14.6304), (4.2672, 12.192)]
    for number in range(20):
        width, length = sizes[number % len(sizes)]
        true = [(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)]
        true = [(x + dice.uniform(-0.15, 0.15), y + dice.uniform(-0.15, 0.15)) for x, y in true]
        readings = []
        for pair in PAIRS:
            error = dice.choice([0.002, 0.003, 0.005])
            level = round(apart(true, pair) + dice.gauss(0.0, error), 4)
            readings.append({"between": list(pair), "level": level, "error": error})
        if number % 4 == 1:  # five lengths
            readings.pop(dice.randrange(6))
        if number % 4 == 2:  # both diagonals twice
            for pair in PAIRS[4:]:
                level = round(apart(true, pair) + dice.gauss(0.0, 0.003), 4)
                readings.append({"between": list(pair), "level": level, "error": 0.003})
        if number % 4 == 3:  # one a foot too long
            readings[dice.randrange(6)]["level"] += 0.3048
        made.append({"width": width, "length": length, "readings": readings})
    return made


def main():
    if sys.argv[1:] == ["--check"]:
        kept = json.loads(FILE.read_text())
        worst = 0.0
        for case in kept["cases"]:
            again = solve(case)
            for name in ("at", "error"):
                a, b = numpy.ravel(case[name]), numpy.ravel(again[name])
                worst = max(worst, float(numpy.max(numpy.abs(a - b))))
        print(f"scipy {scipy.__version__}: {len(kept['cases'])} cases, at most {worst:.1e} m from what is kept")
        sys.exit(worst > 1e-7)
    written = {
        "by": f"scipy {scipy.__version__} (numpy {numpy.__version__}), scipy.optimize.least_squares(method='lm')",
        "command": "python crates/ready/tests/reference/corners.py",
        "cases": [dict(case, **solve(case)) for case in cases()],
    }
    FILE.write_text(json.dumps(written, indent=1) + "\n")


main()
