#!/usr/bin/env python3
"""Writes sealed2-rule.csv: packing lists written by rule, each row with the mark of the part it means.

    python3 make_sealed2.py [--tallyard PROGRAM]

The program prints the parts of an order as JSON; here each part is put into the words of one of several writers. A
writer has his own nouns, order of words, way of writing sizes, and habits. He drops facts only while what he leaves
still fits one part of the order and no other; `fits` is that rule. Rows with an empty mark are things that are in the
box, or on the paper, but are no part of the order. Seeded: the same program and orders give the same file.
"""
import argparse
import csv
import hashlib
import json
import random
import re
import subprocess
from collections import Counter
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).resolve().parent
SEED = 20261129

# ------------------------------------------------------------------ nouns of the trade
# concept: (words of both sides of the water, American only, British only). A word may be followed by "|" and the other
# concepts it could also mean; the rule of uniqueness counts those too.
NOUNS = {
    "gpost": (["ground post", "foundation post", "anchor post|eanchor", "post|stud jamb king", "ground stake|pin eanchor"],
              ["drive post", "anchor pipe|eanchor", "ground pipe"], ["ground tube", "foundation tube", "ground leg"]),
    "halfbow": (["half hoop", "bow half", "hoop half", "half arch"], ["rafter", "rib", "half rafter", "bow"],
                ["hoop", "half rib", "arch side"]),
    "bowleg": (["hoop leg", "leg bow", "hoop side", "bow side piece|bowtop"], ["rib leg", "lower bow section", "bow end section"],
               ["hoop leg tube", "side hoop|bowtop", "leg of hoop"]),
    "bowtop": (["hoop top", "top bow", "crown of hoop", "middle of bow"], ["rib crown", "center bow section", "bow crown"],
               ["centre hoop", "crown hoop", "top arch"]),
    "bowlow": (["lower rafter", "rafter leg", "lower hoop section", "bow|bowup", "rafter|bowup"],
               ["bottom bow", "eave bow", "rib, lower"], ["lower hoop", "eaves hoop", "hoop leg"]),
    "bowup": (["upper rafter", "roof bow", "upper hoop section", "bow|bowlow", "rafter|bowlow"],
              ["top bow", "peak bow", "rib, upper"], ["upper hoop", "roof hoop", "hoop top"]),
    "ridge": (["ridge pole", "ridge pipe", "ridge", "ridge purlin|purlin"], ["peak purlin|purlin", "center purlin|purlin", "ridge runner"],
              ["ridge rail", "centre tube", "ridge bar"]),
    "purlin": (["purlin|ridge", "side purlin", "purlin pipe|ridge", "runner|ridge rollbar"], ["girt", "stringer", "roof purlin|ridge"],
               ["longitudinal|ridge", "side rail tube", "purlin bar|ridge"]),
    "rollbar": (["roll bar", "roll-up pipe", "roll pipe"], ["roll-up bar", "curtain pipe", "rollup tube"],
                ["side vent roller", "winding tube", "roller tube"]),
    "tie": (["collar tie", "cross tie", "truss tie", "tie bar"], ["truss bottom chord", "cross bar", "collar tie pipe"],
            ["crop bar", "tie tube", "cross member"]),
    "webout": (["outside web", "outer truss brace", "truss web|webin king", "outer diagonal"], ["long web", "truss strut, outer"], ["outer strut", "outer lattice"]),
    "webin": (["inside web", "inner truss brace", "truss web|webout king", "inner diagonal"], ["short web", "truss strut, inner"], ["inner strut", "inner lattice"]),
    "king": (["center post of truss", "kingpost", "king post", "vertical truss web|webout webin"], ["truss vertical", "center upright"], ["king post strut", "middle strut of truss"]),
    "brace": (["wind brace", "diagonal brace|webout webin", "corner brace", "brace|webout webin", "sway brace"], ["storm brace", "brace pipe|webout webin"], ["bracing tube|webout webin", "stay", "diagonal|webout webin"]),
    "stud": (["end wall post", "end wall upright", "gable upright", "end frame upright", "gable post"],
             ["endwall leg", "end wall 2nd post", "end stud"], ["mullion", "gable stud", "gable end tube"]),
    "jamb": (["door jamb", "door upright", "door post"], ["door side pipe", "jamb pipe"], ["door frame upright", "door leg"]),
    "hsingle": (["door header", "header for single door", "door head|hdouble", "lintel|hdouble"], ["header|hdouble ventrail", "door top pipe|hdouble"], ["door lintel|hdouble", "top rail of door|hdouble"]),
    "hdouble": (["double door header", "header for double door", "door head|hsingle", "wide header"], ["header, dbl door", "header|hsingle ventrail"], ["double door lintel", "door lintel|hsingle"]),
    "ventrail": (["fan frame rail", "sill/head of vent opening", "vent opening crosspiece"], ["fan framing crosspipe", "shutter frame pipe"], ["louvre frame rail", "fan opening cross tube"]),
    "railch": (["rail channel", "c-channel rail", "side rail", "rail stick", "c rail|lock dlock"], ["hat rail", "hip & base rail", "c-purlin rail"], ["side channel section|lock dlock", "c section rail", "rail section, side"]),
    "hiprail": (["hip rail", "shoulder rail"], ["hip rail c-channel"], ["shoulder channel"]),
    "baserail": (["base rail", "bottom rail"], ["skirt rail"], ["ground rail"]),
    "railsplice": (["rail joiner", "splice for rail", "rail connector plate", "rail splice"], ["rail coupler", "channel splice plate"], ["rail fishplate", "rail jointing plate"]),
    "baseboard": (["baseboard", "bottom board", "base plank", "ground board"], ["skirt board", "base lumber", "sill board"], ["gravel board", "base timber", "base rail timber"]),
    "hipboard": (["hipboard", "side board|baseboard", "shoulder board"], ["hip lumber", "roll-up board"], ["side timber|baseboard", "hip timber"]),
    "mend": (["mending plate", "board joiner", "board splice plate", "flat mending strap"], ["mender plate", "lumber splice"], ["timber joining plate", "flat jointing plate"]),
    "lock": (["lock channel|dlock", "spring channel|dlock", "single lock channel", "wire lock channel|dlock", "film lock|dlock"],
             ["wiggle wire channel|dlock", "poly lock, single", "u-channel|dlock railch"], ["film clip rail|dlock", "locking profile|dlock", "single profile"]),
    "dlock": (["double channel", "double lock channel", "dual spring channel", "2-wire lock channel"], ["double poly lock", "dbl wiggle channel", "double track"], ["twin profile", "double locking profile", "twin film rail"]),
    "wire": (["wiggle wire", "zigzag wire", "spring wire", "lock wire"], ["wiggle", "spring lock wire", "snake wire"], ["zig-zag spring", "film spring wire", "clamping spring"]),
    "cover": (["greenhouse film", "roof film", "house cover", "main poly", "roof plastic", "film|endfilm infilm panel"], ["poly cover|endfilm infilm panel", "roof poly", "top skin"], ["polythene cover", "tunnel sheet", "roof sheeting"]),
    "endfilm": (["gable film", "end poly", "end wall plastic", "film for ends", "film|cover infilm panel"], ["endwall poly", "end skin", "end cover"], ["gable sheet", "end polythene", "end sheeting"]),
    "infilm": (["inner layer film", "inside poly", "second layer film", "inner skin"], ["inner poly", "under-layer poly"], ["inner sheet", "lining film"]),
    "panel": (["wind panel", "corner wind flap", "end-of-side panel", "wind skirt, corner"], ["sidewall wind pocket", "wind pocket"], ["side end flap", "draught panel"]),
    "shade": (["shade cloth", "shade net", "shade fabric", "knitted shade"], ["shadecloth", "shade tarp"], ["shading net", "shading"]),
    "screen": (["insect netting", "bug screen", "insect net", "side screen"], ["insect screening", "vent screen"], ["insect mesh", "fly mesh"]),
    "gcover": (["weed mat", "landscape fabric", "woven ground fabric", "weed barrier"], ["ground cloth", "weed cloth"], ["woven ground sheet", "groundcover fabric"]),
    "eanchor": (["earth anchor", "screw anchor", "auger anchor", "soil anchor"], ["helical anchor", "mobile home style auger"], ["ground anchor", "spiral ground anchor"]),
    "astrap": (["anchor strap", "strap for anchor", "tie strap, anchor"], ["hold-down strap", "anchor hold down strap"], ["anchor band", "ground anchor strap"]),
    "aclamp": (["clamp for anchor", "anchor clamp", "anchor-to-bow clamp", "anchor bracket"], ["anchor pipe clamp", "auger clamp"], ["anchor clip", "ground anchor clamp"]),
    "crank": (["hand crank", "crank handle", "roll-up crank", "hand winder"], ["crank assembly", "gear crank", "roll up winch"], ["winding handle", "side winder gearbox", "crank gear"]),
    "snap": (["snap clamp", "snap-on film clip", "film snap clip", "roll bar clip"], ["poly clip", "pipe snap clip", "tube snap"], ["film clip", "tube clip", "clip-on film clamp"]),
    "snapbig": (["snap clamp|snapsmall", "snap-on film clip|snapsmall", "film snap clip|snapsmall", "bow snap clip"], ["poly clip|snapsmall", "pipe snap clip|snapsmall"], ["film clip|snapsmall", "tube clip|snapsmall"]),
    "snapsmall": (["snap clamp|snapbig", "snap-on film clip|snapbig", "film snap clip|snapbig", "roll bar clip"], ["poly clip|snapbig", "pipe snap clip|snapbig"], ["film clip|snapbig", "tube clip|snapbig"]),
    "cross": (["cross clamp", "cross connector", "purlin clamp", "purlin bracket", "crossover clamp"], ["pipe cross connector", "u-bolt cross clamp", "girt clamp"], ["cross clip", "purlin clip", "tube cross bracket"]),
    "crossbig": (["cross clamp|crosssmall", "cross connector|crosssmall", "purlin clamp|crosssmall", "purlin bracket|crosssmall"], ["pipe cross|crosssmall", "girt clamp|crosssmall"], ["cross clip|crosssmall", "purlin clip|crosssmall"]),
    "crosssmall": (["cross clamp|crossbig", "cross connector|crossbig", "purlin clamp|crossbig", "purlin bracket|crossbig"], ["pipe cross|crossbig", "girt clamp|crossbig"], ["cross clip|crossbig", "purlin clip|crossbig"]),
    "ridgeclamp": (["ridge clamp", "ridge bracket", "ridge pipe clamp", "clamp, ridge to bow"], ["peak clamp", "ridge pole bracket"], ["ridge clip", "ridge tube bracket"]),
    "studclamp": (["stud clamp", "gable post clamp", "end post clamp", "end wall clamp", "upright-to-bow clamp"], ["endwall post bracket", "stud to bow clamp"], ["gable clip", "upright clip"]),
    "studshoe": (["stud foot", "base shoe", "upright shoe", "post shoe", "door post foot"], ["jamb shoe", "floor flange shoe"], ["upright socket", "foot plate for upright"]),
    "braceclamp": (["brace clamp", "clamp for brace", "brace end clamp"], ["wind brace clamp", "brace bracket"], ["stay clamp", "bracing clip"]),
    "band": (["brace band", "pipe band", "band clamp", "tension band"], ["fence type brace band", "pipe collar band"], ["tube band", "bracing band"]),
    "tiebr": (["collar tie bracket", "cross tie bracket", "truss bracket", "tie clamp"], ["truss end bracket", "chord bracket"], ["crop bar bracket", "tie tube clip"]),
    "strap2": (["two hole strap", "pipe strap", "2-hole pipe strap"], ["conduit strap", "tube strap 2 hole"], ["saddle clip", "pipe saddle"]),
    "peakplate": (["peak plate", "ridge gusset", "apex plate", "peak gusset"], ["gusset plate, peak", "bow peak splice"], ["apex fishplate", "ridge joint plate"]),
    "door": (["door leaf", "door", "door slab", "door panel"], ["walk door", "swing door panel"], ["door blade", "hinged door panel"]),
    "hinge": (["hinge", "clamp-on hinge", "pipe hinge", "door hinge"], ["gate hinge, pipe", "hinge, wrap-around"], ["tube hinge", "clip-on hinge"]),
    "latch": (["door latch", "latch set", "door handle set", "latch kit"], ["door latch hardware", "thumb latch kit"], ["door catch", "lock and handle set"]),
    "hexbolt": (["hex bolt", "hex head bolt", "machine bolt", "bolt|coach"], ["hex cap screw", "hex hd bolt"], ["hexagon bolt", "set bolt"]),
    "coach": (["carriage bolt", "cup head bolt", "bolt, round head"], ["carriage bolt, sq neck", "carr. bolt"], ["coach bolt", "cup square bolt"]),
    "nut": (["lock nut", "nylon insert nut", "locknut", "nut"], ["nylon stop nut", "prevailing torque nut"], ["nylon locking nut", "self locking nut"]),
    "washer": (["flat washer", "washer", "plain washer"], ["cut washer", "flat wshr"], ["flat round washer", "penny type washer"]),
    "sds": (["self drilling screw", "tek screw", "self-tapping screw, drill point", "self driller"], ["tek", "HWH self drill screw", "HWH drill screw"], ["tek screw, hex head", "self-drilling hex screw"]),
    "wscrew": (["wood screw", "screw for wood", "deck screw"], ["wood scr, pan head", "lumber screw"], ["timber screw", "woodscrew"]),
    "lag": (["lag screw", "lag bolt"], ["lag", "hex lag"], ["coach screw", "hex wood screw"]),
    "pin": (["ground staple", "fabric pin", "sod staple", "ground pin"], ["landscape staple", "weed mat pin"], ["fabric peg", "ground peg"]),
    "shadeclip": (["shade clip", "shade cloth clip", "net clip"], ["shade fastener", "shade snap"], ["netting clip", "shading clip"]),
    "tape": (["repair tape", "poly patch tape", "film tape"], ["poly repair tape", "greenhouse tape"], ["tunnel repair tape", "mending tape, clear"]),
    "fan": (["exhaust fan", "wall fan", "vent fan"], ["shutter fan", "extractor"], ["extractor fan", "extraction fan"]),
    "shutter": (["intake shutter", "wall shutter", "louver"], ["motorless intake louver", "air inlet shutter"], ["inlet louvre", "louvre"]),
    "blower": (["inflation blower", "inflation fan", "blower for double poly"], ["squirrel cage inflator", "poly inflator"], ["inflation fan unit", "air blower, twin skin"]),
    "hose": (["jumper hose", "air transfer hose", "inflation hose w/ flanges"], ["poly jumper hose kit", "air jumper"], ["connecting air hose", "air duct hose with flanges"]),
}

