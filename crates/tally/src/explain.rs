//! The difference, explained: what most likely happened, and the one look that would settle it.
//!
//! A difference between order, list and count is rarely a plain shortage. Each thing that may have happened is a
//! [`Cause`] with a cost from a stated probability; the cheapest set that explains every number exactly wins. Only what
//! nothing else explains is called short.

mod background;
mod cause;
mod check;
mod component;
mod facts;
mod hypotheses;
mod near_order;
mod numbers;
mod other_order;
pub mod priors;
pub mod programme;
mod shows;
mod spares;
mod tight;
mod twice;
mod words;

use std::collections::BTreeMap;

use check::{check, marks_of};
use component::{Component, Draft, Part};
use facts::Facts;
use numbers::{Key, Number, Side, promise};
use other_order::{Likeliest, likeliest};
use programme::Cost;
use twice::Twice;

use crate::standing::Standing;

pub(crate) use background::Background;
pub use cause::{Cause, CauseKind};
pub use check::{Check, Errand};
pub(crate) use near_order::NearOrder;
pub use shows::Shows;

/// What most likely happened, number by number.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Explanation {
    /// Groups of marks that one story explains; the gravest first.
    pub matters: Vec<Matter>,
    /// The order that the list seems to have been made for, where it is another one.
    pub other_order: Option<OtherOrder>,
    /// Whether every story was proven to be the cheapest.
    pub proven: bool,
    /// By mark, the spares among what did not come, as far as no story says so.
    spares: BTreeMap<String, i64>,
}

/// A group of marks whose numbers one story explains.
#[derive(Debug, Clone, PartialEq)]
pub struct Matter {
    /// The marks.
    pub marks: Vec<String>,
    /// The likeliest story.
    pub best: Story,
    /// The next: the likeliest one that does without at least one cause of the first.
    pub other: Option<Story>,
    /// How many times likelier the first is than the next; infinite where there is no other.
    pub odds: f64,
    /// Whether the odds are below [`NEARLY_LEVEL`].
    pub nearly_level: bool,
    /// The look that tells the two apart at least effort, or confirms the first.
    pub check: Option<Check>,
}

/// Causes that together explain every number of a matter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Story {
    /// What happened.
    pub causes: Vec<Cause>,
    /// What it costs, in millionths of a nat: the less, the likelier.
    pub cost: i64,
}

/// An order near the one at hand that makes the list fit.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherOrder {
    /// What is other, such as "length = 44 ft".
    pub change: String,
    /// The order.
    pub order: frame::Order,
    /// Whether the kit seems to have been packed for it, too.
    pub packed_so: bool,
    /// The marks of which the list has another number than that order needs, too.
    pub misfits: Vec<String>,
    /// How many times likelier that is than the list being for the order at hand.
    pub odds: f64,
}

impl OtherOrder {
    /// What of the list would not fit that order either, as words that follow it: " but for 3 marks"; nothing where all of
    /// it would fit.
    pub fn but_for(&self) -> String {
        match self.misfits.as_slice() {
            [] => String::new(),
            [one] => format!(" but for {one}"),
            several => format!(" but for {} marks", several.len()),
        }
    }
}

/// Odds below which two stories are called nearly level: the likelier of the two holds then in fewer than five cases of
/// six. Ours, judged.
pub const NEARLY_LEVEL: f64 = 5.0;

impl Explanation {
    /// How many pieces of a mark did not come, by the likeliest story.
    pub fn short(&self, mark: &str) -> i64 {
        self.missing(mark).max(0)
    }

    /// How many pieces of a mark came too many, by the likeliest story.
    pub fn over(&self, mark: &str) -> i64 {
        (-self.missing(mark)).max(0)
    }

    fn missing(&self, mark: &str) -> i64 {
        let causes = self.matters.iter().flat_map(|matter| &matter.best.causes);
        let missing: i64 = causes.map(|cause| cause.missing(mark)).sum();
        let spares = self.spares.get(mark).map_or(0, |spares| *spares);
        missing - spares.min(missing.max(0))
    }

    /// What all looks that are proposed come down to: what several have in common, such as a call, is there once.
    pub fn errands(&self) -> Vec<Errand> {
        let checks = (self.matters.iter()).filter_map(|matter| matter.check.as_ref());
        Errand::once(checks.flat_map(|check| check.errands.iter().cloned()))
    }

    /// The matter that a mark is part of.
    pub fn matter(&self, mark: &str) -> Option<&Matter> {
        self.matters
            .iter()
            .find(|matter| matter.marks.iter().any(|m| m == mark))
    }
}

/// Explains how a job stands; nothing without an order.
pub(crate) fn explain(standing: &Standing) -> Option<Explanation> {
    let facts = Facts::of(standing, standing.difference.as_ref()?, None)?;
    let ours = likeliest(&facts, &numbers(&facts));
    let Some(twice) = Twice::of(standing) else {
        return Some(told(&facts, ours));
    };
    let fewer = Facts::of(standing, &twice.without, Some(twice.nth))?;
    let theirs = likeliest(&fewer, &numbers(&fewer));
    let cheaper = ours.cost - (theirs.cost + Twice::prior());
    if cheaper <= 0 {
        return Some(told(&facts, ours));
    }
    let matter = twice.told(standing, &facts, &ours, cheaper);
    let mut explanation = told(&fewer, theirs);
    explanation.matters.insert(0, matter);
    Some(explanation)
}

