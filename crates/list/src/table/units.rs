//! Units of counting, and what each does to a count. Common practice, no source.

/// What a unit does to a count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// Each is one piece.
    Pieces,
    /// Each is so many pieces.
    Times(i64),
    /// Each holds some pieces, how many must be said.
    Container,
    /// No count of pieces at all: feet, pounds.
    Measure,
}

/// Returns what a unit, in lower case, does to a count; nothing when the word is no unit. A coil and a roll are pieces:
/// one thing of stock with its length.
pub fn unit_counts(unit: &str) -> Option<Counts> {
    Some(match unit.trim_end_matches('.') {
        "" | "ea" | "each" | "pc" | "pcs" | "piece" | "pieces" | "no" | "nos" | "unit"
        | "units" | "un" | "ct" | "count" | "stk" | "sticks" | "stick" | "lgth" | "lgths"
        | "length" | "lengths" | "lg" | "sheet" | "sheets" | "sht" | "roll" | "rolls" | "rl"
        | "rls" | "coil" | "coils" | "item" | "items" | "pce" | "pces" | "qty" | "bar" | "bars"
        | "jt" | "joints" | "stück" | "stk." => Counts::Pieces,
        "pr" | "prs" | "pair" | "pairs" => Counts::Times(2),
        "doz" | "dz" | "dozen" | "dozens" | "dzn" => Counts::Times(12),
        "gr" | "gross" | "grs" => Counts::Times(144),
        "c" | "hundred" | "hundreds" | "hd" => Counts::Times(100),
        "thousand" | "thou" => Counts::Times(1_000),
        "bdl" | "bdls" | "bndl" | "bndls" | "bundle" | "bundles" | "bd" | "bds" | "box"
        | "boxes" | "bx" | "bxs" | "bag" | "bags" | "bg" | "bgs" | "ctn" | "ctns" | "carton"
        | "cartons" | "crate" | "crates" | "case" | "cases" | "cs" | "pkg" | "pkgs" | "pk"
        | "pks" | "pack" | "packs" | "package" | "packages" | "pkt" | "pkts" | "packet"
        | "packets" | "pallet" | "pallets" | "plt" | "skid" | "skids" | "set" | "sets" | "st"
        | "kit" | "kits" | "tube" | "tubes" | "jar" | "jars" | "lot" | "lots" | "strip"
        | "strips" | "bucket" | "buckets" => Counts::Container,
        "ft" | "feet" | "foot" | "lf" | "lft" | "lin" | "m" | "mtr" | "mtrs" | "metre"
        | "metres" | "meter" | "meters" | "yd" | "yds" | "lb" | "lbs" | "kg" | "kgs" | "sf"
        | "sqft" => Counts::Measure,
        _ => return None,
    })
}

/// Whether a text is a unit of counting and nothing else.
pub fn is_unit(text: &str) -> bool {
    !text.is_empty() && (unit_counts(&text.to_lowercase()).is_some() || hundred(text).is_some())
}

/// "per 100", "/100", "per C", "/M": what a count in such units is times.
pub fn hundred(unit: &str) -> Option<i64> {
    let lower = unit.trim().to_lowercase();
    let number = lower
        .strip_prefix("per ")
        .or_else(|| lower.strip_prefix('/'))?
        .trim()
        .replace(',', "");
    Some(match number.as_str() {
        "100" | "c" | "hundred" | "hd" => 100,
        "1000" | "thousand" => 1_000,
        "doz" | "dozen" | "12" => 12,
        "144" | "gross" => 144,
        _ => return None,
    })
}

/// The unit that a text begins with, in lower case, and what follows it; no unit is an empty word.
pub fn unit_word(after: &str) -> (String, &str) {
    let spaced = after.trim_start();
    let len = spaced
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(spaced.len());
    let word = spaced[..len].to_lowercase();
    let rest = spaced[len..].strip_prefix('.').unwrap_or(&spaced[len..]);
    // "12 x 5" is no unit, and "12 bar clamps" no bar: a word that the thing may begin with needs more.
    let ambiguous = matches!(
        word.as_str(),
        "bar"
            | "tube"
            | "tubes"
            | "joints"
            | "c"
            | "m"
            | "st"
            | "lin"
            | "lg"
            | "no"
            | "strip"
            | "strips"
    ) && !rest.trim().is_empty();
    if len == 0 || ambiguous || unit_counts(&word).is_none() {
        return (String::new(), after);
    }
    let rest_of = rest.trim_start();
    let rest = rest_of
        .strip_prefix("of ")
        .filter(|of| !of.starts_with(|c: char| c.is_ascii_digit()))
        .unwrap_or(rest);
    (word, rest)
}
