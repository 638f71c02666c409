"""Figures for profiles, made without the Rust code: centre points from school geometry, areas and lengths from shapely.

Each profile is drawn from its centres, which are found here by ruler and compass: intersecting chords, right triangles,
Heron's height of a triangle. Arcs are fine polylines. A polyline of n chords falls short by a share like 1/n^2, so from
one of n and one of 2n Richardson's rule has the limit, far beyond 1e-6.

    python3 -m venv venv && venv/bin/pip install shapely==2.2.0 && venv/bin/python figures.py > figures.csv
"""

import datetime
import math
import sys

import shapely
from shapely.geometry import LineString, Point, Polygon, box

N = 20_000


def arc(centre, start, end, n):
    """Points clockwise around a centre from a point to a point."""
    r = math.dist(centre, start)
    assert abs(r - math.dist(centre, end)) < 1e-9 * max(r, 1), (r, math.dist(centre, end))
    a = math.atan2(start[1] - centre[1], start[0] - centre[0])
    b = math.atan2(end[1] - centre[1], end[0] - centre[0])
    while b > a:
        b -= 2 * math.pi
    return [
        (centre[0] + r * math.cos(a + (b - a) * i / n), centre[1] + r * math.sin(a + (b - a) * i / n))
        for i in range(n + 1)
    ]


def ring_crossing(c1, r1, c2, r2, pick):
    """Where two circles cross, by Heron's height of the triangle of three known sides."""
    d = math.dist(c1, c2)
    s = (r1 + r2 + d) / 2
    high = 2 * math.sqrt(s * (s - r1) * (s - r2) * (s - d)) / d
    foot = (r1 * r1 - high * high) ** 0.5 * (1 if r1 * r1 + d * d >= r2 * r2 else -1)
    ux, uy = (c2[0] - c1[0]) / d, (c2[1] - c1[1]) / d
    both = [(c1[0] + foot * ux - k * high * uy, c1[1] + foot * uy + k * high * ux) for k in (1, -1)]
    return pick(both)


def beyond(centre, through, r):
    """The point of a circle on the ray from its centre through another point."""
    d = math.dist(centre, through)
    return tuple(c + (t - c) * r / d for c, t in zip(centre, through))


# Every profile is a list of pieces of its left half; ("line", a, b) or ("arc", centre, a, b).

def gothic(w, h, side, r, big):
    foot, spring = (-w / 2, 0), (-w / 2, side)
    c1 = (-w / 2 + r, side)
    c2 = ring_crossing(c1, big - r, (0, h), big, lambda both: min(both, key=lambda p: p[1]))
    touch = beyond(c2, c1, big)
    return [("line", foot, spring), ("arc", c1, spring, touch), ("arc", c2, touch, (0, h))]


def semicircle(w, side):
    spring = (-w / 2, side)
    return [("line", (-w / 2, 0), spring), ("arc", (0, side), spring, (0, side + w / 2))]


def flat_arc(w, h, post):
    # Intersecting chords: rise * (2R - rise) = (w/2)^2.
    rise = h - post
    r = ((w / 2) ** 2 / rise + rise) / 2
    top = (-w / 2, post)
    return [("line", (-w / 2, 0), top), ("arc", (0, h - r), top, (0, h))]


def horseshoe(w, h, leg=0.0):
    pieces = flat_arc(w, h, leg)
    return pieces if leg else pieces[1:]


def three_centred(w, h, side, r):
    # The roof's centre (0, z) is as far from the shoulder's centre as its radius less r: Pythagoras.
    a, k = w / 2 - r, h - side - r
    # a^2 + z^2 = (k - z)^2 with z counted from the spring line.
    z = (k * k - a * a) / (2 * k)
    c1, c2, spring = (-w / 2 + r, side), (0, side + z), (-w / 2, side)
    touch = beyond(c2, c1, h - side - z)
    return [("line", (-w / 2, 0), spring), ("arc", c1, spring, touch), ("arc", c2, touch, (0, h))]


def pointed_arc(w, h):
    # The centre is on the ground; its upright bisector of foot and peak meets it there.
    r = ((w / 2) ** 2 + h * h) / w
    return [("arc", (r - w / 2, 0), (-w / 2, 0), (0, h))]


def rafter(w, h, side, r):
    # The tangent from the peak to the shoulder's circle: the touching point sees centre and peak at a right angle.
    c, spring = (-w / 2 + r, side), (-w / 2, side)
    mid = (c[0] / 2, (c[1] + h) / 2)
    touch = ring_crossing(c, r, mid, math.dist(c, (0, h)) / 2, lambda both: max(both, key=lambda p: p[1] - p[0]))
    return [("line", (-w / 2, 0), spring), ("arc", c, spring, touch), ("line", touch, (0, h))]


