//! How many: `12`, `12 ea`, `4 bdl x 5`, `2 pr`, `1 doz`, and the count that stands in one cell with its thing.

use measure::{Length, gauge};

/// The most pieces that one row may say; more is a slip or an attack.
const MOST: i64 = 1_000_000_000;

/// How many pieces a row says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// Pieces: pairs and dozens multiplied out, bundles times what is in each.
    pub pieces: i64,
    /// The unit as the list writes it, in lower case; empty when it says none.
    pub unit: String,
    /// What stays unclear, such as how many pieces a bundle holds.
    pub doubt: Option<String>,
}

/// What a unit does to a count.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Counts {
    /// Each is one piece.
    Pieces,
    /// Each is so many pieces.
    Times(i64),
    /// Each holds some pieces, how many must be said.
    Container,
    /// No count of pieces at all: feet, pounds.
    Measure,
}

fn unit_counts(unit: &str) -> Option<Counts> {
    Some(match unit.trim_end_matches('.') {
        "" | "ea" | "each" | "pc" | "pcs" | "piece" | "pieces" | "no" | "nos" | "unit"
        | "units" | "un" | "ct" | "count" | "stk" | "sticks" | "stick" | "lgth" | "lgths"
        | "length" | "lengths" | "lg" | "sheet" | "sheets" | "sht" | "roll" | "rolls" | "rl"
        | "item" | "items" | "pce" | "pces" | "qty" | "bar" | "bars" | "jt" | "joints" => {
            Counts::Pieces
        }
        "pr" | "prs" | "pair" | "pairs" => Counts::Times(2),
        "doz" | "dz" | "dozen" | "dzn" => Counts::Times(12),
        "gr" | "gross" => Counts::Times(144),
        "c" => Counts::Times(100),
        "bdl" | "bdls" | "bndl" | "bundle" | "bundles" | "bd" | "box" | "boxes" | "bx" | "bag"
        | "bags" | "bg" | "ctn" | "ctns" | "carton" | "cartons" | "crate" | "crates" | "case"
        | "cases" | "cs" | "coil" | "coils" | "pkg" | "pkgs" | "pk" | "pack" | "packs"
        | "package" | "packages" | "pkt" | "pallet" | "pallets" | "plt" | "skid" | "skids"
        | "set" | "sets" | "st" | "kit" | "kits" | "tube" | "tubes" | "jar" | "lot" | "lots" => {
            Counts::Container
        }
        "ft" | "feet" | "foot" | "lf" | "lin" | "m" | "mtr" | "yd" | "lb" | "lbs" | "kg" | "sf"
        | "sqft" => Counts::Measure,
        _ => return None,
    })
}

/// Whether a text is a unit of counting and nothing else.
pub fn is_unit(text: &str) -> bool {
    !text.is_empty() && unit_counts(&text.to_lowercase()).is_some()
}

/// Reads a cell that holds a quantity and nothing else; `unit` is what a column of its own says.
pub fn read(cell: &str, unit: &str) -> Option<Quantity> {
    let (quantity, rest) = start(cell.trim(), unit)?;
    rest.trim().is_empty().then_some(quantity)
}

/// Takes a quantity off the start of a line: "12 ground posts", "(12) ground posts", "4 bdl x 5 ground post".
pub fn split_start(line: &str) -> Option<(Quantity, &str)> {
    let line = line
        .trim()
        .trim_start_matches(['-', '*', '•', '·'])
        .trim_start();
    let opened = line.strip_prefix('(');
    let body = opened.unwrap_or(line);
    if opened.is_none() && is_measure(body) {
        return None;
    }
    let (quantity, rest) = start(body, "")?;
    let rest = match opened {
        Some(_) => rest.trim_start().strip_prefix(')')?,
        None => rest,
    };
    let times = rest
        .strip_prefix(['x', 'X', '×'])
        .filter(|after| after.starts_with(' '));
    let rest = times.unwrap_or(rest);
    let parted = rest.starts_with([' ', '\t', ',', ':', '-', '–', ')']) || opened.is_some();
    let rest = rest
        .trim_start_matches([' ', '\t', ',', ':', '-', '–', '|', 'x', '×'])
        .trim_start();
    let says_something = rest.chars().filter(|c| c.is_alphabetic()).count() >= 2;
    (parted && says_something).then_some((quantity, rest))
}

