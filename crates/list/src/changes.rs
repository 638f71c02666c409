//! What changed from a list to its corrected one: its rows aligned with the rows before, and what differs of each.
//!
//! Rows with the same key are the same row. What is left over is aligned as one optimal assignment, in which the same
//! code weighs most, then near words, then the same sub-kit and the same number of pieces. Each row of either list is
//! aligned with one of the other, is gone, or was added: the three together are all rows.

use std::collections::{BTreeMap, BTreeSet};

use crate::assign::{Cost, Problem, assigned};
use crate::carry::words_of;
use crate::limits::MAX_ALIGNED_ROWS;
use crate::matching::describe::{Said, describe};
use crate::matching::evidence::bare_code;
use crate::matching::same_thing;
use crate::row::{PackingList, Row, RowKey};

/// How two rows were found to be the same one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AlignedBy {
    /// They say the same, word for word.
    Key,
    /// The sender's code is the same.
    Code,
    /// Their words are near.
    Words,
}

/// A row of the old list and the row of the new one that takes its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Index of the row in the old list.
    pub before: usize,
    /// Index of the row in the new one.
    pub after: usize,
    /// How it was found.
    pub by: AlignedBy,
    /// What the two say differently of the thing itself, in a word such as "length".
    pub differs: Option<&'static str>,
    /// Surely the same thing, so that what a person said of the one holds of the other.
    pub sure: bool,
}

/// One change, by the index of its row in the old list, the new one, or both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A row that was not there.
    Added(usize),
    /// A row that is no longer there.
    Gone(usize),
    /// Another number of pieces.
    Quantity(usize, usize),
    /// Other words or another code.
    Words(usize, usize),
    /// It stands under another sub-kit.
    Moved(usize, usize),
    /// It comes in another shipment.
    Shipment(usize, usize),
    /// Another unit.
    Unit(usize, usize),
    /// Another number to follow, or ordered.
    BackOrder(usize, usize),
}

/// What a corrected list changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes {
    /// The rows that are in both, in the order of the new list.
    pub pairs: Vec<Pair>,
    /// What changed: of rows in both and rows added in the order of the new list, then the rows that are gone.
    pub all: Vec<Change>,
    /// So many rows are new that only equal codes were looked for, no near words.
    pub too_many: bool,
}

/// A change in words, for a table of changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What changed, such as "quantity".
    pub what: &'static str,
    /// How it was; empty for a row that was added.
    pub was: String,
    /// How it is; empty for a row that is gone.
    pub is: String,
}

impl Change {
    /// Returns the index of its row in the old list and in the new one.
    pub fn rows(&self) -> (Option<usize>, Option<usize>) {
        match *self {
            Change::Added(after) => (None, Some(after)),
            Change::Gone(before) => (Some(before), None),
            Change::Quantity(before, after)
            | Change::Words(before, after)
            | Change::Moved(before, after)
            | Change::Shipment(before, after)
            | Change::Unit(before, after)
            | Change::BackOrder(before, after) => (Some(before), Some(after)),
        }
    }

    /// Returns the change in words. The lists are those that it was found in.
    pub fn told(&self, before: &PackingList, after: &PackingList) -> Told {
        let (old, new) = self.rows();
        let say = |list: &PackingList, row: Option<usize>, of: fn(&Row) -> String| {
            row.and_then(|row| list.rows.get(row))
                .map_or_else(String::new, of)
        };
        let (what, of): (_, fn(&Row) -> String) = match self {
            Change::Added(_) => ("added", pieces),
            Change::Gone(_) => ("gone", pieces),
            Change::Quantity(..) => ("quantity", pieces),
            Change::Words(..) => ("words", words_of),
            Change::Moved(..) => ("sub-kit", |row| or_none(&row.sub_kit)),
            Change::Shipment(..) => ("shipment", |row| or_none(&row.shipment)),
            Change::Unit(..) => ("unit", |row| or_none(&row.unit)),
            Change::BackOrder(..) => ("to follow", to_follow),
        };
        Told {
            what,
            was: say(before, old, of),
            is: say(after, new, of),
        }
    }
}

fn or_none(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() { "none" } else { text }.to_owned()
}

fn pieces(row: &Row) -> String {
    match row.quantity {
        Some(n) => n.to_string(),
        None if row.written.is_empty() => "none".to_owned(),
        None => format!("? {}", row.written),
    }
}

fn to_follow(row: &Row) -> String {
    let number = |n: Option<i64>| n.map_or_else(|| "none".to_owned(), |n| n.to_string());
    match row.ordered {
        None => number(row.backordered),
        Some(ordered) => format!("{} of {ordered} ordered", number(row.backordered)),
    }
}

