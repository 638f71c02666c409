//! Readings that do not fit what the piece seems to be.

use measure::System;

use crate::evidence::Evidence;
use crate::kit::{Hypothesis, Kit};
use crate::reading::{Reading, Size};
use crate::way::Shown;
use crate::words;

/// A reading that does not fit the likeliest candidate, so that a slip is likelier than not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Odd {
    /// Its place among the readings.
    pub reading: usize,
    /// "its length would be 1 ft more: measure it again".
    pub words: String,
}

/// A look that fits the likeliest candidate less often than this is odd.
pub(crate) const SELDOM: f64 = 0.08;

pub(crate) fn odd(kit: &Kit, of: &Hypothesis, readings: &[Reading]) -> Vec<Odd> {
    (readings.iter().enumerate())
        .filter_map(|(number, reading)| {
            let words = match Shown::of(reading) {
                Some(shown) => odd_size(kit.system, of, reading, shown)?,
                None => odd_look(kit, of, reading)?,
            };
            Some(Odd {
                reading: number,
                words,
            })
        })
        .collect()
}

fn odd_size(system: System, of: &Hypothesis, reading: &Reading, shown: Shown) -> Option<String> {
    let spread = shown.way.of_part(&of.readable)?;
    let all = shown.chance(spread.mean, spread.sd);
    let right = shown.chance_right(spread.mean, spread.sd);
    (right < 0.5 * all).then_some(())?;
    let name = match reading {
        Reading::Size { of, .. } => words::size(*of),
        _ => "mass",
    };
    let should = words::amount(shown.way, spread.mean, system);
    let marks = words::either(&of.marks);
    Some(format!(
        "the {name} does not fit {marks}, which should read {should}: measure it again"
    ))
}

fn odd_look(kit: &Kit, of: &Hypothesis, reading: &Reading) -> Option<String> {
    let evidence = Evidence::of(std::slice::from_ref(reading), &kit.looks);
    let chance = evidence.chance_of_looks(Some(of), &kit.looks);
    let what = match reading {
        Reading::Kind { .. } => "kind of thing",
        Reading::Looks { .. } => "look",
        // One end may be either: a look that neither has is odd.
        Reading::End { .. } => "end",
        Reading::Bend { .. } => "bend",
        Reading::Coating { .. } => "coating",
        Reading::Holes { .. } => "count of holes",
        Reading::Size {
            of: Size::Unknown, ..
        }
        | Reading::Unknown
        | Reading::Size { .. }
        | Reading::Mass { .. } => {
            return None;
        }
    };
    let marks = words::either(&of.marks);
    (chance < SELDOM).then(|| format!("the {what} does not fit {marks}: look again"))
}
