//! Numbers that count the lines of a list and no things: "1 Ground stake 60" 26", "2 Ridge tube 15".
//! Common practice, no source.

use crate::grid::{Line, Warning};
use crate::row::Row;

/// Fewer lines that count from one may be so by chance.
const LEAST: usize = 3;

/// Fewer counts that go up in steps of one may be so by chance, where nothing else speaks for line numbers.
const LEAST_COUNTS: usize = 4;

/// A longer number that ends a line is a code or a date.
const MOST_DIGITS: usize = 5;

/// Sets the number that begins each line, and the count that ends it, in cells of their own where the first go from one
/// in steps of one over the whole list and all such lines end in a count. Each line is doubted: a number that ends it may
/// be a measure. Returns what is to be said of the whole list.
pub fn set_apart(lines: &mut [Line]) -> Option<Warning> {
    let begins = |line: &Line| one_cell(line).is_some_and(|text| number_first(text).is_some());
    let numbered: Vec<usize> = (0..lines.len()).filter(|n| begins(&lines[*n])).collect();
    if numbered.len() < LEAST || numbered.len() * 2 < lines.len() {
        return None;
    }
    let mut split = Vec::with_capacity(numbered.len());
    for (wanted, index) in (1..).zip(&numbered) {
        let (number, rest) = number_first(one_cell(&lines[*index])?)?;
        let (words, count) = count_last(rest).filter(|_| number == wanted)?;
        let cells = [number.to_string(), words.to_owned(), count.to_owned()];
        split.push(cells);
    }
    for (index, cells) in numbered.into_iter().zip(split) {
        let [number, _, count] = &cells;
        let doubt = format!("{number} was taken for the line's number, {count} for the count");
        lines[index].doubted(&doubt);
        lines[index].cells = cells.into();
    }
    Some(Warning {
        at: None,
        what: "the lines begin with 1, 2, 3 and so on: taken for line numbers, and what ends each line for its count"
            .to_owned(),
    })
}

fn one_cell(line: &Line) -> Option<&str> {
    let mut filled = line.filled();
    let (_, text) = filled.next()?;
    filled.next().is_none().then_some(text)
}

/// "12 Ridge tube": the number and the words after it.
fn number_first(text: &str) -> Option<(u32, &str)> {
    let (first, rest) = text.split_once(' ')?;
    let rest = rest.trim_start();
    let words = rest.starts_with(char::is_alphabetic);
    let digits = first.len() <= 4 && first.bytes().all(|b| b.is_ascii_digit());
    (digits && words).then(|| Some((first.parse().ok()?, rest)))?
}

/// "Ridge tube 15": the words and the bare number that ends them, which belongs to no measure before it.
fn count_last(text: &str) -> Option<(&str, &str)> {
    let (words, count) = text.rsplit_once(' ')?;
    let words = words.trim_end();
    let bare =
        (1..=MOST_DIGITS).contains(&count.len()) && count.bytes().all(|b| b.is_ascii_digit());
    let joint = [
        " x", " ×", " -", " of", " no", " no.", " ft", " size", "#", "/",
    ];
    let goes_on = joint.iter().any(|joint| words.ends_with(joint));
    (bare && !goes_on).then_some((words, count))
}

/// Doubts the counts of a list that go 1, 2, 3 as line numbers do.
pub fn doubt_counts(rows: &mut [Row], warnings: &mut Vec<Warning>) {
    let counts_lines = |(wanted, row): (i64, &Row)| {
        row.quantity == Some(wanted) && row.written.trim() == wanted.to_string()
    };
    if rows.len() < LEAST_COUNTS || !(1..).zip(rows.iter()).all(counts_lines) {
        return;
    }
    warnings.push(Warning {
        at: None,
        what: format!(
            "the counts go from 1 to {} in steps of one: they may be line numbers",
            rows.len()
        ),
    });
    for row in rows {
        let doubt = format!(
            "{} may be the line's number and no count",
            row.written.trim()
        );
        row.doubt = Some(match row.doubt.take() {
            Some(before) => format!("{before}; {doubt}"),
            None => doubt,
        });
    }
}
