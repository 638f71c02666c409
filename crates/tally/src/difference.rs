//! Order against list against count, mark by mark.
//!
//! What comes in a shipment that has not arrived is not short. Only what was counted can be short or over; what
//! nobody has counted yet is said to be so.

use std::collections::BTreeMap;

use frame::{Line, PartsList};

use crate::fold::State;
use crate::listed::{Listed, ListedRow, Promise};
use crate::on_hand::OnHand;
use crate::sent::Sent;
use crate::verdict::Verdict;

/// Everything known of one mark.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkDifference {
    /// The mark.
    pub mark: String,
    /// What it is.
    pub description: String,
    /// How many the house needs.
    pub needed: i64,
    /// How many the sender packs, spares and all. Up to so many, none is over.
    pub supplied: i64,
    /// How many the lists have, of all shipments, as read; nothing when there is no list, or when no row names it
    /// and not every list could be read.
    pub listed: Option<i64>,
    /// How many of those still needed come in shipments that have not arrived. What came early is not among them.
    pub coming: i64,
    expected: i64,
    /// Pieces that the sender sends in place of unfit ones, and that have not arrived.
    pub replacing: i64,
    /// Of the unfit ones, those whose replacement has arrived.
    replaced: i64,
    /// What was seen.
    pub on_hand: OnHand,
    /// The rows that name it.
    pub rows: Vec<ListedRow>,
    /// What is to be said of it; the gravest first.
    pub verdicts: Vec<Verdict>,
}

impl MarkDifference {
    /// How many should be on the site by now. Never more than needed, and the same before and after a count.
    pub fn expected(&self) -> i64 {
        self.expected
    }

    /// Of the unfit ones, those whose replacement is here.
    pub(crate) fn replaced(&self) -> i64 {
        self.replaced
    }

    /// How many must still be made good: needed, less what is fit, less what is still to come.
    /// Nothing when nobody has counted.
    pub fn to_make_good(&self) -> Option<i64> {
        let open = self.needed - self.on_hand.good() - self.coming - self.replacing;
        self.on_hand.is_counted().then_some(open.max(0))
    }

    /// Whether it fits, or will when its shipment comes. What a list says wrongly of it does not matter here: what
    /// lies in the yard can be built with.
    pub fn is_well(&self) -> bool {
        self.verdicts.iter().all(|v| match v {
            Verdict::Fits | Verdict::Comes { .. } | Verdict::Early(_) => true,
            Verdict::ListShort(_) | Verdict::ListOver(_) | Verdict::ListUnclear(_) => true,
            Verdict::NotCounted(_) | Verdict::Short(_) | Verdict::Over(_) => false,
            Verdict::ShortBetween { .. } | Verdict::CouldBeShort(_) | Verdict::LooksDiffer(_) => {
                false
            }
            Verdict::Unfit(_) | Verdict::Wet(_) | Verdict::Overdrawn => false,
        })
    }

    /// How many are short.
    pub fn short(&self) -> i64 {
        self.verdicts
            .iter()
            .map(|v| match v {
                Verdict::Short(n) => *n,
                Verdict::ShortBetween { .. } => self.needed - self.on_hand.counted - self.coming,
                _ => 0,
            })
            .sum()
    }

    /// How many are over.
    pub fn over(&self) -> i64 {
        self.verdicts
            .iter()
            .map(|v| if let Verdict::Over(n) = v { *n } else { 0 })
            .sum()
    }
}

/// The difference of a whole job.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Difference {
    /// Each mark of the parts list, in its order.
    pub marks: Vec<MarkDifference>,
    /// Marks that were counted but are no parts of this order.
    pub strange: BTreeMap<String, OnHand>,
}

impl Difference {
    /// The line of a mark.
    pub fn mark(&self, mark: &str) -> Option<&MarkDifference> {
        self.marks.iter().find(|m| m.mark == mark)
    }

    /// The marks of which something is said that `holds`.
    pub fn with(&self, holds: impl Fn(&Verdict) -> bool) -> impl Iterator<Item = &MarkDifference> {
        self.marks
            .iter()
            .filter(move |mark| mark.verdicts.iter().any(&holds))
    }

    /// How many marks nobody has counted although some should be here.
    pub fn not_counted(&self) -> usize {
        self.with(|v| matches!(v, Verdict::NotCounted(_))).count()
    }

    /// How many marks have been counted.
    pub fn counted(&self) -> usize {
        self.marks.iter().filter(|m| m.on_hand.is_counted()).count()
    }
}