# ------------------------------------------------------------------ the parts of an order
HEADS = {
    "Ground post": "gpost", "Half bow": "halfbow", "Bow leg": "bowleg", "Bow top": "bowtop", "Cross tie tube": "tie",
    "Outer web": "webout", "Inner web": "webin", "King post": "king", "Brace tube": "brace", "Wind brace": "brace",
    "Rail of a fan or shutter opening": "ventrail", "Rail splice plate": "railsplice", "Base board": "baseboard",
    "Hip board": "hipboard", "Mending plate": "mend", "Board mending plate": "mend", "Lock channel": "lock",
    "Double lock channel": "dlock", "Spring wire": "wire", "Main cover": "cover", "End wall film": "endfilm",
    "Inner film": "infilm", "Wind panel": "panel", "Shade cloth": "shade", "Insect screen": "screen",
    "Ground cover": "gcover", "Earth anchor": "eanchor", "Anchor strap": "astrap", "Anchor clamp": "aclamp",
    "Hand crank": "crank", "Hand crank with its guide": "crank", "Ridge clamp": "ridgeclamp", "Stud clamp": "studclamp",
    "Stud shoe": "studshoe", "Brace clamp": "braceclamp", "Brace band": "band", "Tie bracket": "tiebr",
    "Two-hole pipe strap": "strap2", "Peak plate": "peakplate", "Door panel": "door", "Door hinge": "hinge",
    "Door latch set": "latch", "Hex bolt": "hexbolt", "Carriage bolt": "coach", "Lock nut": "nut",
    "Flat washer": "washer", "Self-drilling screw": "sds", "Wood screw": "wscrew", "Lag screw": "lag",
    "Ground pin": "pin", "Shade clip": "shadeclip", "Film repair tape": "tape", "Exhaust fan": "fan",
    "Air shutter": "shutter", "Blower for the air between two films": "blower", "Air hose with flanges": "hose",
}
USES = {"ridge": "ridge", "purlin": "purlin", "lower purlin": "purlin", "upper purlin": "purlin", "roll bar": "rollbar",
        "stud": "stud", "end stud": "stud", "middle stud": "stud", "door jamb": "jamb", "wide door jamb": "jamb",
        "hip rail": "hiprail", "base rail": "baserail"}
