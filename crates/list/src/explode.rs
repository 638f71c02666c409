//! A row that stands for several marks: a kit, a set, a left and a right.

use frame::Mark;

use crate::evidence::{Reason, RowFacts};
use crate::row::Row;

/// A sub-kit of the order: what the sender packs under one name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kit {
    /// Its name, such as "end wall".
    pub name: String,
    /// Its marks, each with the pieces that one such kit holds.
    pub holds: Vec<(Mark, i64)>,
}

/// A row that stands for several marks.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Exploded {
    /// Each mark with its pieces, over the whole row.
    pub holds: Vec<(Mark, i64)>,
    /// From 0 (sure) to 1.
    pub doubt: f64,
    /// Why.
    pub reasons: Vec<Reason>,
}

/// Returns what a row holds that names a whole sub-kit, such as "end wall kit". It then stands for no single mark, and
/// the other rows are matched without it.
pub(crate) fn explode(row: &Row, said: &RowFacts, kits: &[Kit]) -> Option<Exploded> {
    let says_kit = ["kit", "set", "pack", "package"]
        .iter()
        .any(|word| said.said.words.contains(*word));
    let words = row.says().to_lowercase();
    let kit = kits
        .iter()
        .find(|kit| says_kit && words.contains(&kit.name.to_lowercase()))?;
    let times = row.quantity.unwrap_or(1);
    let each = |(mark, pieces): &(Mark, i64)| (mark.clone(), pieces.saturating_mul(times));
    let words = format!("it names the sub-kit {}", kit.name);
    Some(Exploded {
        holds: kit.holds.iter().map(each).collect(),
        doubt: 0.1,
        reasons: vec![Reason { weight: 0.0, words }],
    })
}
