//! What a line without a count of its own is: a total, a page stamp, a section, more of the row above.

use crate::grid::Line;
use crate::matching::describe::describe;
use crate::matching::words::words;
use crate::row::Row;
use crate::table::columns::{Columns, heading};
use crate::table::notes::is_note;
use crate::table::quantity;

/// A sum of rows says so first or last in a cell.
pub fn is_total(line: &Line) -> bool {
    const SUMS: [&str; 20] = [
        "total",
        "subtotal",
        "sum",
        "totals",
        "carried",
        "grand",
        "tot",
        "subtot",
        "brought",
        "forward",
        "summe",
        "zwischensumme",
        "gesamtsumme",
        "gesamt",
        "insgesamt",
        "somme",
        "totaux",
        "suma",
        "totaal",
        "subtotaal",
    ];
    line.filled().any(|(_, text)| {
        if !mentions(
            text,
            &[
                "tot", "sum", "carried", "grand", "forward", "gesamt", "somme",
            ],
        ) {
            return false;
        }
        let found = words(text);
        let is_sum = |index: usize| {
            found
                .get(index)
                .is_some_and(|word| SUMS.contains(&word.text.as_str()))
        };
        let sub_total = found.first().is_some_and(|word| word.text == "sub") && is_sum(1);
        !found.is_empty()
            && found.len() <= 8
            && (is_sum(0) || sub_total || (is_sum(found.len() - 1) && found.len() > 1))
    })
}

/// "Page 2 of 3", "printed 2026-03-04", "continued on next page".
pub fn is_page_stamp(line: &Line) -> bool {
    const SIGNS: [&str; 6] = ["page ", "pg ", "pg. ", "sheet ", "printed", "cont"];
    if !line.filled().any(|(_, text)| mentions(text, &SIGNS)) {
        return false;
    }
    let text = line.text().to_lowercase();
    if text.len() > 120 {
        return false;
    }
    let numbered = ["page ", "pg ", "pg. ", "sheet "].iter().any(|word| {
        let after = text
            .find(word)
            .map(|at| text[at + word.len()..].trim_start());
        let starts = text.starts_with(word)
            || text.contains(&format!("| {word}"))
            || text.contains(&format!("- {word}"));
        starts && after.is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit()))
    });
    let stamped = ["printed ", "printed:", "continued", "(continued", "cont'd"]
        .iter()
        .any(|word| text.starts_with(word));
    numbered || (stamped && line.filled().count() <= 2)
}

/// Whether a sign stands at a place of a text, in any case.
pub fn stands_at(text: &[u8], at: usize, sign: &[u8]) -> bool {
    text.get(at..at + sign.len())
        .is_some_and(|here| here.eq_ignore_ascii_case(sign))
}

/// Whether a text has one of some ASCII words in it, in any case: a cheap first look at each of very many lines.
fn mentions(text: &str, needles: &[&str]) -> bool {
    let bytes = text.as_bytes();
    needles.iter().any(|needle| {
        let mut windows = bytes.windows(needle.len());
        windows.any(|window| window.eq_ignore_ascii_case(needle.as_bytes()))
    })
}

/// One short cell, no sentence, with rows after it.
pub fn is_section(line: &Line, next: Option<&Line>) -> bool {
    let mut filled = line.filled();
    let (Some((_, text)), None) = (filled.next(), filled.next()) else {
        return false;
    };
    let letters = text.chars().filter(|c| c.is_alphabetic()).count();
    let upright = !text.starts_with(|c: char| c.is_lowercase() || matches!(c, '(' | '*' | '-'));
    let sentence = is_sentence(text) || text.len() > 80;
    let goes_on = next.is_some_and(|next| {
        next.filled().count() > 1 || !next.text().is_empty() || heading(next).is_some()
    });
    letters >= 2 && upright && !sentence && goes_on && !text.contains("__") && !is_form_field(text)
}

/// Whether a text says something rather than names it: it has a verb, a comma in a long line, or a full stop. Common
/// practice, no source.
pub fn is_sentence(text: &str) -> bool {
    const VERBS: [&str; 30] = [
        "is", "are", "was", "were", "be", "been", "has", "have", "had", "will", "must", "may",
        "can", "should", "ships", "comes", "come", "goes", "go", "arrives", "follows", "contains",
        "see", "wear", "keep", "use", "please", "do", "does", "let",
    ];
    let text = text.trim();
    let plain = text.to_lowercase();
    let all: Vec<&str> = plain
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|word| word.contains(char::is_alphabetic))
        .collect();
    let verb = all.len() >= 3 && all.iter().any(|word| VERBS.contains(word));
    let long = all.len() > 5 && text.contains(',');
    let stop = text.ends_with('.') && all.len() > 1;
    verb || long || stop || all.len() > 10
}

/// A line above the rows that names the paper or says something, told by its form: it has a number, a date or a code,
/// names a list, or is as long as a sentence. A section's name is a few words without any of these.
pub fn is_title(line: &Line) -> bool {
    let text = line.text();
    names_paper(line)
        || text.contains(|c: char| c.is_ascii_digit())
        || text.contains([',', '!', '?'])
        || words(&text).len() > 6
}

/// "Packing list", "Delivery note", "Order 40117": the paper itself.
pub fn names_paper(line: &Line) -> bool {
    const PAPER: [&str; 8] = [
        "list", "lists", "note", "order", "shipment", "shipped", "delivery", "slip",
    ];
    let found = words(&line.text());
    found.iter().any(|word| PAPER.contains(&word.text.as_str()))
}