/// Takes a quantity off the end of a line: "Ground post - 12", "ground post x 12", "ground post (12 ea)", "qty 12".
pub fn split_end(line: &str) -> Option<(Quantity, &str)> {
    let line = line.trim().trim_end_matches(['.', ';']);
    let (body, closed) = match line.strip_suffix(')') {
        Some(inner) => (inner, true),
        None => (line, false),
    };
    const OPENERS: [&str; 12] = [
        "qty:",
        "qty.",
        "qty",
        "quantity:",
        "quantity",
        " x ",
        " × ",
        " - ",
        " – ",
        ": ",
        "= ",
        "(",
    ];
    let lower = body.to_ascii_lowercase();
    let (at, opener) = OPENERS
        .iter()
        .filter(|opener| !closed || opener.contains('(') || opener.contains("q"))
        .filter_map(|opener| lower.rfind(opener).map(|at| (at, *opener)))
        .max_by_key(|(at, opener)| at + opener.len())?;
    let number = body[at + opener.len()..].trim();
    // "tube x 5 ft" and "bolt 5/16 x 3": the last number may be a measure. A bare "x 3" after a number is.
    let measure_before = opener.trim() == "x"
        && body[..at]
            .trim_end()
            .ends_with(|c: char| c.is_ascii_digit() || "\"'½¼¾".contains(c));
    if is_measure(number) || measure_before {
        return None;
    }
    let quantity = read(number, "")?;
    let rest = body[..at]
        .trim_end_matches([' ', ',', ';', '-', '–', '(', ':'])
        .trim();
    let says_something = rest.chars().filter(|c| c.is_alphabetic()).count() >= 2;
    says_something.then_some((quantity, rest))
}

