"""Writes tuning-rule.csv: the rows on which weights and words may be tuned. `python3 make_tuning.py`"""

import random
import re
from fractions import Fraction

from labelled_rows import (Style, another_size, describe, feet_inches, inches_text, make_list, millimetres, number, write)

NOUNS = {
    "post": ["ground post", "ground pipe", "anchor post", "foundation post", "support post"],
    "half bow": ["half bow", "bow half", "half hoop"],
    "bow leg": ["bow leg", "hoop leg", "leg of bow", "bow side piece"],
    "bow top": ["bow top", "hoop top piece", "top of bow", "bow top section"],
    "bow lower": ["lower bow", "bow lower section", "bow lower pc", "lower hoop piece"],
    "bow upper": ["upper bow", "bow upper section", "bow upper pc", "upper hoop piece"],
    "ridge": ["ridge tube", "ridge pole", "ridge purlin", "ridge pipe"],
    "ridge extension": ["ridge extension", "ridge end piece"],
    "light purlin": ["light purlin", "side purlin", "purlin tube"],
    "brace": ["wind brace", "corner brace", "diagonal brace", "brace pipe"],
    "stud": ["end wall stud", "endwall post", "end wall upright", "stud"],
    "header": ["door header", "header"],
    "header single": ["single door header", "door header, single"],
    "header double": ["double door header", "door header, double"],
    "vent rail": ["fan opening rail", "vent rail", "shutter rail"],
    "cross tie": ["cross tie", "collar tie", "truss support"],
    "outer web": ["outer web", "web, outer"],
    "inner web": ["inner web", "web, inner"],
    "king post": ["king post"],
    "base board": ["base board", "baseboard", "bottom board"],
    "hip board": ["hip board", "hipboard"],
    "mending plate": ["mending plate", "board splice plate"],
    "rail channel": ["rail channel", "channel rail", "C rail"],
    "splice plate": ["rail splice plate", "splice plate, rail", "rail splice"],
    "lock channel": ["lock channel", "film lock channel", "wiggle wire channel", "poly lock"],
    "double lock channel": ["double lock channel", "double poly lock channel"],
    "spring wire": ["spring wire", "wiggle wire", "zigzag wire"],
    "main film": ["main cover", "roof film", "main poly", "top cover"],
    "end film": ["end wall film", "endwall poly", "end cover"],
    "inner film": ["inner film", "inner layer film"],
    "wind panel": ["wind panel"],
    "shade cloth": ["shade cloth", "knitted shade"],
    "insect screen": ["insect screen", "insect net"],
    "ground cover": ["woven ground cover", "ground cover", "weed mat"],
    "earth anchor": ["earth anchor", "auger anchor"],
    "anchor strap": ["anchor strap"],
    "anchor clamp": ["anchor clamp"],
    "hand crank": ["hand crank", "crank assembly"],
    "snap clamp": ["snap clamp", "snap-on film clamp"],
    "cross connector": ["cross connector", "purlin clamp", "cross-connector clamp"],
    "ridge clamp": ["ridge clamp", "ridge connector"],
    "stud clamp": ["stud clamp", "end wall clamp"],
    "stud shoe": ["stud shoe", "stud foot", "post shoe"],
    "brace clamp": ["brace clamp", "brace bracket"],
    "brace band": ["brace band"],
    "tie bracket": ["tie bracket", "cross tie bracket"],
    "pipe strap": ["pipe strap", "two-hole strap"],
    "peak plate": ["peak plate", "peak gusset"],
    "door panel": ["door panel", "door leaf"],
    "hinge": ["door hinge", "hinge, clamp-on"],
    "latch": ["door latch", "latch set"],
    "shade clip": ["shade clip", "shade cloth clip"],
    "ground pin": ["ground cover pin", "ground cover staple"],
    "repair tape": ["film repair tape", "poly patch tape"],
    "fan": ["exhaust fan"],
    "air shutter": ["air shutter", "intake shutter"],
    "blower": ["inflation blower"],
    "air hose": ["air hose", "jumper hose"],
    "hex bolt": ["hex bolt", "hex head bolt", "machine bolt, hex"],
    "carriage bolt": ["carriage bolt", "carr bolt"],
    "lock nut": ["lock nut", "locknut", "nylon insert lock nut"],
    "washer": ["flat washer", "washer, flat"],
    "drill screw": ["self-drilling screw", "SDS", "hex washer head self-drilling screw", "self tapping screw"],
    "wood screw": ["wood screw"],
    "lag screw": ["lag screw", "lag bolt"],
}

