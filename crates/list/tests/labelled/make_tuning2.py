"""Writes tuning2-rule.csv: rows that were sealed at first, and are open now. `python3 make_tuning2.py`

Other orders, words, styles, slips and distractors than make_tuning.py has. Written before any weight was fitted, by the same
author as the tuning rules; whoever changes the matcher does not look at what it writes.
"""

import random
import re
from fractions import Fraction

from labelled_rows import (Style, another_size, describe, feet_inches, inches_text, make_list, millimetres, number, vulgar,
                           write)

NOUNS = {
    "post": ["drive post", "ground stake", "ground tube", "driven post", "foundation tube", "ground post"],
    "half bow": ["rafter half", "half arch", "half rafter", "bow segment", "half bow"],
    "bow leg": ["bow leg section", "arch leg", "hoop side leg"],
    "bow top": ["bow crown", "arch top piece", "hoop crown section"],
    "bow lower": ["bow bottom section", "lower arch piece", "lower rafter section"],
    "bow upper": ["bow top section", "upper arch piece", "upper rafter section"],
    "ridge": ["ridge section", "peak purlin", "ridge rail", "center purlin"],
    "ridge extension": ["ridge extension tube"],
    "light purlin": ["purlin, light", "light gauge purlin", "purlin stock"],
    "brace": ["cross brace", "sway brace", "knee brace", "wind bracing tube"],
    "stud": ["end wall leg", "gable stud", "end wall mullion", "gable post"],
    "header": ["door lintel", "header tube", "door head"],
    "header single": ["header for single door", "single door lintel"],
    "header double": ["header for double door", "double door lintel"],
    "vent rail": ["rail for fan opening", "rail, shutter opening"],
    "cross tie": ["tie bar", "crop bar", "cross tie tube"],
    "outer web": ["truss web, outer", "outer web tube"],
    "inner web": ["truss web, inner", "inner web tube"],
    "king post": ["king post tube", "kingpost"],
    "base board": ["skirt board", "kick board", "sill board"],
    "hip board": ["shoulder board", "roll-up board"],
    "mending plate": ["board joiner plate", "mending plate for boards", "board nail plate"],
    "rail channel": ["side rail channel", "rail channel section", "c-rail channel"],
    "splice plate": ["rail joiner", "joiner plate, rail", "rail channel splice"],
    "lock channel": ["spring lock channel", "wire lock channel", "film channel", "wiggle wire track"],
    "double lock channel": ["lock channel, double", "double wire lock channel"],
    "spring wire": ["snake wire", "spring lock wire", "lock wire", "zig-zag wire"],
    "main film": ["roof plastic", "house cover", "main covering", "roof cover film"],
    "end film": ["gable film", "end wall plastic", "gable poly cover"],
    "inner film": ["inside layer, roof film", "inner cover film"],
    "wind panel": ["wind panel film", "side end wind panel"],
    "shade cloth": ["shade fabric", "shade net"],
    "insect screen": ["insect mesh", "bug screen"],
    "ground cover": ["weed barrier fabric", "landscape fabric", "woven weed barrier"],
    "earth anchor": ["helical anchor", "screw-in ground anchor", "arrowhead anchor"],
    "anchor strap": ["strap for anchor", "anchor strap steel"],
    "anchor clamp": ["clamp for anchor", "anchor to post clamp"],
    "hand crank": ["crank handle unit", "roll-up crank", "gearbox crank"],
    "snap clamp": ["roll pipe clip", "film snap clip", "tube snap clamp"],
    "cross connector": ["stirrup brace", "purlin bracket", "cross clamp", "purlin to bow connector"],
    "ridge clamp": ["peak clamp", "ridge bracket", "ridge to bow clamp"],
    "stud clamp": ["stud bracket", "upright clamp", "end wall stud clamp"],
    "stud shoe": ["upright shoe", "stud base plate", "foot for stud"],
    "brace clamp": ["brace connector", "diagonal brace clamp"],
    "brace band": ["brace band, steel", "fence brace band"],
    "tie bracket": ["bracket for cross tie", "truss tie bracket"],
    "pipe strap": ["conduit strap 2 hole", "tube strap"],
    "peak plate": ["ridge gusset plate", "bow peak plate", "peak joiner"],
    "door panel": ["door slab", "walk door panel"],
    "hinge": ["gate hinge", "hinge for door"],
    "latch": ["door handle & latch", "hasp latch"],
    "shade clip": ["clip for shade cloth", "shade fabric clip"],
    "ground pin": ["fabric pin", "sod staple", "landscape fabric pin"],
    "repair tape": ["poly repair tape", "patch tape"],
    "fan": ["wall exhaust fan", "fan w/ housing"],
    "air shutter": ["motorised shutter", "wall shutter"],
    "blower": ["inflation fan for double poly", "blower"],
    "air hose": ["air transfer hose", "hose kit, inflation"],
    "hex bolt": ["hex cap screw", "bolt, hex hd", "hexagon bolt"],
    "carriage bolt": ["coach bolt", "carriage head bolt", "cup square bolt"],
    "lock nut": ["nyloc nut", "stop nut", "nut, locking"],
    "washer": ["washer", "plain washer", "flat wshr"],
    "drill screw": ["tek-style drill screw", "self driller hex head", "self-driving screw", "HWH drill screw"],
    "wood screw": ["screw for wood", "wood scr"],
    "lag screw": ["coach screw", "lag"],
}
# Our set names no maker's word for a screw.
NOUNS["drill screw"] = ["drill point screw", "self driller hex head", "self-driving screw", "HWH drill screw"]

