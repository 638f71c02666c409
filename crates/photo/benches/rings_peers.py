#!/usr/bin/env python3
"""The same drawn pictures by general-purpose libraries: OpenCV's HoughCircles and scikit-image's hough_circle.

Reads the folder that `cargo bench -p photo --bench rings -- --keep DIR` wrote, our rings and their time with it. The
peers are helped: each is told to look for radii within 0.75 to 1.25 of the true median radius of that picture, and the
least distance of two (1.5 radii); ours is told nothing and has to find out. Their blur and thresholds were chosen
(--tune) on 42 other pictures of the same kind, numbers 1005, 1009 and 1012 of each condition (90, 10 and 37 tubes), for
the best F1. One thread each, time of the processor. Judged as in tests/it/rings_score.rs.
"""
import sys
import time
from collections import defaultdict
from pathlib import Path

import cv2
import numpy as np
import skimage
from skimage.feature import canny
from skimage.transform import hough_circle, hough_circle_peaks, resize

cv2.setNumThreads(1)
MUST = 0.6


def judge(rings, ends):
    pairs = []
    for r, (x, y, radius) in enumerate(rings):
        for e, (ex, ey, er, _) in enumerate(ends):
            away = np.hypot(x - ex, y - ey) / er
            if away < 0.35 and 0.75 <= radius / er < 1.25:
                pairs.append((away, r, e))
    of_ring, taken = {}, set()
    for _, r, e in sorted(pairs):
        if r not in of_ring and e not in taken:
            of_ring[r] = e
            taken.add(e)
    found = sum(1 for r in of_ring if ends[of_ring[r]][3] >= MUST)
    wrong = len(rings) - len(of_ring)
    wanted = sum(1 for e in ends if e[3] >= MUST)
    return wanted, found, wrong


def opencv(grey, radius, mode=cv2.HOUGH_GRADIENT_ALT, edge=100, votes=0.8, blur=1.2):
    soft = cv2.GaussianBlur(grey, (0, 0), blur)
    found = cv2.HoughCircles(soft, mode, dp=1.5, minDist=1.5 * radius, param1=edge, param2=votes,
                             minRadius=int(0.75 * radius), maxRadius=int(np.ceil(1.25 * radius)))
    rings = [] if found is None else [tuple(c[:3]) for c in np.asarray(found).reshape(-1, found.shape[-1])]
    # the second way gives the inner and the outer side of a wall, whatever the least distance: those with more votes
    # come first and are kept
    return apart(rings, 1.4 * radius)


def apart(rings, least):
    kept = []
    for ring in rings:
        if all(np.hypot(ring[0] - k[0], ring[1] - k[1]) >= least for k in kept):
            kept.append(ring)
    return kept


def opencv_plain(grey, radius, edge=60, votes=35, blur=2.0):
    return opencv(grey, radius, cv2.HOUGH_GRADIENT, edge, votes, blur)


def scikit(grey, radius, share=0.55, sigma=2.5):
    # at a radius of about 16 pixels, as it fills a whole plane for each radius
    scale = min(1.0, 16 / radius)
    small = resize(grey, [round(s * scale) for s in grey.shape], anti_aliasing=True)
    edges = canny(small, sigma=max(0.7, sigma * scale), low_threshold=0.02, high_threshold=0.06)
    r = radius * scale
    radii = np.unique(np.round(np.arange(0.78 * r, 1.23 * r, 1.0)).astype(int))
    space = hough_circle(edges, radii)
    least = max(1, int(1.4 * r))
    votes, x, y, found = hough_circle_peaks(space, radii, min_xdistance=least, min_ydistance=least, threshold=share,
                                            normalize=False, total_num_peaks=400)
    best_first = [(cx, cy, cr) for _, cx, cy, cr in sorted(zip(votes, x, y, found), key=lambda t: -t[0])]
    return [tuple(v / scale for v in ring) for ring in apart(best_first, 1.4 * r)]


def ours(stem):
    path = Path(f"{stem}.ours.csv")
    return [tuple(map(float, line.split(",")[:3])) for line in path.read_text().splitlines()]


def pictures(folder):
    for path in sorted(Path(folder).glob("*.png")):
        stem = str(path)[:-4]
        ends = [tuple(map(float, line.split(","))) for line in Path(f"{stem}.truth.csv").read_text().splitlines()]
        yield path.name.split("-")[0], stem, cv2.imread(str(path), cv2.IMREAD_GRAYSCALE), ends


def tune(folder):
    """Prints which thresholds find most and invent least (F1 over the folder)."""
    tries = [("alt", opencv, dict(edge=e, votes=v, blur=b))
             for e in (100, 150, 200) for v in (0.7, 0.8, 0.9, 0.95) for b in (1.2, 2.0)]
    tries += [("plain", opencv_plain, dict(edge=e, votes=v, blur=b))
              for e in (60, 100) for v in (20, 28, 35) for b in (1.2, 2.0)]
    tries += [("scikit", scikit, dict(share=s, sigma=g)) for s in (0.55, 0.6, 0.65) for g in (1.5, 2.5)]
    all_of = list(pictures(folder))
    for name, method, settings in tries:
        total = np.zeros(3)
        for _, _, grey, ends in all_of:
            total += judge(method(grey, float(np.median([e[2] for e in ends])), **settings), ends)
        wanted, found, wrong = total
        print(f"{name:7} {settings} recall {found / wanted:.3f} precision {found / max(1, found + wrong):.3f} "
              f"F1 {2 * found / (wanted + found + wrong):.3f}", flush=True)


def main(folder):
    methods = {"OpenCV gradient": opencv_plain, "OpenCV gradient alt": opencv, "scikit-image": scikit}
    totals, spent = defaultdict(lambda: np.zeros(3)), defaultdict(float)
    conditions, count = [], 0
    for condition, stem, grey, ends in pictures(folder):
        count += 1
        if condition not in conditions:
            conditions.append(condition)
        radius = float(np.median([e[2] for e in ends]))
        totals["ours", condition] += judge(ours(stem), ends)
        spent["ours"] += float(Path(f"{stem}.ours.ms").read_text()) / 1e3
        for name, method in methods.items():
            start = time.process_time()
            rings = method(grey, radius)
            spent[name] += time.process_time() - start
            totals[name, condition] += judge(rings, ends)
    names = ["ours", *methods]
    print(f"{count} pictures; OpenCV {cv2.__version__}, scikit-image {skimage.__version__}, "
          f"{time.strftime('%Y-%m-%d')}; recall/precision; the peers are told the radius, ours is not")
    print(f"{'condition':12}" + "".join(f"{n:>22}" for n in names))
    for condition in [*conditions, "all"]:
        line = f"{condition:12}"
        for name in names:
            of = conditions if condition == "all" else [condition]
            wanted, found, wrong = sum(totals[name, c] for c in of)
            line += f"{found / wanted:>16.3f}/{found / max(1, found + wrong):.3f}"
        print(line)
    print(f"{'ms a picture':12}" + "".join(f"{spent[n] / count * 1e3:>22.0f}" for n in names))


if __name__ == "__main__":
    if sys.argv[1] == "--tune":
        tune(sys.argv[2])
    else:
        main(sys.argv[1])
