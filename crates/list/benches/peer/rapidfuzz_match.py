"""The labelled rows matched by a general-purpose fuzzy matcher: reads parts and rows on stdin (see quality.rs), prints name,
share right and milliseconds, tab between.

What it is given: descriptions processed by the library (lower case, no punctuation), a code that is a mark taken as that
mark outright, and as the threshold under which a row is none of the parts the best there is on the tuning rows, in whole
points (`--find-threshold` finds it; what came out stands in README.md).
"""

import sys
import time

import numpy
from rapidfuzz import fuzz, process, utils
from scipy.optimize import linear_sum_assignment

BEST_MATCH_THRESHOLD = 49
ASSIGNED_THRESHOLD = 43
# So many rows may lie on one mark; we allow six.
ROWS_ON_A_MARK = 6
# What each further row on a mark costs, in points.
FURTHER_ROW = 4


def read():
    parts, lists = {}, {}
    for line in sys.stdin:
        kind, *cells = line.rstrip("\n").split("\t")
        if kind == "part":
            order, mark, description = cells
            parts.setdefault(order, []).append((mark, description))
        else:
            name, order, code, says, mark = cells
            lists.setdefault((name, order), []).append((code, says, mark))
    return parts, lists


def scores(rows, parts):
    bare = lambda code: "".join(c for c in code.upper() if c.isalnum())
    table = process.cdist([says for _, says, _ in rows], [text for _, text in parts], scorer=fuzz.token_set_ratio,
                          processor=utils.default_process)
    for i, (code, _, _) in enumerate(rows):
        for j, (mark, _) in enumerate(parts):
            if code and bare(code) == bare(mark):
                table[i, j] = 100
    return table


def best_match(table, threshold):
    best = table.argmax(axis=1)
    return [int(j) if table[i, j] >= threshold else None for i, j in enumerate(best)]


def assigned(table, threshold):
    rows, parts = table.shape
    columns = numpy.hstack([table - FURTHER_ROW * n for n in range(ROWS_ON_A_MARK)]
                           + [numpy.full((rows, rows), float(threshold))])
    chosen = [None] * rows
    for i, column in zip(*linear_sum_assignment(columns, maximize=True)):
        chosen[i] = int(column % parts) if column < parts * ROWS_ON_A_MARK else None
    return chosen


def share_right(parts, lists, way, threshold):
    right = count = 0
    for (_, order), rows in lists.items():
        chosen = way(scores(rows, parts[order]), threshold)
        for (_, _, mark), j in zip(rows, chosen):
            right += mark == (parts[order][j][0] if j is not None else "")
            count += 1
    return right / count


def main():
    parts, lists = read()
    if "--find-threshold" in sys.argv:
        for way in (best_match, assigned):
            best = max(range(20, 101), key=lambda threshold: share_right(parts, lists, way, threshold))
            print(way.__name__, best, share_right(parts, lists, way, best))
        return
    for name, way, threshold in [("token_set_ratio, best match", best_match, BEST_MATCH_THRESHOLD),
                                 ("token_set_ratio, optimal assignment (scipy)", assigned, ASSIGNED_THRESHOLD)]:
        share_right(parts, lists, way, threshold)  # once to warm up
        began = time.perf_counter()
        right = share_right(parts, lists, way, threshold)
        print(f"{name}\t{right:.4f}\t{(time.perf_counter() - began) * 1e3:.2f}")


main()