TUBE = {"1-3/8": 1.315, "1-5/8": 1.660, "1-7/8": 1.900}
NPS = {"1-3/8": "1", "1-5/8": "1-1/4", "1-7/8": "1-1/2"}
WALL = {"14": (".083", "2.1"), "16": (".065", "1.65")}


def number(text):
    return float(sum(Fraction(x) for x in text.split("-")))


def measure(text):
    """A size as the program writes it, in millimetres."""
    text = text.strip()
    if m := re.fullmatch(r"([\d.]+) mm", text):
        return float(m[1])
    if m := re.fullmatch(r"(?:(\d+) ft)? ?(?:([\d/.-]+) in)?", text):
        if m[1] or m[2]:
            return (int(m[1] or 0) * 12 + (number(m[2]) if m[2] else 0)) * 25.4
    return None


def snap16(mm):
    """Metric papers round to whole millimetres; the inch size behind them is on sixteenths."""
    return round(mm / 25.4 * 16) / 16 * 25.4


class Part:
    def __init__(self, raw):
        self.mark, self.qty, self.supplied = raw["mark"], raw["quantity"], raw["supplied"]
        text = raw["description"]
        bits = [b.strip() for b in text.split(",")]
        head = bits[0]
        self.uses = [(u["use"], u["quantity"]) for u in raw["uses"]]
        by_use = Counter()
        if head in ("Ridge tube", "Light purlin tube", "End wall stud", "Rail channel"):
            for use, n in self.uses:
                by_use[USES.get(use, "stud")] += n
            self.concepts = list(by_use)
            if head == "Rail channel":
                self.concepts.insert(0, "railch")
        elif head == "Door header":
            self.concepts = ["hdouble" if "double" in bits else "hsingle"]
        elif head == "Snap clamp":
            self.concepts = ["snap" if len(bits) == 1 else "snapbig" if bits[1] == "1-7/8" else "snapsmall"]
        elif head == "Cross connector":
            self.concepts = ["cross" if "by" not in text else "crossbig" if "by 1-7/8" in text else "crosssmall"]
        elif head == "Bow":
            self.concepts = ["bowlow" if "lower piece" in bits else "bowup"]
        else:
            self.concepts = [HEADS[head]]
        self.by_use = by_use
        self.concept = self.concepts[0]
        self.facts = f = {}
        if m := re.search(r"tube (\S+) in \(", text):
            f["dia"] = m[1]
            f["gauge"] = re.search(r"(\d+) ga", text)[1]
            f["len"] = snap16(raw["length_mm"])
            if m := re.search(r"swaged ([\d/-]+ (?:in|mm))", text):
                f["ends"] = ("swaged", snap16(measure(m[1])))
            elif "flattened and punched" in text:
                f["ends"] = ("punched", 0)
            elif "flattened" in text:
                f["ends"] = ("flat", 0)
            else:
                f["ends"] = ("plain", 0)
            f["finish"] = "galv"
            return
        for b in bits[1:]:
            if m := re.fullmatch(r"(\dx\d) \(.*\)", b):
                f["lumber"] = m[1]
            elif m := re.fullmatch(r"(#\d+|[\d/]+ in) x (.+)", b):
                f["screw"] = m[1].removesuffix(" in")
                f["len"] = snap16(measure(m[2]))
            elif b in ("6 mil", "152 µm"):
                f["mil"] = 6
            elif m := re.fullmatch(r"shade cloth (\d+) %|(\d+) percent", b):
                f["shade"] = m[1] or m[2]
            elif re.fullmatch(r"\d-\d/\d(?: by \d-\d/\d)?", b):
                f["pipes"] = tuple(b.split(" by "))
            elif b in ("galvanized", "zinc plated", "treated", "mill", "clear", "coated"):
                f["finish"] = {"galvanized": "galv", "zinc plated": "zinc"}.get(b, b)
            elif " by " in b:
                pair = [measure(x) for x in b.split(" by ")]
                pair = [snap16(x) for x in pair]
                f["section" if max(pair) < 70 else "sheet"] = tuple(pair)
            elif (mm := measure(b)) is not None:
                if self.concept in ("nut", "washer"):
                    f["screw"] = b.removesuffix(" in")
                elif self.concept == "wire" and mm < 5:
                    f["wiredia"] = mm
                else:
                    f["len"] = snap16(mm)


def parts_of(program, order):
    out = subprocess.run([program, "parts", str(HERE / "orders" / f"{order}.toml"), "--json"], check=True,
                         capture_output=True, text=True).stdout
    data = json.loads(out)
    return data["family"], [Part(p) for p in data["parts"]]


# ------------------------------------------------------------------ how sizes are written
def frac(x, step=16, dash="-"):
    n = round(x * step)
    whole, rest = divmod(n, step)
    if not rest:
        return str(whole)
    r = Fraction(rest, step)
    return f"{whole}{dash}{r.numerator}/{r.denominator}" if whole else f"{r.numerator}/{r.denominator}"


UNI = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}