# Things of a yard or of another house. What another family has and this one has not is added in `distractors`.
STRANGERS = [
    "Instruction manual", "Assembly instructions, set of drawings", "Cordless drill 18V", "Hex socket 7/16 in, magnetic",
    "Tape measure 100 ft", "Mason line, 250 ft", "Safety glasses", "Work gloves, large", "Step ladder 8 ft",
    "Circulation fan 20 in", "Thermostat, single stage", "Drip tape 1000 ft roll", "Sprinkler head 1/2 in",
    "Pallet", "Freight charge", "Crate, wood", "Duct tape 2 in x 60 yd", "Zip ties, bag of 100", "Plant bench leg 30 in",
    "PVC pipe 1/2 in x 10 ft", "Hose bibb", "Warning sticker", "Grease tube", "Sample, film swatch", "Heater 60,000 BTU",
    "U-channel post for signs 6 ft", "Chain link fence clip", "Deck screw box 5 lb",
]
ELSEWHERE = {
    "gothic-24": ["earth anchor", "hand crank", "shade cloth", "insect screen", "pipe strap", "ground cover", "carriage bolt"],
    "round-16": ["peak plate", "cross tie", "king post", "fan", "blower", "air shutter", "lag screw"],
    "sidewall-30": ["wood screw", "repair tape"],
}


def distractors(family, parts, style, rng):
    rows = rng.sample(STRANGERS, rng.randint(1, 3))
    have = {part.key for part in parts}
    for key in rng.sample(ELSEWHERE[family], 2):
        if key not in have and not (key == "hand crank" and "snap clamp" in have):
            rows.append(rng.choice(NOUNS[key]))
    if rng.random() < 0.8:
        part = another_size(parts, ["post", "half bow", "stud", "bow top"], rng, [])
        if part:
            rows.append(describe(part, style, rng, ["length"]))
    if rng.random() < 0.8:
        part = another_size(parts, ["hex bolt", "drill screw"], rng, [Fraction(4), Fraction(2), Fraction(5)])
        if part:
            rows.append(describe(part, style, rng, ["length"]))
    return [style.after(row, rng) if style.after and style.name in ("office-caps", "ocr") else row for row in rows]


# ---- writers of slots ---------------------------------------------------------------------------------------------
def across(*forms):
    def one(part, rng):
        if part.section == "timber":
            return part.called
        form = rng.choice(forms)
        return {
            "called": f"{part.called}", "called in": f'{part.called}"', "called OD": f'{part.called}" OD',
            "loose": part.called.replace("-", " "), "measured": f"{number(part.across, 3)} OD",
            "mm": f"{number(part.across * Fraction(254, 10), 1)} mm", "phi": f"Ø{number(part.across * Fraction(254, 10), 1)}",
            "in O.D.": f"{part.called} in O.D.",
        }[form]
    return one


def gauge(*forms):
    def one(part, rng):
        mm = number(part.wall * Fraction(254, 10), 1)
        return {"14GA": f"{part.gauge}GA", "14 ga": f"{part.gauge} ga", "14 gauge": f"{part.gauge} gauge",
                "mm": f"x {mm} mm", "wall": f"{number(part.wall, 3)} wall"}[rng.choice(forms)]
    return one


LENGTHS = {
    "5'6\"": lambda i: feet_inches(i),
    "5' 6\"": lambda i: feet_inches(i, between=" "),
    "5' 6 1/2\"": lambda i: feet_inches(i, between=" ", joint=" "),
    "5 ft 6 in": lambda i: feet_inches(i, " ft", " in", " "),
    "66.5 in": lambda i: f"{number(i, 2)} in",
    '66.5"': lambda i: f'{number(i, 2)}"',
    "5.54'": lambda i: f"{number(i / 12, 2)}'",
    "5.54 ft": lambda i: f"{number(i / 12, 2)} ft",
    "1689 mm": lambda i: f"{millimetres(i)} mm",
    "1.689 m": lambda i: f"{number(i * Fraction(254, 10000), 3)} m",
}


def length(*forms, before=""):
    return lambda part, rng: before + LENGTHS[rng.choice(forms)](part.length)


def sheet(form):
    forms = {
        "40' x 52'": lambda w, l: f"{feet_inches(w)} x {feet_inches(l)}",
        "40 X 52": lambda w, l: f"{feet_inches(w, inch=chr(34))} X {feet_inches(l)}",
        "40x52": lambda w, l: f"{number(w / 12, 2)}x{number(l / 12, 2)}",
        "40 ft by 52 ft": lambda w, l: f"{feet_inches(w, ' ft', ' in', ' ')} by {feet_inches(l, ' ft', ' in', ' ')}",
        "12.19 x 15.85 m": lambda w, l: f"{number(w * Fraction(254, 10000), 2)} x {number(l * Fraction(254, 10000), 2)} m",
    }
    return lambda part, rng: forms[form](part.width, part.length)


