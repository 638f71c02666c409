//! Where the tables of a sheet are: headings over one line or two, and tables side by side.

use crate::grid::{Line, Sheet};
use crate::matching::describe::describe;
use crate::table::column_words::{Role, role};
use crate::table::columns::{Heading, heading};
use crate::table::quantity;
use crate::table::struck::is_struck;

/// Words above columns, and where they stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeadingAt {
    /// Index of the first of its lines.
    pub at: usize,
    /// How many lines it takes.
    pub lines: usize,
    /// The words.
    pub words: Heading,
}

/// Finds the headings of a sheet.
pub fn headings(lines: &[Line]) -> Vec<HeadingAt> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(line) = lines.get(at) {
        let words = heading(line).filter(|_| !is_struck(line));
        let Some(words) = words else {
            at += 1;
            continue;
        };
        let below = lines.get(at + 1).and_then(|below| joined(line, below));
        let lines = if below.is_some() { 2 } else { 1 };
        let words = below.unwrap_or(words);
        found.push(HeadingAt { at, lines, words });
        at += lines;
    }
    found
}

/// The heading that two lines make: "Qty" over "Shipped", "Length" over "(in)". Each word of the lower line must be
/// part of such a word above a column.
fn joined(above: &Line, below: &Line) -> Option<Heading> {
    let is_word = |(column, text): (usize, &str)| {
        let short = text.len() <= 24 && quantity::plain(text, "").is_none();
        let together = format!("{} {text}", above.cell(column));
        short && (role(together.trim()).is_some() || is_unit_in_brackets(text))
    };
    if below.filled().count() == 0 || !below.filled().all(is_word) {
        return None;
    }
    let width = above.cells.len().max(below.cells.len());
    let cells = (0..width)
        .map(|c| {
            format!("{} {}", above.cell(c), below.cell(c))
                .trim()
                .to_owned()
        })
        .collect();
    let words = heading(&Line {
        cells,
        ..Line::default()
    })?;
    let before = heading(above).map_or(0, |words| words.len());
    (words.len() >= before).then_some(words)
}

fn is_unit_in_brackets(text: &str) -> bool {
    let inner = text
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'));
    inner.is_some_and(|inner| {
        inner.len() <= 6 && inner.chars().all(|c| c.is_alphabetic() || c == '.')
    })
}

/// Tables side by side have the words above them near the top.
const HEADING_WITHIN: usize = 200;

/// Cuts a sheet whose tables stand side by side into one sheet for each; what stands above them stays with the first.
pub fn side_by_side(sheet: Sheet) -> Vec<Sheet> {
    let found = (sheet.lines.iter().take(HEADING_WITHIN)).position(|line| heading(line).is_some());
    let starts = match found {
        Some(at) => {
            heading(&sheet.lines[at]).and_then(|words| starts(&words).map(|starts| (at, starts)))
        }
        None => starts_without_words(&sheet.lines),
    };
    let Some((at, starts)) = starts else {
        return vec![sheet];
    };
    let mut parts: Vec<Sheet> = starts
        .iter()
        .map(|_| Sheet {
            name: sheet.name.clone(),
            lines: Vec::new(),
        })
        .collect();
    for (index, line) in sheet.lines.into_iter().enumerate() {
        if index < at {
            parts[0].lines.push(line);
            continue;
        }
        for (part, from) in starts.iter().enumerate() {
            let to = starts.get(part + 1).copied().unwrap_or(usize::MAX);
            let piece = columns_of(&line, *from, to);
            if piece.filled().next().is_some() {
                parts[part].lines.push(piece);
            }
        }
    }
    parts
}

/// Where two tables without words above them stand beside each other, and from which line on: a count and a thing, and
/// again a count and a thing. It must be known what each of the things is: a second count may also be of what was
/// ordered, with a remark beside it.
fn starts_without_words(lines: &[Line]) -> Option<(usize, Vec<usize>)> {
    let counts = |text: &str| quantity::plain(text, "").is_some_and(|q| q.doubt.is_none());
    let thing = |text: &str| describe(text).noun.is_some();
    let pattern = |line: &&Line| {
        let filled: Vec<(usize, &str)> = line.filled().collect();
        match filled[..] {
            [(_, a), (_, b), (c, d), (_, e)] if counts(a) && thing(b) && counts(d) && thing(e) => {
                Some(c)
            }
            _ => None,
        }
    };
    let sample = &lines[..lines.len().min(HEADING_WITHIN)];
    let found: Vec<usize> = sample.iter().filter_map(|line| pattern(&line)).collect();
    let second = *found.first()?;
    let same = found.iter().filter(|column| **column == second).count();
    let several = sample
        .iter()
        .filter(|line| line.filled().count() > 1)
        .count();
    let first = sample.iter().position(|line| pattern(&line).is_some())?;
    (same >= 3 && same * 3 >= several * 2).then(|| (first, vec![0, second]))
}

fn columns_of(line: &Line, from: usize, to: usize) -> Line {
    let to = to.min(line.cells.len());
    let cells = line
        .cells
        .get(from.min(to)..to)
        .unwrap_or_default()
        .to_vec();
    let mut piece = Line {
        cells,
        ..line.clone()
    };
    if let Some(seen) = &mut piece.seen {
        let to = to.min(seen.sure.len());
        seen.sure = seen.sure.get(from.min(to)..to).unwrap_or_default().to_vec();
    }
    piece
}

/// Where each of several equal tables begins, when the words above the columns say themselves again from some column
/// on: the same words in the same order, with a count and a thing among them.
fn starts(words: &Heading) -> Option<Vec<usize>> {
    let roles: Vec<Role> = words.iter().map(|(_, role, _)| *role).collect();
    let is = |roles: &[Role], wanted: &[Role]| roles.iter().any(|role| wanted.contains(role));
    let period = (2..=roles.len() / 2).find(|n| {
        let whole =
            roles.len().is_multiple_of(*n) && roles.chunks(*n).all(|chunk| chunk == &roles[..*n]);
        let counts = is(
            &roles[..*n],
            &[Role::Quantity, Role::Shipped, Role::Ordered],
        );
        let things = is(&roles[..*n], &[Role::Description, Role::Item, Role::Code]);
        whole && counts && things
    })?;
    let mut starts: Vec<usize> = words
        .iter()
        .step_by(period)
        .map(|(column, ..)| *column)
        .collect();
    // What stands left of the first word is of the first table.
    starts[0] = 0;
    Some(starts)
}