STRANGERS = [
    "Owner's handbook", "Spare parts catalog", "Impact driver bit set", "5/16 nut driver", "String line reel", "Post level",
    "Ear plugs, box", "Dust masks", "Extension ladder 16'", "Horizontal airflow fan 12\"", "Thermometer, min/max",
    "Irrigation timer", "Poly tubing 1/2\" x 500'", "Skid 4' x 8'", "Delivery, liftgate", "Shrink wrap roll", "Padlock",
    "Cable ties 8 in", "Seedling tray, pack of 50", "Wheelbarrow", "Bench top wire mesh 4x8", "Touch-up paint, zinc, spray",
    "Propane unit heater", "Rain barrel 55 gal", "Bungee cords", "T-post 6 ft", "Rebar #4 x 20'", "Concrete mix 60 lb",
    "Fertilizer injector", "Growing bags 5 gal", "Roof vent opener", "Hand saw",
]
ELSEWHERE = {
    "gothic-24": ["earth anchor", "snap clamp", "insect screen", "ground pin", "fan", "lag screw", "wood screw"],
    "round-16": ["peak plate", "tie bracket", "outer web", "air hose", "blower"],
    "sidewall-30": ["wood screw", "repair tape"],
}


def distractors(family, parts, style, rng):
    rows = rng.sample(STRANGERS, rng.randint(1, 3))
    have = {part.key for part in parts}
    for key in rng.sample(ELSEWHERE[family], 2):
        if key not in have:
            rows.append(rng.choice(NOUNS[key]))
    for keys, step in [(["post", "half bow", "stud", "bow upper", "bow top"], []),
                       (["hex bolt", "carriage bolt", "drill screw"], [Fraction(7, 2), Fraction(6), Fraction(5, 2)])]:
        part = another_size(parts, keys, rng, step) if rng.random() < 0.8 else None
        if part:
            rows.append(describe(part, style, rng, ["length"]))
    return rows


# ---- writers of slots ---------------------------------------------------------------------------------------------
def across(*forms):
    def one(part, rng):
        if part.section == "timber":
            return rng.choice([part.called.replace("x", " x "), part.called])
        mm = part.across * Fraction(254, 10)
        return {
            "dia": f"dia. {part.called}\"", "vulgar": vulgar(part.called) + '"', "decimal": f"{number(part.across, 3)}\" dia",
            "CHS": f"CHS {number(mm, 1)}", "mm OD": f"{round(mm)}mm OD", "inch": f"{part.called} inch",
            "tube": f"{part.called}\" tube", "code": f"{number(part.across, 3)}",
        }[rng.choice(forms)]
    return one


def gauge(*forms):
    return lambda part, rng: {
        "#14": f"#{part.gauge} ga", "14g": f"{part.gauge}g", "14-ga": f"{part.gauge}-ga.", "wall": f"wall {number(part.wall, 3)}\"",
        "WT": f"WT {number(part.wall * Fraction(254, 10), 1)}mm", "code": number(part.wall, 3),
    }[rng.choice(forms)]


LENGTHS = {
    "5'-6\"": lambda i: feet_inches(i, between="-", joint=" "),
    "5'6½": lambda i: vulgar(feet_inches(i)),
    "66-1/2\"": lambda i: inches_text(i) + '"',
    "5ft6.5in": lambda i: feet_inches(i, "ft", "in", decimal=True),
    "5 feet 6 inches": lambda i: feet_inches(i, " feet", " inches", " "),
    "1,689 m": lambda i: number(i * Fraction(254, 10000), 3, comma=True) + " m",
    "168.9 cm": lambda i: number(i * Fraction(254, 100), 1) + " cm",
    "1689mm": lambda i: f"{millimetres(i)}mm",
    "5’6”": lambda i: feet_inches(i, "’", "”"),
    "66.50": lambda i: number(i, 2) + " inches",
    "66 1/2 in.": lambda i: inches_text(i, " ") + " in.",
}


