#!/usr/bin/env python3
"""Makes the pictures that the tests read: lists set by a browser, photographed by a reckoned camera.

    python3 -m pip install numpy pillow      (and chromium)
    ./make.py            the pictures that are kept beside this script, and corners.csv
    ./make.py --many DIR 24 pictures of 12 megapixels for the figures in ../../benches/pictures_figures.md

The rows are those of the CSV files beside this script, which were written by hand. The camera is a pinhole with square
pixels that looks through the middle of its picture; where it puts the page's corners is written to corners.csv and is
what the found corners are held against: nothing of it comes from the program. Noise comes from a fixed seed.
"""
import csv
import html
import math
import os
import subprocess
import sys
import tempfile

import numpy as np
from PIL import Image, ImageFilter

HERE = os.path.dirname(os.path.abspath(__file__))
PAPERS = {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}
HEADS = {
    "ruled": ("Packing list", "Order 2207 &nbsp; Shipment 1 of 1 &nbsp; Ship to: School garden, Noor"),
    "plain": ("Delivery note 4481", "Order 2207, for Ines, school garden on the island"),
    "printed": ("PACKING SLIP", "ORDER 2207    DATE 04/18    SHIP VIA TRUCK"),
}
STYLES = {
    "ruled": "body{font:10pt 'DejaVu Sans'}table{border-collapse:collapse;width:100%}"
             "td,th{border:.6pt solid #000;padding:2.2pt 4pt;text-align:left}th{background:#ddd}",
    "plain": "body{font:10.5pt 'DejaVu Serif'}td,th{padding:2pt 14pt 2pt 0;text-align:left}",
    "printed": "body{font:10pt 'DejaVu Sans Mono'}td,th{padding:1.5pt 12pt 1.5pt 0;text-align:left}",
}


def set_page(name, paper, dpi):
    """The list as a picture of its page, white all round."""
    rows = list(csv.reader(open(os.path.join(HERE, name + ".csv"), encoding="utf-8")))
    line = lambda cells, tag: "<tr>" + "".join(f"<{tag}>{html.escape(c)}</{tag}>" for c in cells) + "</tr>"
    title, under = HEADS[name]
    page = (f"<meta charset=utf-8><style>@page{{margin:0}}body{{margin:.8in .7in}}{STYLES[name]}"
            f"h1{{font-size:16pt}}</style><h1>{title}</h1><p>{under}</p><table>"
            + line(rows[0], "th") + "".join(line(r, "td") for r in rows[1:]) + "</table><p>Packed by Tomasz</p>")
    wide, high = PAPERS[paper]
    with tempfile.TemporaryDirectory() as folder:
        source, shot = os.path.join(folder, "page.html"), os.path.join(folder, "page.png")
        open(source, "w", encoding="utf-8").write(page)
        subprocess.run(["chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
                        f"--force-device-scale-factor={dpi / 96}",
                        f"--window-size={round(wide * 96)},{round(high * 96)}",
                        f"--screenshot={shot}", "file://" + source], check=True, capture_output=True)
        return Image.open(shot).convert("RGB").resize((round(wide * dpi), round(high * dpi)), Image.LANCZOS)


def camera(paper, size, fills, tilt, swing, spin, focal):
    """Where the page's corners come to lie, clockwise from its top left: a pinhole, square pixels."""
    wide, high = PAPERS[paper]
    a, b, c = map(math.radians, (tilt, swing, spin))
    rx = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    ry = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    rz = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    corners = np.array([[-wide, -high, 0], [wide, -high, 0], [wide, high, 0], [-wide, high, 0]]) / 2
    turned = corners @ (rz @ ry @ rx).T
    f = focal * max(size)
    near, far, shift = 5.0, 200.0, np.zeros(2)
    for _ in range(80):  # as near as lets the page fill so much of the picture, and pointed at its middle
        away = (near + far) / 2
        z = turned[:, 2] + away
        points = (turned[:, :2] + shift) / z[:, None] * f
        low, high = points.min(0), points.max(0)
        shift = shift - (low + high) / 2 / f * away
        near, far = (away, far) if ((high - low) / np.array(size)).max() > fills else (near, away)
        near, far = near - 0.01, far + 0.01
    points = points + np.array(size) / 2
    return points


def homography(source, target):
    """The projective map by its eight equations (numpy's solver)."""
    rows, right = [], []
    for (x, y), (u, v) in zip(source, target):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.linalg.solve(np.array(rows), np.array(right))