/// Sets order, lists and counts against each other.
pub fn difference(parts: &PartsList, listed: &Listed, state: &State) -> Difference {
    let mut rows: BTreeMap<&str, Vec<&ListedRow>> = BTreeMap::new();
    for row in &listed.rows {
        rows.entry(&row.mark).or_default().push(row);
    }
    let marks: Vec<MarkDifference> = (parts.lines.iter())
        .map(|line| {
            let rows = rows.remove(line.part.mark.0.as_str()).unwrap_or_default();
            mark_difference(line, &rows, listed.whole, state)
        })
        .collect();
    let strange = (state.marks.iter())
        .filter(|(mark, seen)| parts.line(mark).is_none() && !seen.counts.is_empty())
        .map(|(mark, seen)| (mark.clone(), seen.on_hand()))
        .collect();
    Difference { marks, strange }
}

fn mark_difference(line: &Line, rows: &[&ListedRow], whole: bool, state: &State) -> MarkDifference {
    let mark = line.part.mark.0.clone();
    let (needed, supplied) = (line.quantity, line.supplied.max(line.quantity));
    let on_hand = state.on_hand(&mark);
    let promise = Promise::of(&mark, rows.iter().copied(), needed, state);
    let sent = Sent::of(&mark, state);
    // A sender who lists spares for later does not owe more than the house needs. But what comes later may make up
    // for what was missing in a shipment that is here.
    let open = match on_hand.is_counted() {
        true => needed - on_hand.counted.min(needed),
        false => needed - promise.expected,
    };
    let mut found = MarkDifference {
        description: line.part.description.clone(),
        needed,
        supplied,
        listed: (whole || !rows.is_empty()).then_some(promise.listed),
        coming: promise.later.min(open),
        expected: promise.expected,
        replacing: sent.for_unfit.min(on_hand.unfit()),
        replaced: sent.replaced.min(on_hand.unfit()),
        on_hand,
        rows: rows.iter().map(|row| (*row).clone()).collect(),
        verdicts: Vec::new(),
        mark,
    };
    found.verdicts = of_count(&found);
    found.verdicts.extend(of_lists(&promise, &found, whole));
    let coming = found.coming + found.replacing;
    if coming > 0 {
        found.verdicts.push(Verdict::Comes {
            quantity: coming,
            with: promise.with,
        });
    }
    found
}

/// What the count says, held against order and lists.
fn of_count(of: &MarkDifference) -> Vec<Verdict> {
    let on_hand = of.on_hand;
    let some = |n: i64, verdict: fn(i64) -> Verdict| (n > 0).then(|| verdict(n));
    if !on_hand.is_counted() {
        // Damage may be seen before anybody counts.
        let said = [
            some(on_hand.unfit(), Verdict::Unfit),
            some(on_hand.wet, Verdict::Wet),
            some(of.expected, Verdict::NotCounted),
        ];
        return said.into_iter().flatten().collect();
    }
    let mut said: Vec<Verdict> = [
        short(of),
        // What was weighed is over when it is surely so.
        some(on_hand.least - of.supplied - of.replaced, Verdict::Over),
        some(on_hand.unfit(), Verdict::Unfit),
        some(on_hand.wet, Verdict::Wet),
        (on_hand.differing > 0).then_some(Verdict::LooksDiffer(on_hand.differing)),
        on_hand.is_overdrawn().then_some(Verdict::Overdrawn),
    ]
    .into_iter()
    .flatten()
    .collect();
    if said.is_empty() && on_hand.counted > 0 && on_hand.counted >= of.expected {
        said.push(Verdict::Fits);
    }
    said.extend(some(
        on_hand.counted.min(of.needed) - of.expected,
        Verdict::Early,
    ));
    said
}

/// How many are short, as surely as what was seen allows.
fn short(of: &MarkDifference) -> Option<Verdict> {
    let short_of = |counted: i64| of.needed - counted - of.coming;
    match (short_of(of.on_hand.most), short_of(of.on_hand.least)) {
        (_, most) if most <= 0 => None,
        (least, most) if least == most => Some(Verdict::Short(most)),
        (least, most) if least > 0 => Some(Verdict::ShortBetween { least, most }),
        (_, most) => Some(Verdict::CouldBeShort(most)),
    }
}

/// What the lists say, held against the order.
fn of_lists(promise: &Promise, of: &MarkDifference, whole: bool) -> Option<Verdict> {
    let over = promise.listed - of.supplied;
    let short = of.needed - promise.listed;
    let surely_over = promise.sure - of.supplied;
    match promise.unclear.is_empty() {
        true if over > 0 => Some(Verdict::ListOver(over)),
        true if short > 0 && whole => Some(Verdict::ListShort(short)),
        true => None,
        false if surely_over > 0 => Some(Verdict::ListOver(surely_over)),
        false => Some(Verdict::ListUnclear(promise.unclear.clone())),
    }
}