/// Holds a corrected list against the one before.
pub fn changes(before: &PackingList, after: &PackingList) -> Changes {
    let (mut pairs, rest_before, rest_after) = by_key(before, after);
    let too_many = rest_before.len().max(rest_after.len()) > MAX_ALIGNED_ROWS;
    pairs.extend(if too_many {
        by_single_code(before, after, &rest_before, &rest_after)
    } else {
        by_likeness(before, after, &rest_before, &rest_after)
    });
    pairs.sort_by_key(|pair| pair.after);
    let all = differences(before, after, &pairs);
    Changes {
        pairs,
        all,
        too_many,
    }
}

/// Rows with the same key, and the rows of each list that are left over.
fn by_key(before: &PackingList, after: &PackingList) -> (Vec<Pair>, Vec<usize>, Vec<usize>) {
    let mut old: BTreeMap<RowKey, usize> = BTreeMap::new();
    for (index, row) in before.rows.iter().enumerate() {
        old.entry(row.key).or_insert(index);
    }
    let (mut pairs, mut rest_after) = (Vec::new(), Vec::new());
    for (after, row) in after.rows.iter().enumerate() {
        match old.remove(&row.key) {
            Some(before) => pairs.push(Pair {
                before,
                after,
                by: AlignedBy::Key,
                differs: None,
                sure: true,
            }),
            None => rest_after.push(after),
        }
    }
    let taken: BTreeSet<usize> = pairs.iter().map(|pair| pair.before).collect();
    let rest_before = (0..before.rows.len()).filter(|row| !taken.contains(row));
    (pairs, rest_before.collect(), rest_after)
}

/// A row that is to be aligned.
struct Left {
    index: usize,
    code: String,
    /// All its words in lower case, one space between them.
    text: String,
    words: BTreeSet<String>,
    said: Said,
}

impl Left {
    fn new(list: &PackingList, index: usize) -> Self {
        let row = &list.rows[index];
        let text = row.says().to_lowercase();
        let words = text.split(|c: char| !c.is_alphanumeric());
        Self {
            index,
            code: bare_code(&row.code),
            words: (words.filter(|word| !word.is_empty()).map(String::from)).collect(),
            text: text.split_whitespace().collect::<Vec<_>>().join(" "),
            said: describe(&row.says()),
        }
    }

    /// How alike the words are, from 0 to 1: pairs of letters in common (Dice).
    fn likeness(&self, other: &Left) -> f64 {
        match self.text == other.text {
            true => 1.0,
            false => strsim::sorensen_dice(&self.text, &other.text),
        }
    }

    fn same_code(&self, other: &Left) -> bool {
        !self.code.is_empty() && self.code == other.code
    }

    fn pair(&self, other: &Left) -> Pair {
        let likeness = self.likeness(other);
        let differs = same_thing::differs(&self.said, &other.said);
        let by = match self.same_code(other) {
            true => AlignedBy::Code,
            false => AlignedBy::Words,
        };
        // Numbers are looked at by themselves: "bag 3" and "bag 4" are near in letters only.
        let numbers = |left: &Left| -> Vec<String> {
            let with_digits = left.words.iter().filter(|word| has_digit(word));
            with_digits.cloned().collect()
        };
        let sure = differs.is_none()
            && match by {
                AlignedBy::Code => true,
                _ => likeness >= SURELY_ALIKE && numbers(self) == numbers(other),
            };
        Pair {
            before: self.index,
            after: other.index,
            by,
            differs,
            sure,
        }
    }
}

fn has_digit(word: &str) -> bool {
    word.bytes().any(|byte| byte.is_ascii_digit())
}

/// Words less alike than this are another row. Judged by lists of our own, as are the figures below.
const ALIKE: f64 = 0.6;

/// Words this much alike, with the same numbers and nothing that differs, are surely the same row.
const SURELY_ALIKE: f64 = 0.75;

/// What the same code, the same sub-kit and the same number of pieces add to the likeness of words.
const SAME_CODE: f64 = 1.0;
const SAME_SUB_KIT: f64 = 0.15;
const SAME_QUANTITY: f64 = 0.1;

/// What a plain difference of the thing itself takes off.
const DIFFERS: f64 = 0.25;

/// So many of the nearest rows are weighed for each row.
const NEAREST: usize = 8;

fn by_likeness(
    before: &PackingList,
    after: &PackingList,
    rest_before: &[usize],
    rest_after: &[usize],
) -> Vec<Pair> {
    let old: Vec<Left> = (rest_before.iter().map(|row| Left::new(before, *row))).collect();
    let new: Vec<Left> = (rest_after.iter().map(|row| Left::new(after, *row))).collect();
    let near = nearest(&old, &new);
    let cost = |left: &Left, other: &Left| -> Option<Cost> {
        let likeness = left.likeness(other);
        let (row, its) = (&before.rows[left.index], &after.rows[other.index]);
        let differs = same_thing::differs(&left.said, &other.said).is_some();
        let taken_off = if differs { DIFFERS } else { 0.0 };
        if !left.same_code(other) && likeness - taken_off < ALIKE {
            return None;
        }
        let adds = [
            (left.same_code(other), SAME_CODE),
            (same_words(&row.sub_kit, &its.sub_kit), SAME_SUB_KIT),
            (row.quantity == its.quantity, SAME_QUANTITY),
        ];
        let added: f64 = adds.iter().filter(|(is, _)| *is).map(|(_, add)| add).sum();
        let worth = likeness + added - taken_off;
        Some(-(worth.max(0.0) * 1e6).round() as Cost - 1)
    };
    let rows = old.iter().zip(&near).map(|(left, near)| {
        let choices = near.iter().map(|&at| (at, cost(left, &new[at])));
        choices.filter_map(|(at, cost)| Some((at, cost?))).collect()
    });
    let problem = Problem {
        rows: rows.collect(),
        fixed: vec![0; new.len()],
        prices: vec![0],
    };
    let of_row = assigned(&problem).into_iter().enumerate();
    of_row
        .filter_map(|(left, at)| Some(old[left].pair(&new[at?])))
        .collect()
}