def bolt(joint="-", times=" x ", inch="", decimal=False, metric=False):
    def one(part, rng):
        size = part.called + ("" if part.called.startswith("#") else inch)
        if part.length is None:
            return size
        if metric:
            return f"{size}{times}{millimetres(part.length)} mm"
        long = number(part.length, 2) if decimal else inches_text(part.length, joint)
        return f"{size}{times}{long}{inch or (chr(34) if rng.random() < 0.4 else '')}"
    return one


def ends(swaged, plain, punched):
    def one(part, rng):
        if part.swaged:
            return rng.choice(swaged)
        return rng.choice(plain if part.plain else punched)
    return one


def said(**words):
    return lambda part, rng: words.get(part.finish.split(" ")[0], "")


def thick(form):
    return lambda part, rng: form


def fits(joint):
    return lambda part, rng: joint.join(part.fits)


# ---- what becomes of the text ---------------------------------------------------------------------------------------
SHORT = {
    "ground": "grd", "channel": "chan", "connector": "conn", "bracket": "brkt", "screw": "scr", "double": "dbl",
    "single": "sgl", "header": "hdr", "splice": "spl", "plate": "plt", "clamp": "clmp", "washer": "wshr", "cover": "cvr",
    "anchor": "anch", "section": "sect", "purlin": "purl", "assembly": "assy", "spring": "spr", "extension": "ext",
    "endwall": "ew", "end wall": "e/w", "board": "bd", "carriage": "carr", "self-drilling": "self drill",
}


def shortened(text, rng):
    for long, short in SHORT.items():
        if rng.random() < 0.6:
            text = re.sub(rf"\b{long}\b", short, text, flags=re.I)
    return text


def caps(text, rng):
    return text.upper()


def slip(text, rng):
    """One letter left out, doubled, or two changed places, in a word of five letters and more."""
    words = text.split(" ")
    places = [i for i, word in enumerate(words) if len(word) > 4 and word.isalpha()]
    if not places or rng.random() < 0.25:
        return text
    i = rng.choice(places)
    word, at = words[i], rng.randint(1, len(words[i]) - 2)
    kind = rng.randrange(3)
    words[i] = [word[:at] + word[at + 1:], word[:at] + word[at] + word[at:],
                word[:at] + word[at + 1] + word[at] + word[at + 2:]][kind]
    return " ".join(words)


def scanned(text, rng):
    """What an engine makes of print: letters for numbers and back, rn for m, marks lost."""
    swaps = [("0", "O"), ("1", "l"), ("o", "0"), ("l", "1"), ("m", "rn"), ("5", "S"), ("i", "l"), ("\"", "''"), ("e", "c")]
    out = []
    for word in text.split(" "):
        if rng.random() < 0.35:
            old, new = rng.choice(swaps)
            # A measure keeps its figures: what is read wrongly there is another measure, and no label would be true.
            if old in word and not (any(c.isdigit() for c in word) and old.isdigit()):
                word = word.replace(old, new, 1)
        out.append(word)
    return " ".join(out)


# ---- codes and amounts ------------------------------------------------------------------------------------------------
def numbered(prefix, start=1001, step=3):
    return lambda part, index, rng: f"{prefix}{start + step * index}"


def sometimes(code, chance):
    return lambda part, index, rng: code(part, index, rng) if rng.random() < chance else ""


def marks(part, index, rng):
    return part.mark if part and rng.random() < 0.6 else ""


def pieces(unit):
    return lambda n, rng: (str(n), unit)


