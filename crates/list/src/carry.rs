//! What people said of rows, carried from a list to its corrected one.

use std::collections::BTreeMap;

use frame::Mark;

use crate::changes::{AlignedBy, Changes, Pair};
use crate::grid::Place;
use crate::row::{PackingList, Row, RowKey};

/// What a person said of a row of an earlier list, and what now holds of the row in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CarriedOver {
    /// The key of the row in the old list.
    pub from: RowKey,
    /// The mark, or none of this order.
    pub mark: Option<Mark>,
    /// Where the row stood that it was said of.
    pub at: Place,
    /// What that row said.
    pub of: String,
    /// The row's words are not what they were, so a person should look once.
    pub look: bool,
}

/// What a person said of a row that is not in the corrected list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftBehind {
    /// The key of that row.
    pub key: RowKey,
    /// The mark, or none of this order.
    pub mark: Option<Mark>,
    /// Where the row stood.
    pub at: Place,
    /// What it said.
    pub of: String,
    /// Why it was not carried over, in a sentence without its full stop.
    pub why: String,
}

/// What was carried over, and what was not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Carry {
    /// By the key of the row in the corrected list.
    pub over: BTreeMap<RowKey, CarriedOver>,
    /// In the order of the old list.
    pub left: Vec<LeftBehind>,
}

/// Carries what was said of rows of the old list to the new one: to the same row, and to a row whose words changed
/// where it is surely the same thing. What was said of keys that the old list does not have is not looked at.
pub fn carry(
    before: &PackingList,
    after: &PackingList,
    changes: &Changes,
    said: &BTreeMap<RowKey, Option<Mark>>,
) -> Carry {
    let mut pairs: BTreeMap<usize, &Pair> = BTreeMap::new();
    for pair in &changes.pairs {
        pairs.insert(pair.before, pair);
    }
    let mut carry = Carry::default();
    for (index, row) in before.rows.iter().enumerate() {
        let Some(mark) = said.get(&row.key) else {
            continue;
        };
        let pair = pairs.get(&index);
        let new = pair.and_then(|pair| Some((*pair, after.rows.get(pair.after)?)));
        match new {
            Some((pair, its)) if pair.sure => {
                let over = CarriedOver {
                    from: row.key,
                    mark: mark.clone(),
                    at: row.at.clone(),
                    of: words_of(row),
                    look: pair.by != AlignedBy::Key,
                };
                carry.over.insert(its.key, over);
            }
            found => carry.left.push(LeftBehind {
                key: row.key,
                mark: mark.clone(),
                at: row.at.clone(),
                of: words_of(row),
                why: found.map_or_else(
                    || "the row is gone".to_owned(),
                    |(pair, its)| why(pair, its),
                ),
            }),
        }
    }
    carry
}

fn why(pair: &Pair, its: &Row) -> String {
    match pair.differs {
        Some(what) => format!("{} now says another {what}", its.at),
        None => format!("its words are too far from those of {}", its.at),
    }
}

/// Returns what a row says, the code first: as it is shown to people, and kept with what a person said of it.
pub fn words_of(row: &Row) -> String {
    let words = match row.code.is_empty() {
        true => row.says(),
        false => format!("{} {}", row.code, row.says()),
    };
    words.chars().take(MOST_WORDS).collect()
}

/// So much of a row is kept, in characters.
const MOST_WORDS: usize = 500;