def length(*forms, before="", after=""):
    return lambda part, rng: before + LENGTHS[rng.choice(forms)](part.length) + after


def sheet(form):
    metres = lambda i: number(i * Fraction(254, 10000), 2)
    forms = {
        "40ft W x 52ft L": lambda w, l: f"{feet_inches(w, 'ft', 'in')} W x {feet_inches(l, 'ft', 'in')} L",
        "40' * 52'": lambda w, l: f"{feet_inches(w)} * {feet_inches(l)}",
        "12.19m x 15.85m": lambda w, l: f"{metres(w)}m x {metres(l)}m",
        "52' long, 40' wide": lambda w, l: f"{feet_inches(l)} long, {feet_inches(w)} wide",
        "40X52": lambda w, l: f"{number(w / 12, 2)}' X {number(l / 12, 2)}'",
    }
    return lambda part, rng: forms[form](part.width, part.length)


def bolt(form):
    def one(part, rng):
        size = part.called
        inch = "" if size.startswith("#") else '"'
        if part.length is None:
            return f"{size}{inch}"
        long = part.length
        return {
            "5/16-18 x 3": f"{size}{'' if size.startswith('#') else '-18' if size == '5/16' else ''} x {inches_text(long)}",
            '5/16" dia x 3" long': f'{size}{inch} x {inches_text(long, " ")}" long',
            "5/16 X 2.75": f"{size} X {number(long, 2)}",
            "5/16*3": f"{size}*{inches_text(long)}",
            "mm": f"{size}{inch} x {millimetres(long)}mm",
            "vulgar": f"{size}{inch} x {vulgar(inches_text(long))}{chr(34)}",
        }[form]
    return one


def ends(swaged, plain, punched):
    return lambda part, rng: rng.choice(swaged if part.swaged else plain if part.plain else punched)


def said(**words):
    return lambda part, rng: words.get(part.finish.split(" ")[0], "")


def always(text):
    return lambda part, rng: text


def fits(joint, mark=""):
    return lambda part, rng: joint.join(fit + mark for fit in part.fits)


# ---- what becomes of the text ---------------------------------------------------------------------------------------
NEIGHBOURS = {"a": "s", "e": "r", "i": "o", "o": "p", "n": "m", "t": "y", "r": "t", "s": "d", "l": "k", "c": "v", "d": "f"}


def keyboard(text, rng):
    """A neighbouring key struck in a word, or the space before one missed."""
    words = text.split(" ")
    places = [i for i, word in enumerate(words) if len(word) > 4 and word.isalpha()]
    if places and rng.random() < 0.7:
        i = rng.choice(places)
        at = rng.randint(1, len(words[i]) - 1)
        letter = words[i][at]
        words[i] = words[i][:at] + NEIGHBOURS.get(letter, letter) + words[i][at + 1:]
    return " ".join(words)


def printed(text, rng):
    """A tired printer under a scanner: bars for l, b for h, missing spaces, cl for d."""
    swaps = [("l", "|"), ("h", "b"), ("d", "cl"), ("B", "8"), ("O", "0"), ("I", "l"), ("g", "q"), ("u", "v"), ("t", "f")]
    words = text.split(" ")
    for i, word in enumerate(words):
        if rng.random() < 0.25 and word.isalpha():
            old, new = rng.choice(swaps)
            words[i] = word.replace(old, new, 1)
    text = " ".join(words)
    return re.sub(r"([a-z]) ([a-z])", lambda m: m[1] + (" " if rng.random() < 0.93 else "") + m[2], text)


SHORT = {
    "ground": "gnd", "channel": "chnl", "connector": "cnctr", "bracket": "bkt", "screw": "scw", "double": "dble",
    "single": "sngl", "lintel": "lntl", "plate": "pl", "clamp": "clp", "washer": "wsh", "cover": "cov", "section": "sec",
    "purlin": "prln", "film": "flm", "anchor": "anc", "board": "brd", "bottom": "btm", "upper": "upr", "lower": "lwr",
    "gable": "gbl", "piece": "pce", "foundation": "fdn",
}


def clipped(text, rng):
    """Upper case, shortened words, no full stops: a system with a narrow field. It stands as it is, never cut in a measure."""
    for long, short in SHORT.items():
        if rng.random() < 0.5:
            text = re.sub(rf"\b{long}\b", short, text, flags=re.I)
    return text.upper()