def kinked_rafter(w, h, side):
    return [("line", (-w / 2, 0), (-w / 2, side)), ("line", (-w / 2, side), (0, h))]


PROFILES = {
    # name: (width, height, fastening height, pieces)
    "gothic": (7.3152, 3.2766, 1.0, gothic(7.3152, 3.2766, 1.2192, 0.9144, 9.144)),
    "gothic steep": (6.0, 4.0, 1.4, gothic(6.0, 4.0, 1.4, 1.1, 6.5)),
    "semicircle": (4.8768, 0.3048 + 2.4384, 0.5, semicircle(4.8768, 0.3048)),
    "semicircle on tall legs": (3.0, 3.2, 1.7, semicircle(3.0, 1.7)),
    "flat arc": (9.0, 4.0, 2.2, flat_arc(9.0, 4.0, 2.2)),
    "horseshoe": (8.0, 8.0, 1.0, horseshoe(8.0, 8.0)),
    "horseshoe mild": (4.2, 2.5, 0.4, horseshoe(4.2, 2.5)),
    "horseshoe on legs": (5.0, 3.9, 0.6, horseshoe(5.0, 3.9, 0.3)),
    "three-centred": (8.0, 3.0, 0.9, three_centred(8.0, 3.0, 0.9, 1.2)),
    "three-centred on the floor": (9.144, 3.6576, 0.3, three_centred(9.144, 3.6576, 0.05, 2.0)),
    "pointed arc": (6.0, 4.0, 0.8, pointed_arc(6.0, 4.0)),
    "rafter": (6.4, 3.6, 1.9, rafter(6.4, 3.6, 1.8, 0.7)),
    "kinked rafter": (5.5, 3.1, 2.0, kinked_rafter(5.5, 3.1, 1.9)),
}
HOUSE = 14.4  # metres of film along the house


def measured(pieces, fasten, n):
    halves, lengths = [], []
    for piece in pieces:
        points = list(piece[1:]) if piece[0] == "line" else arc(*piece[1:], n)
        lengths.append(LineString(points).length)
        halves += points if not halves else points[1:]
    right = [(-x, z) for x, z in reversed(halves[:-1])]
    whole = halves + right
    wall = Polygon(whole)
    assert wall.is_valid
    # Film lies over what is higher than the fastening line.
    low, high = wall.bounds[0] - 1, wall.bounds[2] + 1
    above = LineString(whole).intersection(box(low, fasten, high, wall.bounds[3] + 1))
    assert above.geom_type == "LineString", above.geom_type
    # How high the roof is a quarter of the width off the middle, by a plumb line from above.
    x = halves[0][0] / 2
    plumb = LineString(whole).intersection(LineString([(x, 0), (x, wall.bounds[3] + 1)]))
    roof = max(g.y for g in getattr(plumb, "geoms", [plumb]))
    # The half bow as one piece: chord, and the greatest distance from it.
    half = LineString(halves)
    ends = LineString([halves[0], halves[-1]])
    rise = max(shapely.distance(shapely.points(halves), LineString(
        [(p[0] + (p[0] - q[0]) * 9, p[1] + (p[1] - q[1]) * 9) for p, q in
         ((halves[0], halves[-1]), (halves[-1], halves[0]))])))
    return [*lengths], [half.length, wall.area, above.length * HOUSE, roof, ends.length, rise]


def limit(coarse, fine):
    return fine + (fine - coarse) / 3


def main():
    print(f"# Made by figures.py with shapely {shapely.__version__} (GEOS {shapely.geos_version_string}),")
    print(f"# Python {sys.version.split()[0]}, on {datetime.date.today()}: venv/bin/python figures.py > figures.csv")
    print(f"# Metres and square metres; film over a house of {HOUSE} m, between fastening lines `fasten` up.")
    print("# `links`: length of each link from the ground; `roof`: height a quarter of the width off the middle;")
    print("# `chord`, `rise`: of the half bow from foot to peak as one piece.")
    print("name,width,height,fasten,links,half,wall,film,roof,chord,rise")
    for name, (width, height, fasten, pieces) in PROFILES.items():
        links, sums = measured(pieces, fasten, N)
        finer_links, finer_sums = measured(pieces, fasten, 2 * N)
        links = [limit(a, b) for a, b in zip(links, finer_links)]
        half, wall = (limit(a, b) for a, b in zip(sums[:2], finer_sums[:2]))
        # The rest depends on where the corners of the polyline fall, so it has no clean limit; its error is of 1e-9.
        film, roof, chord, rise = finer_sums[2:]
        row = [width, height, fasten, " ".join(f"{x:.9f}" for x in links)]
        row += [f"{x:.9f}" for x in (half, wall, film, roof, chord, rise)]
        print(name, *row, sep=",")


main()