def unifrac(x):
    text = frac(x, 16, " ")
    for k, v in UNI.items():
        if text == k or text.endswith(" " + k):
            return text[: -len(k)].strip() + v
    return text


def trim(x, n):
    text = f"{x:.{n}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def feet(mm):
    """Feet and inches, in sixteenths."""
    n = round(mm / 25.4 * 16)
    return n // 192, (n % 192) / 16


def write_len(mm, style):
    """The text, and what it says in millimetres, and half the last step."""
    inch, (ft, rest) = mm / 25.4, feet(mm)
    if style == "ftin":      # 10'6-1/2"
        text = (f"{ft}'" if ft else "") + (f'{frac(rest)}"' if rest or not ft else "")
        return text, mm, 0.8
    if style == "ftindash":  # 10'-6 1/2"
        text = (f"{ft}'-" if ft else "") + ("0 " if ft and 0 < rest < 1 else "") + f'{frac(rest, 16, " ")}"'
        return text, mm, 0.8
    if style == "ftinword":  # 10 ft 6 1/2 in
        text = " ".join(([f"{ft} ft"] if ft else []) + ([f"{frac(rest, 16, ' ')} in"] if rest or not ft else []))
        return text, mm, 0.8
    if style == "fthalf":    # to the half inch
        n = round(inch * 2)
        a, b = divmod(n, 24)
        text = (f"{a}' " if a else "") + (f'{trim(b / 2, 1)}"' if b or not a else "")
        return text.strip(), n / 2 * 25.4, 6.35
    if style == "uni":       # 10′ 6½″
        text = (f"{ft}′ " if ft else "") + (f"{unifrac(rest)}″" if rest or not ft else "")
        return text.strip(), mm, 0.8
    if style == "infrac":
        return f"{frac(inch)} in", mm, 0.8
    if style == "inquote":
        return f'{frac(inch, 16, " ")}"', mm, 0.8
    if style == "indec":
        v = round(inch, 2 if inch < 12 else 1)
        return f"{trim(v, 2)} in", v * 25.4, 1.3
    if style == "indecbare":
        v = round(inch, 2)
        return f"{v:.2f}IN", v * 25.4, 0.2
    if style == "ftdec":
        if mm < 1000:
            return f'{frac(inch)}"', mm, 0.8
        v = round(inch / 12, 2)
        return f"{trim(v, 2)} ft", v * 304.8, 1.6
    if style == "ftdec2":
        if mm < 300:
            return f"{trim(inch, 2)}IN", mm, 0.2
        v = round(inch / 12, 2)
        return f"{v:.2f}FT", v * 304.8, 1.6
    if style == "m3" and mm < 300:
        return f"{round(mm)} mm", round(mm), 0.5
    if style == "m3":
        v = round(mm) / 1000
        return f"{v:.3f} m", v * 1000, 0.5
    if style == "m2":
        if mm < 1000:
            return f"{round(mm)} mm", round(mm), 0.5
        v = round(mm / 10) / 100
        return f"{v:.2f} m", v * 1000, 5
    if style == "m2comma":
        text, v, tol = write_len(mm, "m2")
        return text.replace(".", ","), v, tol
    if style == "cm":
        if mm < 100:
            return f"{round(mm)} mm", round(mm), 0.5
        v = round(mm / 10)
        return f"{v} cm", v * 10, 5
    if style == "mm":
        return f"{round(mm)} mm", round(mm), 0.5
    if style == "mmbare":
        return f"{round(mm)}", round(mm), 0.5
    raise ValueError(style)


METRIC = {"m3", "m2", "m2comma", "cm", "mm", "mmbare"}
FINER = {"cm": "mm", "m2": "m3", "m2comma": "mm", "fthalf": "ftin", "indec": "infrac"}


def write_dia(nominal, style):
    od = TUBE[nominal]
    return {"nomq": f'{nominal}"', "nomsp": f'{nominal.replace("-", " ")}"', "nomin": f"{nominal} in",
            "od3": f"{od:.3f} OD", "od2q": f'{od:.2f}" OD', "odin": f"{trim(od, 3)} in OD", "erp": f"{od:.3f}OD",
            "mm1": f"{od * 25.4:.1f} mm", "mm0": f"dia {od * 25.4:.0f}", "dmm": f"Ø{od * 25.4:.1f}",
            "uni": f"{unifrac(number(nominal))}″", "nps": f'{NPS[nominal]}" nominal pipe',
            "words": {"1-3/8": "inch and three eighths", "1-5/8": "inch and five eighths", "1-7/8": "inch and seven eighths"}[nominal],
            }[style]


def write_gauge(g, style):
    return {"ga": f"{g} ga", "gauge": f"{g} gauge", "GA": f"{g}GA", "hash": f"#{g} ga", "wall": f"{WALL[g][0]} wall",
            "mmwall": f"{WALL[g][1]} mm wall", "xmm": f"{WALL[g][1]}", "swg": f"t={WALL[g][1]}", "gaq": f"{g}ga."}[style]


ENDS = {
    "plain": ["plain ends", "both ends plain", "PE both", "square cut", ""],
    "swaged": ["swaged one end", "swedged 1 end", "one end reduced", "crimped one end", "male one end", "SWG 1E", "necked down 1 end"],
    "flat": ["flattened ends", "ends flattened", "both ends pressed flat", "flat ends"],
    "punched": ["flattened & punched", "flat ends with holes", "ends flattened, drilled", "flat punched ends"],
}
FINISH = {"galv": ["galvanized", "galv.", "galv", "HDG", "galvanised", "GALV"], "zinc": ["zinc", "ZP", "zinc plated", "bright zinc", "zn", "BZP"],
          "treated": ["treated", "PT", "pressure treated", "ground contact"], "mill": ["mill finish", "alum", "aluminium", "plain alum."],
          "clear": ["clear", "clr", "clear UV"], "coated": ["coated", "PVC coated", "vinyl coated", "plastic coated"]}