def ground(kind, size, rng):
    wide, high = size
    if kind == "wood":
        grain = rng.normal(0, 1, (high, 1)).repeat(wide, 1) * 9
        knots = np.sin(np.arange(high)[:, None] / 37 + 3 * np.sin(np.arange(wide)[None, :] / 900)) * 8
        light = grain + knots
        colour = (134, 98, 62)
    elif kind == "soil":
        small = rng.normal(0, 1, (high // 6 + 1, wide // 6 + 1))
        light = np.asarray(Image.fromarray((small * 30 + 128).clip(0, 255).astype("uint8")).resize(size, Image.BICUBIC),
                           dtype=float) - 128
        colour = (88, 74, 58)
    else:
        light = rng.normal(0, 5, (high, wide))
        colour = (128, 128, 126)
    return np.clip(np.array(colour)[None, None, :] + light[:, :, None], 0, 255)


def photograph(page, paper, size, seed, on, fills=0.93, tilt=0, swing=0, spin=0, focal=0.75, falls=0.4, soft=0.7,
               grain=3.5):
    """The page as a phone would take it; returns the picture and the page's corners on it."""
    rng = np.random.default_rng(seed)
    corners = camera(paper, size, fills, tilt, swing, spin, focal)
    # PIL wants the way back, from places in the picture to places on the page.
    w, h = page.size
    back = homography(corners, [(0, 0), (w, 0), (w, h), (0, h)])
    shot = page.transform(size, Image.PERSPECTIVE, tuple(back), Image.BICUBIC)
    inside = Image.new("L", page.size, 255).transform(size, Image.PERSPECTIVE, tuple(back), Image.BICUBIC)
    mask = np.asarray(inside, dtype=float)[:, :, None] / 255
    scene = np.asarray(shot, dtype=float) * .92 * mask + ground(on, size, rng) * (1 - mask)
    y, x = np.mgrid[0:size[1], 0:size[0]]
    x, y = x / size[0], y / size[1]
    way = rng.uniform(0, 2 * math.pi)
    light = 1 - falls * (0.5 + 0.7 * ((x - .5) * math.cos(way) + (y - .5) * math.sin(way)))
    light *= 1 - 0.25 * ((x - .5) ** 2 + (y - .5) ** 2) / .5
    # the soft shadow of whoever holds the phone
    light *= 1 - 0.22 / (1 + np.exp(-(x * 1.3 + y - 1.5) * 22))
    scene = scene * light[:, :, None] * np.array([1.0, .97, .90])
    picture = Image.fromarray(scene.clip(0, 255).astype("uint8")).filter(ImageFilter.GaussianBlur(soft))
    noisy = np.asarray(picture, dtype=float) + rng.normal(0, grain, (size[1], size[0], 1)) \
        + rng.normal(0, grain / 3, (size[1], size[0], 3))
    return Image.fromarray(noisy.clip(0, 255).astype("uint8")), corners


def scan(page, degrees, seed):
    """A scanner's picture: all page, a little askew, a little grey."""
    rng = np.random.default_rng(seed)
    turned = page.convert("L").rotate(degrees, Image.BICUBIC, fillcolor=255)
    grey = np.asarray(turned, dtype=float) * .93 + rng.normal(0, 3, (page.size[1], page.size[0]))
    return Image.fromarray(grey.clip(0, 255).astype("uint8"))


def kept():
    letter = set_page("ruled", "letter", 300)
    a4 = set_page("plain", "a4", 300)
    made = []
    picture, corners = photograph(letter, "letter", (1680, 2240), 1, "wood", tilt=24, swing=-9, spin=3)
    picture.save(os.path.join(HERE, "ruled_on_wood.jpg"), quality=62)
    made.append(("ruled_on_wood.jpg", corners, PAPERS["letter"]))
    picture, corners = photograph(a4, "a4", (2240, 1680), 2, "concrete", tilt=-12, swing=14, spin=92, fills=.95)
    picture.save(os.path.join(HERE, "plain_on_its_side.jpg"), quality=62)
    made.append(("plain_on_its_side.jpg", corners, PAPERS["a4"]))
    picture, corners = photograph(a4, "a4", (1680, 2240), 3, "soil", tilt=10, swing=4, spin=184)
    exif = Image.Exif()
    exif[0x0112] = 6  # the phone says: turn a quarter clockwise to stand upright
    picture.transpose(Image.ROTATE_90).save(os.path.join(HERE, "plain_upside_down_noted.jpg"), quality=62, exif=exif)
    made.append(("plain_upside_down_noted.jpg", corners, PAPERS["a4"]))
    scan(set_page("printed", "letter", 200), 1.7, 4).save(os.path.join(HERE, "printed_scan.jpg"), quality=45)
    picture, _ = photograph(letter, "letter", (1200, 1600), 5, "wood", tilt=18, swing=6, soft=3.0)
    picture.save(os.path.join(HERE, "blurred.jpg"), quality=55)
    with open(os.path.join(HERE, "corners.csv"), "w", newline="", encoding="utf-8") as out:
        write = csv.writer(out, lineterminator="\n")
        write.writerow(["picture", "x1", "y1", "x2", "y2", "x3", "y3", "x4", "y4", "width by height"])
        for name, corners, (wide, high) in made:
            write.writerow([name] + [f"{v:.2f}" for v in corners.flatten()] + [f"{wide / high:.4f}"])


def many(folder):
    os.makedirs(folder, exist_ok=True)
    rng = np.random.default_rng(77)
    with open(os.path.join(folder, "corners.csv"), "w", newline="", encoding="utf-8") as out:
        write = csv.writer(out, lineterminator="\n")
        for n in range(24):
            name = ["ruled", "plain", "printed"][n % 3]
            paper = ["letter", "a4"][n % 2]
            spin = rng.uniform(-6, 6) + [0, 0, 0, 90, 180, 270][n % 6]
            size = (4032, 3024) if n % 6 in (3, 5) else (3024, 4032)
            page = set_page(name, paper, 400)
            picture, corners = photograph(page, paper, size, 100 + n, ["wood", "soil", "concrete"][n % 3 if n < 12 else (n + 1) % 3],
                                          fills=rng.uniform(.7, .95), tilt=rng.uniform(-28, 28), swing=rng.uniform(-20, 20),
                                          spin=spin, focal=rng.uniform(.65, .85), falls=rng.uniform(.1, .7),
                                          soft=rng.uniform(.6, 1.8), grain=rng.uniform(2, 7))
            file = f"{n:02}_{name}.jpg"
            picture.save(os.path.join(folder, file), quality=85)
            wide, high = PAPERS[paper]
            write.writerow([file] + [f"{v:.2f}" for v in corners.flatten()] + [f"{wide / high:.4f}"])


if __name__ == "__main__":
    many(sys.argv[2]) if sys.argv[1:2] == ["--many"] else kept()
