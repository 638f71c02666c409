//! Everything that may have happened, each with the pieces it would move and what it costs.
//!
//! Only what can help is looked at: of a pair of look-alikes one must be too many or the other too few, and the marks that
//! come in at the other end of a pair have their spares and nothing else.

mod listing;
mod packing;
mod yard;

use std::collections::BTreeMap;

use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::Facts;
use crate::explain::numbers::{Key, Number, Side};
use crate::explain::priors::Chance;
use crate::explain::programme::Cost;

/// Something that may have happened.
#[derive(Debug, Clone)]
pub(crate) struct Hypothesis {
    /// What it says of one unit of its amount; its quantity is the pieces in one unit.
    pub cause: Cause,
    /// What one unit adds to each number.
    pub effects: Vec<(Key, i64)>,
    /// The greatest amount.
    pub most: i64,
    /// What the first unit costs.
    pub first: Cost,
    /// What further units cost, as in [`crate::programme::Column`].
    pub further: Vec<(i64, Cost)>,
    /// What happens to one share of the kit does not happen to it twice.
    pub share: Option<String>,
}

impl Hypothesis {
    /// One that happens to a number of pieces, at most so many.
    fn of_some(cause: Cause, effects: Vec<(Key, i64)>, most: i64, chance: Chance) -> Self {
        Self {
            cause,
            effects,
            most,
            first: chance.first(),
            further: vec![(most.max(1), chance.each())],
            share: None,
        }
    }

    /// One that happens or does not.
    fn of_all(cause: Cause, effects: Vec<(Key, i64)>, chance: Chance) -> Self {
        Self {
            cause,
            effects,
            most: 1,
            first: chance.first(),
            further: Vec::new(),
            share: None,
        }
    }

    fn of_share(mut self, share: &str) -> Self {
        self.share = Some(share.to_lowercase());
        self
    }

    /// What two hypotheses have in common that are the same thing in other amounts. Which pile it was in, or how many made
    /// a unit, does not make another story.
    pub fn class(&self) -> Cause {
        let mut class = self.cause.clone();
        class.quantity = class.quantity.signum();
        if matches!(
            class.kind,
            CauseKind::CountedAsLookAlike | CauseKind::SentLookAlike
        ) {
            class.pile = None;
        }
        class
    }

    /// Whether a story without it is another story.
    pub fn makes_a_story(&self) -> bool {
        self.cause.kind != CauseKind::FewerSpares
    }
}

/// The numbers of a job and what is known, while hypotheses are gathered.
pub(crate) struct Gathering<'a> {
    pub facts: &'a Facts<'a>,
    pub numbers: &'a BTreeMap<Key, Number>,
    pub found: Vec<Hypothesis>,
}

impl Gathering<'_> {
    fn number(&self, place: usize, side: Side) -> Option<&Number> {
        self.numbers.get(&(place, side))
    }

    /// The number where there is something to explain of it.
    fn deviating(&self, place: usize, side: Side) -> Option<&Number> {
        self.number(place, side).filter(|number| number.deviates())
    }

    /// The mark's name.
    fn name(&self, place: usize) -> &str {
        &self.facts.mark(place).mark
    }
}

/// All hypotheses that can help to explain these numbers.
pub(crate) fn gather(facts: &Facts, numbers: &BTreeMap<Key, Number>) -> Vec<Hypothesis> {
    let mut gathering = Gathering {
        facts,
        numbers,
        found: Vec::new(),
    };
    let deviating = (numbers.iter()).filter(|(_, number)| number.deviates());
    for ((place, side), _) in deviating {
        match side {
            Side::Yard => {
                gathering.yard(*place);
                gathering.packing(*place);
            }
            Side::List => gathering.listing(*place),
        }
    }
    gathering.rows();
    gathering.found
}