# ------------------------------------------------------------------ the writers
# lens: sizes of long things; small: of short ones (fasteners, sections); sheet: of films. keep: how often a fact stays.
WRITERS = [
    dict(name="yardman", uk=False, lens="ftin", small="inquote", sheet="ft'", dia="nomq", gauge="ga", sep=", ", case="upper",
         order="noun dia gauge section len ends finish", keep=dict(dia=.95, gauge=.85, len=.97, ends=.5, finish=.7), unit=["EA"], typo=.01, code="serial"),
    dict(name="bench", uk=False, lens="infrac", small="infrac", sheet="ft x", dia="odin", gauge="wall", sep=", ", case="lower",
         order="noun len dia gauge section ends finish", keep=dict(dia=.9, gauge=.6, len=.98, ends=.4, finish=.3), unit=["pc"], typo=.01),
    dict(name="tunnelco", uk=True, lens="mm", small="mm", sheet="m", dia="mm1", gauge="mmwall", sep=" - ", case="first",
         order="noun dia gauge section len ends finish", keep=dict(dia=.9, gauge=.8, len=.97, ends=.5, finish=.6), unit=["no.", "No"], typo=.01, code="ht"),
    dict(name="metre", uk=True, lens="m3", small="mm", sheet="m", dia="dmm", gauge="xmm", sep=" ", case="lower", joinx=True,
         order="dia gauge section len noun finish ends", keep=dict(dia=.92, gauge=.75, len=.97, ends=.3, finish=.4), unit=["pcs", "Stk"], typo=.015),
    dict(name="smallholder", uk=True, lens="cm", small="mm", sheet="m1", dia="mm0", gauge="swg", sep=", ", case="first",
         order="noun len section dia gauge ends finish", keep=dict(dia=.6, gauge=.25, len=.9, ends=.15, finish=.2), unit=["", "off"], typo=.03),
    dict(name="decimalfoot", uk=False, lens="ftdec", small="inquote", sheet="ft x", dia="nomq", gauge="gaq", sep=" ", case="upper", joinx=True, abbr="A",
         order="noun dia gauge section len finish ends", keep=dict(dia=.95, gauge=.8, len=.97, ends=.35, finish=.5), unit=["PCS"], typo=.01, code="letters"),
    dict(name="scanner", uk=False, lens="ftindash", small="inquote", sheet="ft'", dia="nomsp", gauge="gauge", sep=", ", case="first", ocr=.09,
         order="noun section len dia gauge ends finish", keep=dict(dia=.92, gauge=.75, len=.98, ends=.5, finish=.6), unit=["ea"], typo=0),
    dict(name="hasty", uk=False, lens="fthalf", small="inquote", sheet="ft x", dia="nomq", gauge="GA", sep=" ", case="mixed", abbr="B",
         order="dia noun gauge section len finish ends", keep=dict(dia=.7, gauge=.4, len=.93, ends=.2, finish=.25), unit=["", "pc"], typo=.10),
    dict(name="shortly", uk=False, lens="ftin", small="inquote", sheet="ft'", dia="nomq", gauge="ga", sep=" ", case="lower", plural=True,
         order="noun section dia len gauge ends finish", keep=dict(dia=.25, gauge=.08, len=.45, ends=.05, finish=.05), unit=[""], typo=.03),
    dict(name="talker", uk=False, lens="ftinword", small="infrac", sheet="ft by", dia="words", gauge="gauge", sep=", ", case="first", talk=True,
         order="noun len dia gauge section ends finish", keep=dict(dia=.75, gauge=.4, len=.9, ends=.5, finish=.3), unit=["pieces"], typo=.02),
    dict(name="ledger", uk=False, lens="indecbare", small="indecbare", sheet="erp", dia="erp", gauge="GA", sep=",", case="upper", invert=True,
         order="noun dia gauge section len finish ends", keep=dict(dia=1, gauge=.95, len=1, ends=.6, finish=.9), unit=["EA"], typo=0, code="erp"),
    dict(name="glyph", uk=False, lens="uni", small="uni", sheet="uni", dia="uni", gauge="ga", sep=" · ", case="first",
         order="noun dia len section gauge finish ends", keep=dict(dia=.9, gauge=.5, len=.97, ends=.4, finish=.5), unit=["pcs"], typo=.01),
    dict(name="comma", uk=True, lens="m2comma", small="mm", sheet="m,", dia="mm1", gauge="mmwall", sep="; ", case="first",
         order="section noun len dia gauge finish ends", keep=dict(dia=.85, gauge=.5, len=.97, ends=.3, finish=.5), unit=["pcs", "pce"], typo=.02, code="art"),
    dict(name="pipeman", uk=False, lens="indec", small="infrac", sheet="ft x", dia="nps", gauge="wall", sep=", ", case="lower",
         order="noun gauge dia section len ends finish", keep=dict(dia=.95, gauge=.7, len=.98, ends=.5, finish=.4), unit=["each"], typo=.01),
]
ABBR = {
    "A": {"ground": "grnd", "foundation": "fdn", "channel": "chnl", "connector": "conn", "double": "dbl", "single": "sgl", "clamp": "clmp",
          "bracket": "brkt", "purlin": "purl", "screw": "scr", "washer": "wshr", "board": "bd", "section": "sect", "diagonal": "diag", "header": "hdr",
          "post": "pst", "end wall": "e/w", "endwall": "e/w", "plate": "pl", "swaged": "swg", "galvanized": "galv", "upright": "uprt", "center": "ctr", "with": "w/"},
    "B": {"ground": "gnd", "channel": "chan", "connector": "connect.", "double": "dbl", "bracket": "brack", "screw": "scrw", "with": "w", "end wall": "ew",
          "endwall": "ew", "header": "hdr", "lower": "lwr", "upper": "upr", "plate": "plt", "greenhouse": "g/h", "self drilling": "s/d", "lock": "lk"},
}
SLIPS = {"purlin": ["purlon", "perlin", "purling"], "gauge": ["guage", "gage"], "galvanized": ["galvinized", "galvanised"], "channel": ["chanel", "channell"],
         "carriage": ["carrage", "carraige"], "washer": ["washr"], "wiggle": ["wigle", "wiggel"], "brace": ["brase"], "hinge": ["hindge"],
         "screw": ["scew", "screew"], "rafter": ["raftor", "rafer"], "anchor": ["ancor", "anker"], "baseboard": ["basebord"], "ridge": ["rigde", "ridg"],
         "swaged": ["swedged", "swagged"], "greenhouse": ["greenhuose"], "connector": ["conector", "connecter"], "bracket": ["braket", "brackit"]}

LISTS = [  # writer, order
    ("yardman", "g24-36"), ("yardman", "s30-84"), ("bench", "r16-48-all"), ("bench", "rule-w1"),
    ("tunnelco", "rule-w3"), ("tunnelco", "r16-36-anchors"), ("metre", "rule-w1"), ("metre", "s30-60-bands"),
    ("smallholder", "r16-60"), ("smallholder", "g24-48"), ("decimalfoot", "s30-96-all"), ("decimalfoot", "g24-96"),
    ("scanner", "rule-w2"), ("scanner", "s30-48"), ("hasty", "rule-w4"), ("hasty", "g24-72-open"), ("hasty", "r16-24"),
    ("shortly", "g24-48"), ("shortly", "s30-40"), ("shortly", "r16-72"), ("talker", "rule-w2"), ("talker", "s30-72-snow"),
    ("ledger", "rule-w4"), ("ledger", "r16-60"), ("glyph", "g24-72-open"), ("glyph", "s30-48"), ("comma", "rule-w3"),
    ("comma", "r16-36-anchors"), ("pipeman", "s30-40"), ("pipeman", "rule-w1"),
]

