//! Descriptions that were cut off where the sender's field ends: "SCREW SELF DRILL 12 X 3/".

use std::collections::BTreeMap;

use crate::row::{PackingList, Row};

/// A field is no shorter than this, in characters.
const SHORTEST: usize = 12;

/// So many rows as long as the longest show that the field ends there.
const FULL_ROWS: usize = 3;

/// The rows of a list with what they say, without a number that the end of the field may have cut.
pub fn uncut(list: &PackingList) -> impl Iterator<Item = (&Row, String)> {
    let width = field_width(list);
    list.rows.iter().map(move |row| {
        let says = row.says();
        let is_full = row.details.is_empty() && width == Some(row.description.chars().count());
        let says = if is_full {
            without_its_end(&says).to_owned()
        } else {
            says
        };
        (row, says)
    })
}

/// How long the field of descriptions is, where several end at the same place and none goes on.
fn field_width(list: &PackingList) -> Option<usize> {
    let mut lengths: BTreeMap<usize, usize> = BTreeMap::new();
    for row in &list.rows {
        *lengths.entry(row.description.chars().count()).or_default() += 1;
    }
    let (longest, rows) = lengths.into_iter().next_back()?;
    (longest >= SHORTEST && rows >= FULL_ROWS).then_some(longest)
}

/// The last number goes, and the "x" before it, unless its unit shows that it is whole.
fn without_its_end(says: &str) -> &str {
    let kept = says.trim_end_matches(|c: char| c.is_ascii_digit() || "./-".contains(c));
    if kept.len() == says.len() {
        return says;
    }
    let whole = kept.ends_with(|c: char| c.is_alphanumeric() && !matches!(c, 'x' | 'X'));
    if whole {
        return says;
    }
    kept.trim_end_matches([' ', 'x', 'X', '#', '-'])
}
