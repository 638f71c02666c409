//! Marks that say "as above": `"`, do., ditto, same, as above but 8 ft.

use crate::matching::describe::{Said, describe};

/// Marks that stand for the whole cell above.
fn is_mark(lower: &str) -> bool {
    matches!(
        lower,
        "\"" | "''"
            | "”"
            | "“"
            | "″"
            | "〃"
            | "״"
            | ",,"
            | "\"\""
            | "-\"-"
            | "- \" -"
            | "-”-"
            | "-″-"
            | "-〃-"
            | "do"
            | "do."
            | "-do-"
            | "-do.-"
            | "ditto"
            | "dto"
            | "dto."
            | "same"
            | "idem"
            | "id."
            | "as above"
            | "same as above"
            | "as before"
            | "same again"
            | "\" \""
            | "\" \" \""
            | "as abv"
    )
}

/// Whether a cell is a mark for the cell above.
pub fn is_ditto(cell: &str) -> bool {
    may_be(cell) && cell.len() <= 16 && is_mark(cell.to_lowercase().as_str())
}

/// A cheap first look at each of very many cells: every mark begins with one of these.
fn may_be(cell: &str) -> bool {
    cell.starts_with(|c: char| {
        !c.is_ascii()
            || matches!(
                c,
                '"' | '\'' | ',' | '-' | 'd' | 'D' | 's' | 'S' | 'i' | 'I' | 'a' | 'A'
            )
    })
}

/// The words that a description begins with when it is the one above with something else: "ditto but 8 ft".
const STARTS: [&str; 14] = [
    "same as above",
    "as above",
    "as before",
    "same again",
    "ditto",
    "-do-",
    "do.",
    "do ",
    "dto.",
    "dto ",
    "same",
    "〃",
    "-\"-",
    "\" ",
];

/// Returns the description that a ditto stands for: that of the row above, with what is said anew in place of what was
/// said of the same. Nothing when the text is no ditto.
pub fn as_above(text: &str, above: &str) -> Option<String> {
    if !may_be(text) {
        return None;
    }
    if is_ditto(text) {
        return Some(above.to_owned());
    }
    let lower = text.to_ascii_lowercase();
    let start = STARTS.iter().find(|start| lower.starts_with(**start))?;
    let rest = text[start.len()..].trim_start();
    let apart = start.ends_with([' ', '.', '-', '〃'])
        || !lower[start.len()..].starts_with(char::is_alphanumeric);
    let rest = rest.trim_start_matches([',', ';', ':', '-', '–', '.', '"', ' ']);
    let rest = ["but in ", "but ", "except ", "in "]
        .iter()
        .find_map(|but| rest.strip_prefix(but))
        .unwrap_or(rest);
    if !apart || rest.is_empty() {
        return None;
    }
    // "Same day shipping" is no ditto: what follows says a measure, ends, a finish or a side.
    let said = describe(rest);
    if spans(&said).is_empty() && !has_side(rest) {
        return None;
    }
    let mut kept = above.to_owned();
    let before = describe(above);
    for (is_new, old) in spans_of_the_same(&said, &before) {
        if is_new {
            kept.replace_range(old.0..old.1, &" ".repeat(old.1 - old.0));
        }
    }
    let kept: Vec<&str> = kept.split_whitespace().collect();
    let kept = kept.join(" ");
    let kept = kept.trim_end_matches([' ', ',', 'x', '×', '-']);
    Some(format!("{kept}, {rest}"))
}

fn has_side(text: &str) -> bool {
    let lower = text.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    words.any(|word| {
        matches!(
            word,
            "left"
                | "right"
                | "lh"
                | "rh"
                | "top"
                | "bottom"
                | "short"
                | "long"
                | "single"
                | "double"
        )
    })
}

type Span = (usize, usize);

/// What a description says that can be said anew.
fn spans(said: &Said) -> Vec<Span> {
    facts(said).into_iter().flatten().collect()
}

fn facts(said: &Said) -> [Option<Span>; 7] {
    [
        said.length.as_ref().map(|fact| fact.span),
        said.across.as_ref().map(|fact| fact.span),
        said.gauge.as_ref().map(|fact| fact.span),
        said.ends.as_ref().map(|fact| fact.span),
        said.finish.as_ref().map(|fact| fact.span),
        said.size.as_ref().map(|fact| fact.span),
        said.thickness.as_ref().map(|fact| fact.span),
    ]
}

/// Each span of the text before, and whether the new text says the same kind of thing.
fn spans_of_the_same(new: &Said, before: &Said) -> Vec<(bool, Span)> {
    let (new, before) = (facts(new), facts(before));
    let both = new.iter().zip(before);
    both.filter_map(|(new, before)| Some((new.is_some(), before?)))
        .collect()
}