fn told(facts: &Facts, likeliest: Likeliest) -> Explanation {
    let mut proven = likeliest.components.iter().all(Component::proven);
    let mut matters = Vec::new();
    let packed_so = (likeliest.other.as_ref()).is_some_and(|(other, _)| other.packed_so);
    // What was packed for another order is held against that.
    let mut spares = match packed_so {
        true => BTreeMap::new(),
        false => spares::of(facts),
    };
    for component in &likeliest.components {
        for mut part in component.parts(facts) {
            proven &= part.proven;
            spares::apart(&mut part.best, &spares);
            part.other = part.other.or_else(|| packed_by_slip(facts, &part.best));
            if let Some(other) = &mut part.other {
                spares::apart(other, &spares);
            }
            matters.push(matter(facts, part));
        }
    }
    let best = || matters.iter().flat_map(|matter| &matter.best.causes);
    best().for_each(|cause| spares::said(cause, &mut spares));
    let other_order = likeliest.other.map(|(other, matter)| {
        matters.push(matter);
        other
    });
    matters.sort_by_key(|matter| std::cmp::Reverse(gravity(matter)));
    Explanation {
        matters,
        other_order,
        proven,
        spares,
    }
}

/// Whether a slip of the list was packed by is not known before anybody counts: no number shows it.
fn packed_by_slip(facts: &Facts, slip: &Story) -> Option<Story> {
    let not_counted = |cause: &Cause| {
        let place = facts.back.place.get(&cause.mark);
        let counted = place.map(|place| facts.mark(*place).on_hand.is_counted());
        cause.kind == CauseKind::ListTypo && counted == Some(false)
    };
    if slip.causes.is_empty() || !slip.causes.iter().all(not_counted) {
        return None;
    }
    let causes = slip.causes.iter().cloned();
    let packed_by = causes.map(|cause| Cause {
        kind: CauseKind::PackedByList,
        ..cause
    });
    let dearer: Cost = (slip.causes.iter())
        .map(|cause| priors::packed_by(cause.quantity.abs()))
        .sum();
    Some(Story {
        causes: packed_by.collect(),
        cost: slip.cost + dearer,
    })
}

/// The programmes that explaining a job comes down to, so that another solver can be held against ours.
pub fn programmes(standing: &Standing) -> Vec<programme::Programme> {
    let difference = standing.difference.as_ref();
    let Some(facts) = difference.and_then(|known| Facts::of(standing, known, None)) else {
        return Vec::new();
    };
    (Draft::all(&facts, &numbers(&facts)).into_iter())
        .map(|draft| draft.solved(&facts).into_programme())
        .collect()
}

/// What the lists say of each mark, and what was counted, where they say anything.
fn numbers(facts: &Facts) -> BTreeMap<Key, Number> {
    let mut numbers = BTreeMap::new();
    for (place, needs) in facts.ordered.needs().iter().enumerate() {
        let mark = facts.mark(place);
        let promise = promise(mark, needs[0], &facts.standing.state);
        let listed = Number::listed(mark, &promise, *needs, facts.whole);
        let counted = Number::counted(mark, &promise, *needs);
        numbers.extend(listed.map(|number| ((place, Side::List), number)));
        numbers.extend(counted.map(|number| ((place, Side::Yard), number)));
    }
    // What is no part of the order needs no explaining, but may be what something else lacks.
    for stranger in facts.strangers().filter(|stranger| stranger.counted > 0) {
        let free = Number::free(stranger.counted);
        numbers.insert((stranger.place, Side::Yard), free);
    }
    // Nor does a row that was read as nothing, which can be one mark.
    for (nth, _) in (facts.doubtful.iter().enumerate()).filter(|(_, row)| row.mark.is_none()) {
        numbers.insert((facts.place_of_row(nth), Side::List), Number::free(1));
    }
    numbers
}

fn matter(facts: &Facts, part: Part) -> Matter {
    let dearer = part.other.as_ref().map(|other| other.cost - part.best.cost);
    let odds = dearer.map_or(f64::INFINITY, odds);
    let mut marks: Vec<String> = Vec::new();
    for (place, _) in part.keys {
        if let Some(mark) = facts.name(place)
            && !marks.iter().any(|known| known == mark)
        {
            marks.push(mark.to_owned());
        }
    }
    for mark in marks_of(&part.best) {
        if !marks.iter().any(|known| known == mark) {
            marks.push(mark.to_owned());
        }
    }
    Matter {
        marks,
        check: check(facts, &part.best, part.other.as_ref()),
        best: part.best,
        other: part.other,
        odds,
        nearly_level: odds < NEARLY_LEVEL,
    }
}

/// How many times likelier what is cheaper by so much is.
fn odds(cheaper: Cost) -> f64 {
    (cheaper as f64 / 1e6).exp()
}

/// What is missing comes first, then what may be, then what is too much, then what only the list has wrong.
fn gravity(matter: &Matter) -> (i64, bool, i64) {
    let causes = || matter.best.causes.iter();
    let missing = |mark: &String| causes().map(|cause| cause.missing(mark)).sum::<i64>();
    let each: Vec<i64> = matter.marks.iter().map(missing).collect();
    (
        each.iter().map(|n| (*n).max(0)).sum(),
        causes().any(Cause::hides_a_shortage),
        each.iter().map(|n| (-*n).max(0)).sum(),
    )
}