# ------------------------------------------------------------------ what is in the box and no part of the order
# text; concepts that, standing in an order, forbid it ("-" none); families it may stand in
STRAY = [
    ("instruction manual", "-"), ("assembly drawings, 1 set", "-"), ("hardware check sheet", "-"), ("warranty card", "-"), ("invoice copy", "-"),
    ("freight", "-"), ("shipping and handling", "-"), ("pallet", "-"), ("pallet deposit", "-"), ("steel banding", "-"), ("crate, returnable", "-"),
    ("fuel surcharge", "-"), ("lift gate service", "-"), ("work gloves", "-"), ("safety glasses", "-"), ('5/16" magnetic nut driver', "-"),
    ("post driver cap", "-"), ("post pounder (loan)", "-"), ('1/2" socket', "-"), ('drill bit 5/16"', "-"), ("line level", "-"), ("mason's string 250 ft", "-"),
    ("marking paint, orange", "-"), ("tin snips", "-"), ("tape measure 30 m", "-"), ("swivel caster", "-"), ("cold galv spray", "-"), ("touch-up paint, silver", "-"),
    ("thermostat, 2 stage", "-"), ("circulation fan 20 in, hanging basket type", "fan"), ("gas unit heater 150k", "-"), ("heater hanging kit", "-"), ("drip tape roll", "-"),
    ("irrigation manifold", "-"), ("soil thermometer", "-"), ("seed starting bench", "-"), ("bench top, expanded metal 4 x 8", "-"), ("extension cord", "-"),
    ("row cover 10 x 100", "-"), ("concrete mix 60 lb", "-"), ("rebar #4 x 24 in", "-"), ('lock nut 1/2"', "-"), ('carriage bolt 3/8" x 8"', "-"),
    ('hex bolt 1/2" x 5"', "-"), ('flat washer 1/2"', "-"), ("drywall screws 1 lb box", "-"), ('u-bolt 2-3/8"', "-"), ('threaded rod 3/8" x 36"', "-"),
    ('square tube 2" x 2" x 20 ft', "-"), ('ground post 2-3/8" x 10 ft heavy', "-"), ("4x4 post, 8 ft treated", "-"), ("plywood 1/2 in 4 x 8 sheet", "-"),
    ("polycarbonate sheet 8 mm 4 x 12", "-"), ("polycarbonate h-profile 8 mm", "-"), ("anti condensate spray", "-"), ("rope 1/4 in, anti billow, 500 ft", "-"),
    ("eye bolt 1/4 in", "-"), ("zip ties, bag of 100", "-"), ("bungee cords 24 in", "-"), ("water barrel", "-"), ("trellis clips", "-"), ("trellis twine", "-"),
    ("sliding door track 8 ft", "-"), ("trolley for sliding door", "-"), ("sign: keep door closed", "-"), ("touch screen controller", "-"), ("rain gutter 10 ft white", "-"),
    ("gutter downspout", "-"), ("pipe end cap, rubber 2-3/8", "-"), ("duct tape", "tape"), ("poly patch tape 4 in x 48 ft", "tape"), ("film spare roll 8 mil, white 20 x 50", "-"),
    ("inflation blower w/ plug", "blower"), ("36 in. exhaust fan with guard", "fan"), ("intake louver 36 in", "shutter"), ("king post, truss", "king"),
    ("truss web strut", "webout"), ("collar tie, 12 ft 8", "tie"), ("two-hole strap 1-3/8", "strap2"), ("lag bolt 1/4 x 1-1/4", "lag wscrew"),
    ("auger anchor 48 in", "eanchor"), ("shade net 30% 38 x 60", "shade"), ("insect netting 7 x 98", "screen"), ("weed mat 12 x 97", "gcover"),
    ("roll-up crank handle", "crank"), ("hip board 2x4 x 14 ft", "hipboard baseboard"), ("peak gusset", "peakplate"), ("double lock channel 2-3/8, 8 ft", "dlock"),
    ("wind pocket 8 x 5", "panel"), ("snow load prop, adjustable", "-"), ("motor for roll-up, 24 V", "-"), ("transformer 24 V", "-"),
]

ONCE = {t for t, _ in STRAY[:12]} | {"touch screen controller", "lift gate service", "sign: keep door closed", "tape measure 30 m", "tin snips", "water barrel"}


# ------------------------------------------------------------------ the rule
def same(fact, said, part, value):
    """Could `part` be meant by a row that says `value` of `fact`?"""
    have = part.facts.get(fact)
    if have is None:
        return False
    if fact == "len":
        return abs(have - value[0]) <= 2 * value[1] + 0.3
    if fact == "sheet":
        return all(abs(a - b) <= 160 for a, b in zip(sorted(have), sorted(value)))
    if fact == "section":
        return all(abs(a - b) <= 1.5 for a, b in zip(sorted(have), sorted(value)))
    if fact == "ends":
        return have[0] == value[0]
    return have == value


def fits(order_parts, nouns, said):
    """The parts of the order that agree with every fact said."""
    return [p for p in order_parts if nouns & set(p.concepts) and all(same(k, said, p, v) for k, v in said.items() if k != "finish")]


# ------------------------------------------------------------------ writing a row
def noun_list(w, concept):
    both, us, uk = NOUNS[concept]
    out = []
    for text in both + (uk if w["uk"] else us):
        word, _, more = text.partition("|")
        out.append((word, {concept, *more.split()}))
    return out


def sheet_text(pair, style):
    a, b = pair
    if style == "m":
        return f"{trim(a / 1000, 2)} x {trim(b / 1000, 2)} m"
    if style == "m1" and b > 2100:
        return f"{trim(a / 1000, 1)} x {trim(b / 1000, 1)} m"
    if style == "m1":
        return f"{round(a / 10)} x {round(b / 10)} cm"
    if style == "m,":
        return f"{a / 1000:.2f} x {b / 1000:.2f} m".replace(".", ",")
    if b > 3000 or a > 1300:
        def one(mm, mark, inch):
            ft, rest = feet(mm)
            return f"{ft}{mark}" + (f"{frac(rest)}{inch}" if rest else "")
        return {"ft'": f"""{one(a, "'", '"')} x {one(b, "'", '"')}""", "ft x": f"{trim(a / 304.8, 2)} x {trim(b / 304.8, 2)} ft",
                "ft by": f"{trim(a / 304.8, 2)} feet by {trim(b / 304.8, 2)}", "erp": f"{trim(a / 304.8, 2)}X{trim(b / 304.8, 2)}FT",
                "uni": f"{one(a, '′', '″')} × {one(b, '′', '″')}"}[style]
    a, b = a / 25.4, b / 25.4
    return {"ft'": f'{frac(a)}" x {frac(b)}"', "ft x": f"{frac(a)} x {frac(b)} in", "ft by": f"{frac(a)} inches by {frac(b)}",
            "erp": f"{trim(a, 2)}X{trim(b, 2)}IN", "uni": f"{unifrac(a)}″ × {unifrac(b)}″"}[style]


def small_text(mm, style):
    text = write_len(mm, style)[0]
    return text


