//! The count that stands in one text with its thing: "12 ground posts", "Ground post - 12".

use measure::{Length, gauge};

use crate::quantity::{Quantity, read, start};

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
