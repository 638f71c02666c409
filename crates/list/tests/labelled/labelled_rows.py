"""What both makers of labelled lists share: the parts of an order, what tells two of them apart, ways of writing numbers.

No wording stands here: nouns, styles, slips and distractors are each maker's own (make_tuning.py, make_tuning2.py), so that
what is tuned on the one is held against the other.
"""

import csv
import io
import subprocess
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent
FIELDS = ["list", "order", "writer", "qty", "unit", "code", "description", "mark"]

# What a part of a family is, in this set's own words. A part that is not named here is left out of the lists.
KEYS = {
    "gothic-24": "P1 post, B1 half bow, R1 ridge, S1 stud, H1 header single, H2 header double, C1 rail channel, "
    "C2 splice plate, L1 lock channel, W1 spring wire, F1 main film, F2 end film, K1 peak plate, X1 ridge clamp, "
    "X2 cross connector, X3 stud clamp, X4 stud shoe, D1 door panel, D2 hinge, D3 latch, N1 hex bolt, N2 hex bolt, "
    "N3 lock nut, N4 washer, N5 drill screw, N6 drill screw",
    "round-16": "P1 post, B1 bow leg, B2 bow top, B3 bow leg, R1 ridge, E1 ridge extension, W1 brace, S1 stud, H1 header, "
    "T1 base board, T2 hip board, T3 mending plate, C1 rail channel, C2 splice plate, L1 lock channel, Z1 spring wire, "
    "F1 main film, F2 end film, F3 shade cloth, F4 insect screen, F5 ground cover, A1 earth anchor, A2 anchor strap, "
    "G1 hand crank, G2 snap clamp, X1 cross connector, X2 stud clamp, X3 stud shoe, X4 brace clamp, X5 pipe strap, "
    "D1 door panel, D2 hinge, D3 latch, N1 hex bolt, N2 carriage bolt, N3 lock nut, N4 washer, N5 drill screw, "
    "N6 wood screw, Q1 ground pin, Q2 shade clip, Y1 repair tape",
    "sidewall-30": "P1 post, P2 post, B1 bow lower, B2 bow upper, R1 ridge, R2 light purlin, T1 cross tie, V1 outer web, "
    "V2 inner web, V3 king post, G1 brace, S1 stud, H1 header single, H2 header double, H3 vent rail, C1 rail channel, "
    "C2 splice plate, J1 base board, J2 mending plate, L1 lock channel, L2 double lock channel, W1 spring wire, "
    "F1 main film, F2 end film, F3 inner film, F4 wind panel, Y1 shade cloth, Y2 shade cloth, Y3 insect screen, "
    "Y4 ground cover, K1 peak plate, X1 ridge clamp, X2 cross connector, X3 cross connector, X4 tie bracket, "
    "X5 brace band, X6 stud clamp, X7 stud shoe, Q1 snap clamp, Q2 snap clamp, Q3 shade clip, Q4 ground pin, "
    "M1 hand crank, D1 door panel, D2 hinge, D3 latch, E1 earth anchor, E2 anchor clamp, U1 fan, U2 air shutter, "
    "U3 blower, U4 air hose, N1 hex bolt, N2 hex bolt, N3 lock nut, N4 washer, N5 drill screw, N6 drill screw, "
    "N7 carriage bolt, N8 lag screw",
}
KEYS = {
    family: {entry.split(" ", 1)[0]: entry.split(" ", 1)[1] for entry in text.split(", ")}
    for family, text in KEYS.items()
}


@dataclass
class Part:
    mark: str
    key: str
    supplied: int
    section: str = ""
    called: str = ""
    across: Fraction | None = None
    depth: Fraction | None = None
    wall: Fraction | None = None
    gauge: str = ""
    length: Fraction | None = None
    width: Fraction | None = None
    ends: list = field(default_factory=list)
    finish: str = ""
    fits: list = field(default_factory=list)

    @property
    def swaged(self):
        return sum(end.startswith("swaged") for end in self.ends)

    @property
    def plain(self):
        return bool(self.ends) and all(end == "plain" for end in self.ends)