def chatty(text, rng):
    return rng.choice(["", "", "heavy duty ", "new ", "std "]) + text + rng.choice(["", "", " as per drawing", " (bundle)"])


def piped(text, rng):
    return text


def thing_code(part, index, rng):
    if part is None:
        return f"MSC-{index:03}"
    initials = "".join(word[0] for word in part.key.split()).upper()
    return f"{initials}-{100 + 10 * index}"


def counter(prefix):
    return lambda part, index, rng: f"{prefix}{index + 1:04}"


def pieces(unit):
    return lambda n, rng: (str(n), unit)


STYLES = [
    Style("narrow-field", NOUNS, [["noun", "across", "gauge", "length", "fits"], ["length", "noun", "across", "fits"]],
          across("code"), gauge("14g"), length("5'-6\"", "66-1/2\""), sheet("40X52"), bolt("5/16-18 x 3"), fits=fits("X"),
          keep={"gauge": 0.5, "across": 0.7}, after=clipped, code=counter("0"), amount=pieces("EA")),
    Style("foreman", NOUNS, [["noun", "length", "across", "fits"], ["across", "noun", "length", "fits"]],
          across("inch", "vulgar"), None, length("5'6½", "5’6”"), sheet("40' * 52'"), bolt("vulgar"), fits=fits(" to "),
          keep={"across": 0.45, "length": 0.75}, after=lambda text, rng: text.lower(), amount=pieces("")),
    Style("brochure", NOUNS, [["finish", "noun", "across", "gauge", "length", "ends", "thick", "fits"]],
          across("dia", "tube"), gauge("14-ga", "wall"), length("5 feet 6 inches", before="length "), sheet("40ft W x 52ft L"),
          bolt('5/16" dia x 3" long'),
          ends(["necked down at one end", "male end reduced"], ["unswaged, square cut ends"], ["flattened and punched ends"]),
          said(galvanized="Hot-dip galvanised", mill="Aluminium", clear="Transparent", zinc="ZP", treated="Tanalised"),
          always("6 mil UV"), fits(" x ", '"'), sep="; ", keep={"ends": 0.6, "finish": 0.8}, after=chatty, code=thing_code,
          amount=pieces("PCE")),
    Style("metric-island", NOUNS, [["noun", "across", "gauge", "length", "ends", "thick", "fits"]],
          across("CHS", "mm OD"), gauge("WT"), length("1,689 m", "168.9 cm", "1689mm"), sheet("12.19m x 15.85m"), bolt("mm"),
          ends(["swaged end"], ["plain ends"], ["flattened"]), thick=always("150 µm"), fits=fits(" - "), sep=" ",
          keep={"ends": 0.3, "gauge": 0.6}, code=counter("GB"), amount=pieces("C62")),
    Style("keyboard", NOUNS, [["noun", "across", "length", "fits", "thick"]], across("inch", "dia"), None,
          length("5'-6\"", "66 1/2 in."), sheet("40' * 52'"), bolt("5/16*3"), thick=always("6-mil"), fits=fits(" x "), sep=", ",
          keep={"across": 0.6}, after=keyboard, amount=pieces("ea.")),
    Style("scanner", NOUNS, [["noun", "across", "gauge", "length", "fits"]], across("tube", "decimal"), gauge("#14", "14-ga"),
          length("66-1/2\"", "5 feet 6 inches"), sheet("40' * 52'"), bolt('5/16" dia x 3" long'), fits=fits(" x ", '"'),
          keep={"gauge": 0.5, "across": 0.7}, after=printed, code=counter("L"), amount=pieces("EA")),
    Style("piped", NOUNS, [["noun", "across", "gauge", "length", "thick", "ends", "fits"]], across("decimal"), gauge("wall"),
          length("66.50", "5ft6.5in"), sheet("52' long, 40' wide"), bolt("5/16 X 2.75"),
          ends(["one end swaged"], ["plain both ends"], ["both ends flat"]), thick=always("6 mil"), fits=fits(" x "), sep=" | ",
          keep={"gauge": 0.6, "ends": 0.5, "thick": 0.7}, code=thing_code, amount=pieces("EACH")),
]

ORDERS = ["g24-96", "r16-60", "s30-120", "g24-36", "r16-72", "s30-84", "s30-40"]

if __name__ == "__main__":
    rng = random.Random(77)
    rows = []
    for i, style in enumerate(STYLES):
        for j in range(3):
            order = ORDERS[(i + 3 * j + j) % len(ORDERS)]
            rows += make_list(f"s{i + 1}{'abc'[j]}", order, style, rng, distractors)
    write("tuning2-rule.csv", rows)
