//! How many: `12`, `12 ea`, `4 bdl x 5`, `2 pr`, `3-1/2 doz`, `26 (13 + 13)`, `~40`, `26 → 24`.
//!
//! A plain count is read here; other writings are taken apart in `written.rs` and come back to it.

use measure::Length;

use crate::table::coils;
use crate::table::number::{MOST, number};
use crate::table::packs;
use crate::table::units::{Counts, hundred, unit_counts, unit_word};
use crate::table::written;

/// How many pieces a row says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Quantity {
    /// Pieces: pairs and dozens multiplied out, bundles times what is in each.
    pub pieces: i64,
    /// The unit as the list writes it, in lower case; empty when it says none.
    pub unit: String,
    /// What stays unclear, such as how many pieces a bundle holds.
    pub doubt: Option<String>,
    /// What it says of each piece, such as "250 ft" of a coil; mostly nothing.
    pub of: String,
}

impl Quantity {
    /// Adds what is unclear to what was so before.
    pub fn doubted(mut self, doubt: impl Into<String>) -> Self {
        let doubt = doubt.into();
        self.doubt = Some(match self.doubt {
            Some(before) => format!("{doubt}; {before}"),
            None => doubt,
        });
        self
    }
}

/// Two bare numbers of two digits with a cross between them may be a size; "4 x 5" is so many packs.
const LEAST_OF_A_SIZE: i64 = 10;

/// Reads a cell that holds a quantity and nothing else; `unit` is what a column of its own says.
pub fn read(cell: &str, unit: &str) -> Option<Quantity> {
    let cell = cell.trim();
    plain(cell, unit).or_else(|| written::read(cell, unit))
}

/// Reads a cell that is a plain count.
pub fn plain(cell: &str, unit: &str) -> Option<Quantity> {
    let (quantity, rest) = start(cell, unit)?;
    rest.trim().is_empty().then_some(quantity)
}

/// The quantity at the start of a text and what follows it.
pub fn start<'a>(text: &'a str, unit_cell: &str) -> Option<(Quantity, &'a str)> {
    let (count, after) = number(text)?;
    let (mut unit, mut after) = unit_word(after);
    let named = !unit.is_empty();
    if !named {
        unit = unit_cell.trim().to_lowercase();
    }
    let counts = unit_counts(&unit);
    let (mut doubt, mut of) = (None, String::new());
    let mut pieces = count;
    let many = |n: i64| count.checked_mul(n).filter(|n| n.abs() <= MOST);
    match (counts, times(after, named)) {
        (Some(Counts::Container | Counts::Pieces), Some((each, rest))) => {
            pieces = many(each)?;
            after = rest;
            if unit.is_empty() && count.min(each) >= LEAST_OF_A_SIZE {
                doubt = Some(format!(
                    "{count} x {each} was taken as {pieces} pieces; it may be a size"
                ));
            }
        }
        (Some(Counts::Times(n)), _) => pieces = many(n)?,
        (Some(Counts::Container), None) => {
            doubt = Some(format!("how many pieces one {unit} holds is not said"))
        }
        (Some(Counts::Measure), _) => doubt = Some(format!("{count} {unit} is no count of pieces")),
        (None, _) => match (hundred(&unit), packs::unit_of(&unit)) {
            (None, Some(pack)) => {
                pieces = many(pack.each)?;
                doubt = pack.doubt(count, &unit);
            }
            // A price may be per hundred too: a large number is one of pieces.
            (Some(n), _) if count < n => {
                pieces = many(n)?;
                doubt = Some(format!("{count} {unit} was taken as {pieces} pieces"));
            }
            (Some(_), _) => {
                doubt = Some(format!("{count} with the unit {unit} was taken as pieces"))
            }
            (None, None) => match coils::length_of(&unit) {
                Some(length) => of = length.to_owned(),
                None => doubt = Some(format!("the unit {unit} is not known")),
            },
        },
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
            of,
        },
        after,
    ))
}

/// `x 5`, `× 5`, `@ 5`, and `of 5` where a unit stands before, after a count: so many in each.
fn times(after: &str, named: bool) -> Option<(i64, &str)> {
    let spaced = after.trim_start();
    let lower = spaced.to_ascii_lowercase();
    let marks = ["x", "×", "*", "@", "of "];
    let mark = marks
        .iter()
        // "12 of 26" is twelve of them, not so many times.
        .filter(|mark| named || **mark != "of ")
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