def parts_of(order):
    """The parts of orders/<order>.toml, as the example `parts_of` prints them."""
    path = HERE / "orders" / f"{order}.toml"
    family = next(line.split('"')[1] for line in path.read_text().splitlines() if line.startswith("family"))
    out = subprocess.run(
        ["cargo", "run", "-q", "-p", "list", "--example", "parts_of", "--", str(path)],
        check=True, capture_output=True, text=True, cwd=HERE,
    ).stdout
    number = lambda text: Fraction(text) if text else None
    parts = []
    for row in csv.DictReader(io.StringIO(out)):
        key = KEYS[family].get(row["mark"])
        if key is None:
            continue
        fits = []
        if key in ("cross connector", "snap clamp") and "1-" in row["description"]:
            fits = row["description"].split(", ")[1].replace(" by ", ",").split(",")
        parts.append(Part(
            mark=row["mark"], key=key, supplied=int(row["supplied"]), section=row["section"], called=row["called"],
            across=number(row["across"]), depth=number(row["depth"]), wall=number(row["wall"]), gauge=row["gauge"],
            length=number(row["length"]), width=number(row["width"]),
            ends=row["ends"].split("; ") if row["ends"] else [], finish=row["finish"], fits=fits,
        ))
    return family, parts


def told_apart_by(part, other):
    """The slots of a row that say which of two parts of one key it is."""
    slots = []
    near = lambda a, b: a is not None and b is not None and abs(a - b) < max(Fraction(1, 5), a / 40)
    if part.length != other.length and not near(part.length, other.length):
        slots.append("length")
    if part.width is not None and part.width != other.width:
        slots.append("length")
    if part.called != other.called:
        slots.append("across")
    if part.fits != other.fits:
        slots.append("fits")
    return slots


# ---- ways of writing a length that is given in inches ------------------------------------------------------------
def _split(inches, step=16):
    total = round(inches * step)
    feet, rest = divmod(total, 12 * step)
    whole, part = divmod(rest, step)
    return feet, whole, Fraction(part, step)


def inches_text(inches, joint="-", step=16):
    """7-1/2, 7, 1/2"""
    total = Fraction(round(inches * step), step)
    whole, part = divmod(total, 1)
    if part == 0:
        return str(whole)
    return f"{whole}{joint}{part}" if whole else str(part)


def feet_inches(inches, foot="'", inch='"', between="", joint="-", decimal=False):
    feet, whole, part = _split(inches)
    rest = f"{float(whole + part):g}" if decimal else inches_text(whole + part, joint)
    if feet == 0:
        return f"{rest}{inch}"
    if whole + part == 0:
        return f"{feet}{foot}"
    return f"{feet}{foot}{between}{rest}{inch}"


def vulgar(text):
    """1-1/2 as 1½, where there is a sign for it."""
    for fraction, sign in {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}.items():
        text = text.replace("-" + fraction, sign).replace(" " + fraction, sign)
    return text


def millimetres(inches):
    return round(inches * Fraction(254, 10))


def number(value, places, comma=False):
    text = f"{float(value):.{places}f}".rstrip("0").rstrip(".")
    return text.replace(".", ",") if comma else text


def write(path, rows):
    with open(HERE / path, "w", newline="") as file:
        out = csv.DictWriter(file, FIELDS, lineterminator="\n")
        out.writeheader()
        out.writerows(rows)
    print(f"{path}: {len(rows)} rows, {sum(not row['mark'] for row in rows)} of none, "
          f"{len({row['list'] for row in rows})} lists")


# ---- a row out of slots -------------------------------------------------------------------------------------------
@dataclass
class Style:
    """How one writer writes. Each writer of a slot takes a part and the random source, and gives text."""

    name: str
    nouns: dict
    orders: list  # slots in the order in which they are written, one of these for each row
    across: object = None
    gauge: object = None
    length: object = None  # of tube, channel, wire, boards
    sheet: object = None  # of film and cloth: width and length
    bolt: object = None  # size and length of a fastener
    ends: object = None
    finish: object = None
    thick: object = None
    fits: object = None
    sep: str = " "
    keep: dict = field(default_factory=dict)  # how often a slot is written; 1 unless said
    after: object = None  # what becomes of the text at last
    code: object = None
    amount: object = None  # pieces to quantity and unit as written