STYLES = [
    Style("office-caps", NOUNS, [["noun", "across", "gauge", "length", "ends", "thick", "fits"],
                                 ["noun", "thick", "across", "gauge", "fits", "ends", "length"]],
          across("called in", "called"), gauge("14GA"), length("5'6\"", before="X "), sheet("40 X 52"),
          bolt(times=" X "), ends(["SWG ONE END", "SWAGED"], ["PLAIN ENDS", "PLAIN"], ["FLATTENED ENDS", "PUNCHED ENDS"]),
          thick=thick("6 MIL"), fits=fits(" X "), keep={"ends": 0.5, "gauge": 0.8}, after=caps,
          code=numbered("T-"), amount=pieces("EA")),
    Style("warehouse-terse", NOUNS, [["noun", "across", "gauge", "length", "fits"], ["length", "noun", "across"],
                                     ["across", "noun", "length", "fits"]],
          across("called", "loose"), gauge("14GA", "14 ga"), length("5'6\"", "5' 6 1/2\"", "66.5 in"), sheet("40x52"),
          bolt(times="x"), fits=fits("x"), keep={"gauge": 0.3, "across": 0.5, "length": 0.7}, after=shortened,
          amount=pieces("pc")),
    Style("catalog", NOUNS, [["finish", "noun", "across", "gauge", "length", "ends", "thick", "fits"]],
          across("in O.D."), gauge("14 gauge"), length("5 ft 6 in"), sheet("40 ft by 52 ft"), bolt(inch=" in", joint="-"),
          ends(["one end swaged to take the next piece", "swaged on one end"], ["both ends plain", "cut square both ends"],
               ["both ends flattened and punched", "flattened ends with holes"]),
          said(galvanized="Galvanized steel", mill="Aluminum, mill finish", coated="Coated", clear="Clear greenhouse grade",
               zinc="Zinc plated", treated="Pressure treated"),
          thick("6 mil UV stabilised"), fits(" to "), sep=", ", keep={"ends": 0.9}, code=sometimes(numbered("HH", 20, 5), 0.9),
          amount=pieces("each")),
    Style("metric-office", NOUNS, [["noun", "across", "gauge", "length", "ends", "thick", "fits"]],
          across("phi", "mm"), gauge("mm"), length("1689 mm", "1.689 m"), sheet("12.19 x 15.85 m"), bolt(metric=True),
          ends(["one end swaged", "reduced end"], ["plain ends"], ["flattened ends"]), thick=thick("150 micron"),
          fits=fits(" / "), sep=", ", keep={"ends": 0.4, "gauge": 0.7}, code=numbered("40", 10, 7), amount=pieces("pcs")),
    Style("sorted-by-thing", NOUNS, [["noun", "across", "length", "gauge", "thick", "fits"]],
          across("called in"), gauge("14 ga"), length("5 ft 6 in", "5' 6\""), sheet("40' x 52'"), bolt(inch='"'),
          thick=thick("6 mil"), fits=fits(" x "), sep=", ", keep={"gauge": 0.5, "across": 0.8},
          after=lambda text, rng: turned(text, rng), code=numbered("P", 500, 1), amount=pieces("EA")),
    Style("misspelt", NOUNS, [["noun", "across", "length", "ends", "fits", "thick"]],
          across("called in", "called OD"), gauge("14 ga"), length("5'6\"", "5 ft 6 in"), sheet("40' x 52'"), bolt(),
          ends(["swedged end", "crimped one end"], ["plain"], ["flattend"]), thick=thick("6mil"), fits=fits(" x "),
          keep={"across": 0.7, "ends": 0.4}, after=slip, amount=pieces("")),
    Style("ocr", NOUNS, [["noun", "across", "gauge", "length", "fits"], ["noun", "length", "across", "fits"]],
          across("called in"), gauge("14 ga"), length("5' 6\"", "5 ft 6 in"), sheet("40' x 52'"), bolt(inch='"'),
          thick=thick("6 mil"), fits=fits(" x "), keep={"gauge": 0.6, "across": 0.8}, after=scanned,
          code=sometimes(numbered("A", 100, 11), 0.7), amount=pieces("EA")),
    Style("decimal", NOUNS, [["noun", "across", "gauge", "length", "ends", "fits"]],
          across("measured"), gauge("wall", "14 ga"), length("5.54'", "5.54 ft", '66.5"'), sheet("40x52"), bolt(decimal=True),
          ends(["one swaged end"], ["straight ends"], ["punched ends"]), fits=fits("x"), keep={"ends": 0.5, "gauge": 0.6},
          code=marks, amount=pieces("EA")),
]


def turned(text, rng):
    """"ground post, 5 ft" as "POST, GROUND, 5 FT"."""
    first, *rest = text.split(", ")
    words = first.split(" ")
    if len(words) == 2:
        first = f"{words[1]}, {words[0]}"
    return ", ".join([first, *rest]).upper()


ORDERS = ["g24-48", "g24-72-open", "g24-32-plain", "r16-24", "r16-48-all", "r16-36-anchors", "s30-48", "s30-96-all",
          "s30-60-bands", "s30-72-snow"]

if __name__ == "__main__":
    rng = random.Random(31)
    rows = []
    for i, style in enumerate(STYLES):
        for j in range(3):
            order = ORDERS[(3 * i + j * 7) % len(ORDERS)]
            rows += make_list(f"t{i + 1}{'abc'[j]}", order, style, rng, distractors)
    write("tuning-rule.csv", rows)