def bits_of(w, rng, lst, part, said, style):
    """Each fact said, in the writer's words."""
    out = {}
    if "dia" in said:
        out["dia"] = write_dia(said["dia"], w["dia"])
    if "gauge" in said:
        out["gauge"] = write_gauge(said["gauge"], "mmwall" if w["gauge"] == "xmm" and "dia" not in said else w["gauge"])
    if "ends" in said:
        word = lst["ends"][said["ends"][0]]
        if said["ends"][0] == "swaged" and lst["swagelen"]:
            word += " " + small_text(said["ends"][1], w["small"] if w["small"] != "mm" else "mm")
        out["ends"] = word
    if "finish" in said:
        out["finish"] = lst["finish"][said["finish"]]
    if "section" in said:
        a, b = said["section"]
        q = {"mm": f"{round(a)} x {round(b)} mm", "indecbare": f"{a / 25.4:.2f}X{b / 25.4:.2f}", "uni": f"{unifrac(a / 25.4)} × {unifrac(b / 25.4)}″"}
        out["section"] = q.get(w["small"], f"{frac(a / 25.4)} x {frac(b / 25.4)}")
    if "sheet" in said:
        out["section"] = sheet_text(said["sheet"], w["sheet"])
    if "lumber" in said:
        m = {"2x6": "38 x 140", "2x4": "38 x 89"}
        out["section"] = m[said["lumber"]] + " mm" if w["uk"] and lst["metriclumber"] else said["lumber"]
    if "mil" in said:
        out["gauge"] = lst["mil"]
    if "shade" in said:
        out["gauge"] = said["shade"] + lst["percent"]
    if "pipes" in said:
        ps = said["pipes"]
        if w["dia"] in ("mm1", "mm0", "dmm"):
            out["section"] = " x ".join(f"{TUBE[p] * 25.4:.0f}" for p in ps) + " mm"
        elif w["dia"] in ("od3", "odin", "erp"):
            out["section"] = ("X" if w["dia"] == "erp" else " x ").join(f"{TUBE[p]:.3f}" for p in ps)
        elif w["dia"] == "uni":
            out["section"] = " × ".join(unifrac(number(p)) for p in ps) + "″"
        elif w["dia"] == "nps":
            out["section"] = " x ".join(f'{NPS[p]}"' for p in ps) + " nominal pipe"
        else:
            out["section"] = " x ".join(ps)
    if "wiredia" in said:
        mm = said["wiredia"]
        out["gauge"] = "2 mm" if w["uk"] else lst["wiredia"]
    if "screw" in said and "len" in said:
        s = said["screw"]
        s = f"no. {s[1:]}" if s[0] == "#" and lst["no"] else s
        mm = part.facts["len"]
        if w["uk"]:
            tail = f"{round(mm)} mm" if s[0] in "#n" or lst["mmbolt"] else f'{frac(mm / 25.4)}"'
        elif w["small"] == "indecbare":
            tail = f"{mm / 25.4:.2f}"
        elif w["small"] == "uni":
            tail = unifrac(mm / 25.4) + "″"
            s = s if s[0] in "#n" else s + "″"
        else:
            tail = frac(mm / 25.4) + ('"' if w["small"] == "inquote" else " in")
        out["section"] = f"{s}X{tail}" if w.get("invert") else f"{s} x {tail}"
    elif "screw" in said:
        out["section"] = said["screw"] + ("" if said["screw"][0] == "#" else {"inquote": '"', "mm": '"', "uni": "″"}.get(w["small"], " in"))
    elif "len" in said:
        if part.concept in ("fan", "shutter") and style not in METRIC:
            style = "inquote" if w["small"] in ("inquote", "uni") else "infrac"
        text, _, _ = write_len(part.facts["len"], style)
        if w.get("talk"):
            text += " long"
        out["len"] = text
    return out


def invert(noun):
    words = noun.split(" ")
    if len(words) < 2 or any(x in ("of", "for", "to", "in") for x in words) or "," in noun:
        return noun
    return f"{words[-1]},{' '.join(words[:-1])}"


def plural(noun):
    for stop in (" of ", " for ", ",", " w/ ", " with "):
        if stop in noun:
            a, b = noun.split(stop, 1)
            return plural(a) + stop + b
    if noun.endswith(("wire", "film", "poly", "plastic", "tape", "cloth", "fabric", "netting", "barrier", "mat", "screening", "s", "hardware")):
        return noun
    return noun + ("es" if noun.endswith(("ch", "sh", "x")) else "s")


TALK_HEAD = {"gpost": "that go in the ground", "stud": "for the ends", "hexbolt": "for the frame", "lock": "for the film", "wire": "to go in the channel",
             "tie": "across the bows", "door": "", "cover": "for over the top", "endfilm": "one per end", "sds": "", "nut": "to go with the bolts",
             "washer": "to go with the bolts", "peakplate": "where the halves meet", "brace": "for the corners", "snap": "for the roll-up",
             "eanchor": "one by the post", "pin": "for holding down the ground fabric"}


def assemble(w, lst, concept, noun, bits, qty):
    order = w["order"].split()
    if w.get("plural") and qty > 1:
        noun = plural(noun)
    if w.get("invert"):
        noun = invert(noun)
    if w.get("talk") and TALK_HEAD.get(concept) and lst["rng"].random() < .6:
        noun = f"{plural(noun) if qty > 1 else noun} {TALK_HEAD[concept]}"
    bits = dict(bits, noun=noun)
    if w.get("joinx"):  # sizes held together by x
        dims, out = [k for k in order if k in bits and k in ("dia", "gauge", "len", "section")], []
        if "gauge" in bits and "dia" not in bits:
            dims = [k for k in dims if k != "gauge"]
        joined, done = " x ".join(bits[k] for k in dims), False
        for k in order:
            if k in dims:
                if not done:
                    out.append(joined)
                done = True
            elif bits.get(k):
                out.append(bits[k])
        return w["sep"].join(out)
    return w["sep"].join(bits[k] for k in order if bits.get(k))


def abbreviate(text, table):
    for k, v in table.items():
        text = re.sub(rf"\b{re.escape(k)}\b", v, text, flags=re.I)
    return text


def slip(text, rate, rng):
    def one(m):
        word = m[0]
        if rng.random() >= rate or len(word) < 4:
            return word
        if word.lower() in SLIPS and rng.random() < .6:
            return rng.choice(SLIPS[word.lower()])
        i = rng.randrange(1, len(word) - 1)
        return rng.choice([word[:i] + word[i + 1:], word[:i] + word[i + 1] + word[i] + word[i + 2:], word[:i] + word[i] + word[i:]])
    return re.sub(r"[A-Za-z]+", one, text)


def scan(text, rate, rng):
    out, i = [], 0
    while i < len(text):
        c, two = text[i], text[i:i + 2]
        hit = rng.random() < rate
        before, after = text[i - 1:i], text[i + 1:i + 2]
        if hit and two == "rn":
            out.append("m")
            i += 2
            continue
        if hit and c == "m":
            out.append("rn")
        elif hit and c in "0Oo" and c != "o":
            out.append("O" if c == "0" else "0")
        elif hit and c in "1lI":
            out.append({"1": "l", "l": "1", "I": "l"}[c])
        elif hit and c == " " and not (before.isdigit() and after.isdigit()) and before.isalnum():
            pass  # a space is lost
        elif hit and c == '"':
            out.append("''")
        else:
            out.append(c)
        i += 1
    return "".join(out)


def finish_text(w, text, rng):
    if w.get("abbr"):
        text = abbreviate(text, ABBR[w["abbr"]])
    text = slip(text, w["typo"], rng)
    case = w["case"]
    if case == "mixed":
        case = rng.choice(["lower", "lower", "first", "upper", "title"])
    if case == "upper":
        text = text.upper()
    elif case == "lower":
        text = text.lower()
    elif case == "first":
        text = text[:1].upper() + text[1:]
    elif case == "title":
        text = re.sub(r"\b([a-z])(?=[a-z]{2})", lambda m: m[1].upper(), text)
    if w.get("ocr"):
        text = scan(text, w["ocr"], rng)
    return re.sub(r"\s+", " ", text).strip()


def code_of(w, lst, key, concept, part):
    kind = w.get("code")
    if not kind:
        return ""
    h = int(hashlib.sha256(f"{w['name']}|{key}".encode()).hexdigest(), 16)
    if kind == "serial":
        return str(10000 + h % 9000 * 10)
    if kind == "ht":
        return f"HT/{h % 900 + 100}"
    if kind == "art":
        return f"{h % 90 + 10}.{h // 90 % 9000 + 1000}"
    if kind == "letters":
        head = "".join(x[0] for x in re.findall(r"[a-z]+", lst["nouns"].get(concept, ("misc item", None))[0]))[:3].upper()
        return f"{head or 'M'}{h % 90 + 10}" if h % 4 else ""
    size = round(part.facts["len"] / 25.4 * 100) if part and "len" in part.facts else 0
    return f"{('TB' if part and 'dia' in part.facts else 'HW' if part else 'MS')}-{h // 7 % 900 + 100}-{size:05d}"