def slot_text(slot, part, style, rng):
    if slot == "noun":
        return rng.choice(style.nouns[part.key])
    if slot == "across" and part.section in ("tube", "box", "timber") and style.across:
        return style.across(part, rng)
    if slot == "gauge" and part.section in ("tube", "box") and style.gauge:
        return style.gauge(part, rng)
    if slot == "thick" and part.section == "film" and style.thick:
        return style.thick(part, rng)
    if slot == "length":
        if part.section == "fastener":
            return style.bolt(part, rng)
        if part.section in ("film", "cloth") and part.width is not None:
            return style.sheet(part, rng)
        if part.length is not None:
            return style.length(part, rng)
    if slot == "ends" and part.ends and style.ends:
        return style.ends(part, rng)
    if slot == "finish" and part.finish and style.finish:
        return style.finish(part, rng)
    if slot == "fits" and part.fits and style.fits:
        return style.fits(part, rng)
    return ""


def describe(part, style, rng, needed):
    """One description; `needed` are the slots that it must have."""
    slots = rng.choice(style.orders)
    kept = []
    for slot in slots:
        chance = style.keep.get(slot, 1)
        if slot == "noun" or slot in needed or rng.random() < chance:
            text = slot_text(slot, part, style, rng)
            if text:
                kept.append(text)
    for slot in needed:
        if slot not in slots:
            kept.append(slot_text(slot, part, style, rng))
    text = style.sep.join(kept)
    return style.after(text, rng) if style.after else text


def needed_slots(part, parts, rng):
    """At least one slot that tells the part from each other one of its key."""
    needed = []
    for other in parts:
        if other is part or other.key != part.key:
            continue
        ways = told_apart_by(part, other)
        if not ways:
            return None
        if not set(ways) & set(needed):
            needed.append(rng.choice(ways))
    return needed


def make_list(name, order, style, rng, distractors, most_left_out=0.12):
    """One packing list of an order in one style: most of its parts, some of them on two rows, and what is none of them."""
    family, parts = parts_of(order)
    rows = []
    for part in parts:
        if part.key not in style.nouns or rng.random() < most_left_out:
            continue
        needed = needed_slots(part, parts, rng)
        if needed is None:
            continue  # its words could not tell it from its like
        times = 2 if part.supplied > 9 and rng.random() < 0.08 else 1
        for _ in range(times):
            rows.append((part, describe(part, style, rng, needed), part.mark, max(1, part.supplied // times)))
    rows += [(None, text, "", rng.choice([1, 1, 1, 2, 4, 6, 12])) for text in distractors(family, parts, style, rng)]
    if rng.random() < 0.5:
        rng.shuffle(rows)
    out = []
    for index, (part, text, mark, pieces) in enumerate(rows):
        qty, unit = style.amount(pieces, rng) if style.amount else (str(pieces), "ea")
        code = style.code(part, index, rng) if style.code else ""
        out.append({
            "list": name, "order": order, "writer": f"rule:{style.name}", "qty": qty, "unit": unit, "code": code,
            "description": text, "mark": mark,
        })
    return out


def another_size(parts, key_choices, rng, step):
    """A part of the order in a length that the order has not, or nothing."""
    import copy

    choices = [part for part in parts if part.key in key_choices and part.length is not None]
    if not choices:
        return None
    part = copy.copy(rng.choice(choices))
    if part.section == "fastener":
        have = {p.length for p in parts if p.section == "fastener"}
        part.length = next((length for length in step if length not in have), None)
    else:
        part.length = part.length * rng.choice([Fraction(3, 4), Fraction(5, 4), Fraction(3, 2)])
        part.length = Fraction(round(part.length * 2), 2)
        near = [p for p in parts if p.key == part.key and abs(p.length - part.length) < 3]
        if near:
            return None
    return None if part.length is None else part