/// For each old row the new rows that may be it: all with its code, and those that have most of its rare words.
fn nearest(old: &[Left], new: &[Left]) -> Vec<Vec<usize>> {
    let mut with_word: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut with_code: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, left) in new.iter().enumerate() {
        for word in &left.words {
            with_word.entry(word).or_default().push(at);
        }
        if !left.code.is_empty() {
            with_code.entry(&left.code).or_default().push(at);
        }
    }
    let none = Vec::new();
    let near = |left: &Left| {
        let mut shared: BTreeMap<usize, f64> = BTreeMap::new();
        for word in &left.words {
            let having = with_word.get(word.as_str()).unwrap_or(&none);
            let worth = 1.0 / having.len().max(1) as f64;
            for at in having {
                *shared.entry(*at).or_default() += worth;
            }
        }
        let mut ranked: Vec<(usize, f64)> = shared.into_iter().collect();
        ranked.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let same_code = with_code.get(left.code.as_str()).unwrap_or(&none);
        let all = (same_code.iter().take(NEAREST).copied())
            .chain(ranked.into_iter().take(NEAREST).map(|(at, _)| at));
        all.collect::<BTreeSet<usize>>().into_iter().collect()
    };
    old.iter().map(near).collect()
}

/// Rows whose code stands in no other row of either list: what is left when there are too many to weigh.
fn by_single_code(
    before: &PackingList,
    after: &PackingList,
    rest_before: &[usize],
    rest_after: &[usize],
) -> Vec<Pair> {
    fn single(list: &PackingList, rest: &[usize]) -> BTreeMap<String, usize> {
        let mut by_code: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for row in rest {
            let code = bare_code(&list.rows[*row].code);
            by_code.entry(code).or_default().push(*row);
        }
        let one = by_code.into_iter();
        one.filter(|(code, rows)| !code.is_empty() && rows.len() == 1)
            .map(|(code, rows)| (code, rows[0]))
            .collect()
    }
    let new = single(after, rest_after);
    let old = single(before, rest_before).into_iter();
    old.filter_map(|(code, row)| Some((row, *new.get(&code)?)))
        .map(|(row, its)| Left::new(before, row).pair(&Left::new(after, its)))
        .collect()
}

fn differences(before: &PackingList, after: &PackingList, pairs: &[Pair]) -> Vec<Change> {
    let mut paired = pairs.iter().peekable();
    let mut all = Vec::new();
    for new in 0..after.rows.len() {
        match paired.next_if(|pair| pair.after == new) {
            None => all.push(Change::Added(new)),
            Some(pair) => all.extend(of_one(before, after, pair)),
        }
    }
    let kept: BTreeSet<usize> = pairs.iter().map(|pair| pair.before).collect();
    let gone = (0..before.rows.len()).filter(|row| !kept.contains(row));
    all.extend(gone.map(Change::Gone));
    all
}

fn of_one(before: &PackingList, after: &PackingList, pair: &Pair) -> Vec<Change> {
    let (old, new) = (pair.before, pair.after);
    let (row, its) = (&before.rows[old], &after.rows[new]);
    let unread = row.quantity.is_none() && !same_words(&row.written, &its.written);
    let same = |what: fn(&Row) -> &str| same_words(what(row), what(its));
    let changed = [
        (
            row.quantity != its.quantity || unread,
            Change::Quantity(old, new),
        ),
        (
            !same_words(&words_of(row), &words_of(its)),
            Change::Words(old, new),
        ),
        (!same(|row| &row.sub_kit), Change::Moved(old, new)),
        (!same(|row| &row.shipment), Change::Shipment(old, new)),
        (!same(|row| &row.unit), Change::Unit(old, new)),
        (
            (row.ordered, row.backordered) != (its.ordered, its.backordered),
            Change::BackOrder(old, new),
        ),
    ];
    let changed = changed.into_iter().filter(|(is, _)| *is);
    changed.map(|(_, change)| change).collect()
}

/// Whether two texts are the same but for case and spaces.
fn same_words(one: &str, other: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let words = text.split_whitespace();
        words.map(str::to_lowercase).collect()
    };
    one == other || words(one) == words(other)
}