def write_list(number_, writer, order, family, parts, w):
    rng = random.Random(f"{SEED}/{number_}/{writer}/{order}")
    mine = random.Random(f"{SEED}/{writer}")
    lst = dict(rng=rng, ends={}, finish={}, nouns={}, swagelen=rng.random() < .3, metriclumber=mine.random() < .6, no=mine.random() < .4,
               mmbolt=mine.random() < .5, mil=("150 micron" if w["uk"] else mine.choice(["6 mil", "6mil", "6 mil UV", ".006"])),
               percent=mine.choice(["%", " pct", "% shade"]), wiredia=mine.choice([".079", '.079" dia', "0.079 in"]), )
    for k in ENDS:
        lst["ends"][k] = mine.choice(ENDS[k])
    for k in FINISH:
        words = [x for x in FINISH[k] if w["uk"] or x not in ("galvanised", "BZP", "aluminium")]
        lst["finish"][k] = mine.choice(words)
    habits = {}
    for c in NOUNS:  # a writer has two words for a thing, and mostly takes the first
        pool = noun_list(w, c)
        habits[c] = mine.sample(pool, min(2, len(pool)))
    for c in NOUNS:
        lst["nouns"][c] = habits[c][0] if rng.random() < .65 else habits[c][-1]
    rows, seen = [], {}
    supplied = rng.random() < .6
    present = set(c for p in parts for c in p.concepts)

    jobs = []
    for p in parts:
        if rng.random() < (.08 if len(parts) < 34 else .27):
            continue  # comes in another shipment
        if len(p.by_use) > 1 and rng.random() < .45:
            for c, n in p.by_use.items():
                jobs.append((p, c, n))
        else:
            c = p.concept if not p.by_use or "railch" in p.concepts else rng.choice(list(p.by_use))
            jobs.append((p, c, p.supplied if supplied else p.qty))

    for p, concept, qty in jobs:
        noun, may = lst["nouns"][concept]
        said = {}
        style = w["lens"]
        for k, v in p.facts.items():
            keep = w["keep"].get({"lumber": "len", "screw": "len", "sheet": "len", "pipes": "len", "section": "gauge", "mil": "gauge",
                                  "shade": "dia", "wiredia": "gauge"}.get(k, k), .5)
            if k == "len" and "screw" in p.facts:
                continue
            if rng.random() < keep:
                said[k] = v
        if "screw" in said and "len" in p.facts:
            said["len"] = p.facts["len"]

        def stated(style):
            t = dict(said)
            if "len" in t:
                st = style if "screw" not in t else "infrac"
                _, v, tol = write_len(p.facts["len"], st)
                t["len"] = (v, tol)
            return t
        # put facts back until one part is left, then a finer length, then another noun
        steps = [k for k in ("len", "screw", "lumber", "pipes", "sheet", "dia", "shade", "section", "gauge") if k in p.facts and k not in said]
        while fits(parts, may, stated(style)) != [p] and steps:
            k = steps.pop(0)
            said[k] = p.facts[k]
            if k == "len" and "screw" in p.facts:
                said["screw"] = p.facts["screw"]
        if fits(parts, may, stated(style)) != [p]:
            style = FINER.get(style, style)
        if fits(parts, may, stated(style)) != [p]:
            for noun, may in sorted(noun_list(w, concept), key=lambda x: len(x[1])):
                if fits(parts, may, stated(style)) == [p]:
                    break
        assert fits(parts, may, stated(style)) == [p], (order, p.mark, noun, said)
        bits = bits_of(w, rng, lst, p, said, style)
        raw = assemble(w, lst, concept, noun, bits, qty)
        text = finish_text(w, raw, rng)
        code = code_of(w, lst, f"{family}/{concept}/{sorted(p.facts.items(), key=str)}", concept, p)
        unit = lst.setdefault("unit", mine.choice(w["unit"]))
        if concept == "tape":
            unit = ("ROLL" if unit.isupper() else "roll") if unit else ""
        elif concept in ("cover", "shade", "gcover") and unit and rng.random() < .4:
            unit = "ROLL" if unit.isupper() else "roll"
        while (text, code) in seen and seen[text, code] != p.mark:  # a slip made two rows alike: write it clean
            bits = bits_of(w, rng, lst, p, p.facts, FINER.get(style, style))
            text = assemble(w, lst, concept, noun, bits, qty)
            assert (text, code) not in seen or seen[text, code] == p.mark, text
        seen[text, code] = p.mark
        rows.append([qty, unit, code, text, p.mark])

    n = max(1, round(len(rows) * rng.uniform(.085, .115)))
    choice = [t for t, no in STRAY if not present & set(no.split())]
    for text in rng.sample(choice, n):
        if w["uk"]:
            text = text.replace("feet", "ft")
        t = finish_text(w, text, rng)
        assert (t, "") not in seen
        code = code_of(w, lst, text, "none", None) if w.get("code") in ("serial", "erp", "art") and rng.random() < .6 else ""
        qty = 1 if rng.random() < .6 or text in ONCE else rng.choice([2, 4, 6, 10, 24])
        rows.insert(rng.randrange(len(rows) + 1), [qty, "" if rng.random() < .3 else lst["unit"], code, t, ""])
        seen[t, code] = ""
    if rng.random() < .35:  # some lists are by bundle, not by the order of the parts list
        cut = rng.randrange(len(rows))
        rows = rows[cut:] + rows[:cut]
    if rng.random() < .3:
        rng.shuffle(rows)
    return rows


def main():
    args = argparse.ArgumentParser()
    args.add_argument("--tallyard", default=str(HERE.parents[3] / "target/debug/tallyard"))
    program = args.parse_args().tallyard
    by_name = {w["name"]: w for w in WRITERS}
    orders = {o: parts_of(program, o) for o in sorted({o for _, o in LISTS})}
    table = []
    for i, (writer, order) in enumerate(LISTS, 1):
        family, parts = orders[order]
        for row in write_list(i, writer, order, family, parts, by_name[writer]):
            table.append([f"rule2-{i:02d}", order, f"rule:{writer}", *row])
    # the file's own checks
    words = {}
    for row in table:
        assert len(row) == 8
        assert row[7] == "" or any(p.mark == row[7] for p in orders[row[1]][1]), row
        key = (row[0], row[6].lower(), row[5].lower())
        assert words.setdefault(key, row[7]) == row[7], row
        assert row[6], row
    with open(HERE / "sealed2-rule.csv", "w", newline="", encoding="utf-8") as f:
        out = csv.writer(f, lineterminator="\n")
        out.writerow("list,order,writer,qty,unit,code,description,mark".split(","))
        out.writerows(table)
    count, stray = Counter(r[2] for r in table), Counter(r[2] for r in table if not r[7])
    for name in count:
        print(f"{name:20} {count[name]:4} rows, {stray[name]:3} without a mark")
    print(f"{len(table)} rows, {len(LISTS)} lists, {sum(stray.values())} without a mark")


if __name__ == "__main__":
    main()