/// Whether a text that begins with a number begins with a measure: a length, a gauge, a size with a fraction.
fn is_measure(text: &str) -> bool {
    let digits = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let after = &text[digits..];
    let spaced = after.trim_start();
    let fraction = |t: &str| {
        let top = t.find(|c: char| !c.is_ascii_digit()).unwrap_or(t.len());
        top > 0
            && t[top..].starts_with('/')
            && t[top + 1..].starts_with(|c: char| c.is_ascii_digit())
    };
    let whole: u32 = text[..digits].parse().unwrap_or(u32::MAX);
    let word = spaced
        .find(|c: char| !c.is_alphabetic())
        .map_or(spaced, |end| &spaced[..end]);
    let lumber = matches!(whole, 2 | 4) && {
        let next = spaced.trim_start_matches(['x', 'X', '×', ' ']);
        let n = next
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(next.len());
        next.len() < spaced.len()
            && matches!(&next[..n], "4" | "6" | "8" | "10" | "12")
            && !next[n..].trim_start().starts_with(['e', 'p'])
    };
    // A quantity with a unit that is also one of length: "12 lengths" is read by its own reader, "12 ft" is a length.
    (after.starts_with(['/', '.', '"', '\'', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']) && digits > 0)
        || (after.starts_with('-') && after[1..].starts_with(|c: char| c.is_ascii_digit()))
        || Length::read_start(text, None).is_some()
        || gauge::read_start(text).is_some()
        || matches!(word.to_lowercase().as_str(), "mil" | "mils" | "gage")
        || (fraction(spaced) && whole <= 3)
        || lumber
}

/// The quantity at the start of a text and what follows it.
fn start<'a>(text: &'a str, unit_cell: &str) -> Option<(Quantity, &'a str)> {
    let (count, after) = number(text)?;
    let (mut unit, mut after) = unit_word(after);
    if unit.is_empty() {
        unit = unit_cell.trim().to_lowercase();
    }
    let counts = unit_counts(&unit);
    let mut doubt = None;
    let mut pieces = count;
    match (counts, times(after)) {
        (Some(Counts::Container | Counts::Pieces), Some((each, rest))) => {
            pieces = count.checked_mul(each).filter(|n| n.abs() <= MOST)?;
            after = rest;
        }
        (Some(Counts::Times(n)), _) => pieces = count.checked_mul(n).filter(|n| n.abs() <= MOST)?,
        (Some(Counts::Container), None) => {
            doubt = Some(format!("how many pieces one {unit} holds is not said"))
        }
        (Some(Counts::Measure), _) => doubt = Some(format!("{count} {unit} is no count of pieces")),
        (None, _) => doubt = Some(format!("the unit {unit} is not known")),
        (Some(Counts::Pieces), None) => {}
    }
    if pieces < 0 {
        doubt = Some("the quantity is less than nothing".to_owned());
    }
    Some((
        Quantity {
            pieces,
            unit,
            doubt,
        },
        after,
    ))
}

/// A whole number: `12`, `1,200`, `1 200` no, `12.0`, `-3`.
fn number(text: &str) -> Option<(i64, &str)> {
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let mut end = unsigned
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(unsigned.len());
    if end == 0 || end > 12 {
        return None;
    }
    let mut digits = unsigned[..end].to_owned();
    while let Some(group) = unsigned[end..].strip_prefix(',')
        && group.len() >= 3
        && group.as_bytes()[..3].iter().all(u8::is_ascii_digit)
        && !group[3..].starts_with(|c: char| c.is_ascii_digit())
        && digits.len() <= 9
    {
        digits.push_str(&group[..3]);
        end += 4;
    }
    let mut rest = &unsigned[end..];
    if let Some(decimals) = rest.strip_prefix('.') {
        let zeros = decimals.find(|c| c != '0').unwrap_or(decimals.len());
        if decimals[zeros..].starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        rest = &decimals[zeros..];
    }
    let count: i64 = digits.parse().ok().filter(|n| *n <= MOST)?;
    Some((
        if unsigned.len() < text.len() {
            -count
        } else {
            count
        },
        rest,
    ))
}

fn unit_word(after: &str) -> (String, &str) {
    let spaced = after.trim_start();
    let len = spaced
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(spaced.len());
    let word = spaced[..len].to_lowercase();
    let rest = spaced[len..].strip_prefix('.').unwrap_or(&spaced[len..]);
    // "12 x 5" is no unit, and "12 bar clamps" no bar: a word that the thing may begin with needs more.
    let ambiguous = matches!(
        word.as_str(),
        "bar" | "tube" | "tubes" | "joints" | "c" | "m" | "st" | "lin" | "lg" | "no"
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

/// `x 5`, `× 5`, `of 5`, `@ 5`, `/ 5 ea` after a count: so many in each.
fn times(after: &str) -> Option<(i64, &str)> {
    let spaced = after.trim_start();
    let lower = spaced.to_lowercase();
    let mark = ["x", "×", "*", "@", "of "]
        .iter()
        .find(|mark| lower.starts_with(**mark))?;
    let (each, rest) = number(spaced.get(mark.len()..)?.trim_start())?;
    if each <= 0 || rest.starts_with(['/', '-', '"', '\'', '.', '½', '¼', '¾']) {
        return None;
    }
    let (unit, after_unit) = unit_word(rest);
    let known = matches!(unit_counts(&unit), Some(Counts::Pieces));
    if !known {
        // "4 x 5 ft tube": the five is a length.
        let measure = Length::read_start(spaced.get(mark.len()..)?.trim_start(), None).is_some();
        return (!measure && unit.is_empty()).then_some((each, rest));
    }
    Some((each, after_unit))
}