/// "Packed by:", "Signature", "Note: ..." head nothing.
fn is_form_field(text: &str) -> bool {
    let lower = text.to_lowercase();
    let begins = ["signed", "date", "driver", "thank"];
    is_note(text) || begins.iter().any(|word| lower.starts_with(word))
}

/// More of the description above: only that column is filled, and it begins in the middle of a phrase.
pub fn is_continuation(line: &Line, columns: &Columns) -> bool {
    let only = line
        .filled()
        .all(|(column, _)| column == columns.description);
    let text = line.cell(columns.description);
    // In a list of bare lines a small letter begins a line like any other.
    let mid_phrase =
        |c: char| columns.quantity.is_some() && (c.is_lowercase() || c.is_ascii_digit());
    only && text.starts_with(|c: char| mid_phrase(c) || matches!(c, '(' | ',' | '&' | '+'))
}

/// One cell that goes on with the row above, whatever it begins with: the words for a row that has only a code, or the
/// rest of a description that ended open.
pub fn goes_on_below(row: &Row, line: &Line) -> bool {
    let mut filled = line.filled();
    let (Some((_, text)), None) = (filled.next(), filled.next()) else {
        return false;
    };
    if is_bare_code(&row.description) && row.code.is_empty() {
        return describe(text).noun.is_some();
    }
    let before = row.description.trim_end();
    let open = before.matches('(').count() > before.matches(')').count();
    let joint = [
        ",", " x", " -", "/", "&", " with", " for", " and", " of", "+",
    ];
    (open || joint.iter().any(|joint| before.ends_with(joint))) && row.details.is_empty()
}

/// A code and no words: "GP-60".
pub fn is_bare_code(text: &str) -> bool {
    let joined = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.' | '/');
    (2..=16).contains(&text.len())
        && text.chars().all(joined)
        && text.contains(|c: char| c.is_ascii_digit())
        && text.contains(|c: char| c.is_ascii_alphabetic())
}

/// "End wall kit": a name that ends in such a word, without a measure.
pub fn is_kit_name(text: &str) -> bool {
    let last = words(text).pop();
    let is_kit = last.is_some_and(|word| {
        matches!(
            word.text.as_str(),
            "kit" | "set" | "package" | "assembly" | "subkit"
        )
    });
    is_kit && !text.contains(|c: char| c.is_ascii_digit())
}

/// Whether lines are numbered within their text: "1. 26 ground posts", "2) half bows - 26", from one on.
pub fn are_numbered(lines: &[Line]) -> bool {
    let numbers: Vec<i64> = lines
        .iter()
        .filter_map(|line| Some(line_number(line)?.1))
        .collect();
    let in_order = numbers.windows(2).all(|pair| pair[1] == pair[0] + 1);
    numbers.len() >= 2 && numbers[0] == 1 && in_order && numbers.len() * 2 >= lines.len()
}

/// The line without the number that it begins with.
pub fn unnumbered(line: &Line) -> Option<Line> {
    let (column, _, rest) = line_number(line)?;
    let mut plain = line.clone();
    plain.cells[column] = rest.to_owned();
    Some(plain)
}

fn line_number(line: &Line) -> Option<(usize, i64, &str)> {
    let (column, text) = line.filled().next()?;
    let body = text.strip_prefix('(').unwrap_or(text);
    let digits = body.find(|c: char| !c.is_ascii_digit())?;
    let number = body[..digits].parse().ok().filter(|_| digits <= 4)?;
    let rest = body[digits..].strip_prefix([')', '.', ':'])?;
    // "1.5" is no number of a line.
    (rest.is_empty() || rest.starts_with(' ')).then(|| (column, number, rest.trim_start()))
}

/// What the other columns say of the thing, each with the unit or the word that stands above it.
pub fn details(line: &Line, columns: &Columns) -> String {
    let said = columns.details.iter().filter_map(|(column, label)| {
        let text = line.cell(*column);
        (!text.is_empty()).then(|| with_label(text, label))
    });
    let said = said.filter(|text| !text.is_empty());
    said.collect::<Vec<_>>().join(", ")
}

/// A bare number takes its meaning from the word above: 126.5 under "Length (in)" is 126.5 in long.
fn with_label(text: &str, label: &str) -> String {
    let bare = !text.chars().any(char::is_alphabetic) && text.chars().any(|c| c.is_ascii_digit());
    if !bare {
        return text.to_owned();
    }
    let label = label.to_lowercase();
    let has = |word: &str| {
        label
            .split(|c: char| !c.is_alphanumeric())
            .any(|part| part == word)
    };
    let marked = text.contains(['\'', '"', '′', '″', '’', '”']);
    let unit = match () {
        () if marked => "",
        () if has("ft") || has("feet") => " ft",
        () if has("in") || has("inches") || has("inch") => " in",
        () if has("mm") => " mm",
        () if has("m") || has("metres") || has("meters") => " m",
        () => "",
    };
    let meaning = if has("gauge") || has("ga") {
        " ga"
    } else if label.starts_with("len") || label.starts_with("lgth") {
        " long"
    } else if has("od") || label.starts_with("dia") || label.starts_with("o.d") {
        " OD"
    } else if label.starts_with("wall") || label.starts_with("thick") {
        " wall"
    } else if label.starts_with("width") {
        " wide"
    } else {
        ""
    };
    if quantity::read(text, "").is_some() && unit.is_empty() && meaning.is_empty() {
        // A whole number under "Notes" is a note, not a measure.
        return String::new();
    }
    format!("{text}{unit}{meaning}")
}
