//! What was seen of one mark, and what of it can be built with.

use std::collections::BTreeSet;

use crate::event::{Condition, EventId};
use crate::how::How;
use crate::looks::Agreement;

/// A count that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// The event.
    pub event: EventId,
    /// The event's number.
    pub seq: u64,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who counted.
    pub who: String,
    /// On which device.
    pub device: String,
    /// In which pile.
    pub pile: Option<String>,
    /// Pieces.
    pub quantity: i64,
    /// How the number was come by.
    pub how: How,
}

/// A second or later look at what was counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Again {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who counted.
    pub who: String,
    /// In which pile.
    pub pile: Option<String>,
    /// Pieces.
    pub quantity: i64,
    /// The counts that it checks.
    pub checks: BTreeSet<EventId>,
    /// How the number was come by.
    pub how: How,
}

/// A condition that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conditioned {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who saw it.
    pub who: String,
    /// On which device.
    pub device: String,
    /// What is wrong.
    pub condition: Condition,
    /// Pieces.
    pub quantity: i64,
    /// In the person's words.
    pub words: String,
}

/// All that stands of one mark, in the order of the log.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Seen {
    /// The counts; they add up. Empty: nobody has counted, which is not a count of zero.
    pub counts: Vec<Count>,
    /// Second and later looks; they add nothing.
    pub again: Vec<Again>,
    /// The conditions; they add up.
    pub conditions: Vec<Conditioned>,
}

impl Seen {
    /// Returns the sums.
    pub fn on_hand(&self) -> OnHand {
        let piles = self.piles();
        let differ = |agreement| agreement == Agreement::Differ;
        let of = |condition| {
            let those = self
                .conditions
                .iter()
                .filter(|seen| seen.condition == condition);
            sum(those.map(|seen| seen.quantity))
        };
        OnHand {
            counts: self.counts.len(),
            counted: sum(piles.iter().map(|pile| pile.stands)),
            least: sum(piles.iter().map(|pile| pile.least)),
            most: sum(piles.iter().map(|pile| pile.most)),
            unopened: sum(piles.iter().map(|pile| pile.unopened)),
            differing: piles.iter().filter(|pile| differ(pile.agreement)).count(),
            damaged: of(Condition::Damaged),
            bent: of(Condition::Bent),
            wet: of(Condition::Wet),
            wrong: of(Condition::Wrong),
        }
    }
}

/// The pieces of one mark on the site.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct OnHand {
    /// How many counts stand; 0 means that nobody has counted.
    pub counts: usize,
    /// Pieces counted, whatever their condition.
    pub counted: i64,
    /// The fewest pieces that what was seen allows for: weighing leaves some doubt, and so do two looks that differ.
    pub least: i64,
    /// The most.
    pub most: i64,
    /// Of those counted, pieces in bundles that nobody opened.
    pub unopened: i64,
    /// Piles at which no two looks agree.
    pub differing: usize,
    /// Of these, damaged.
    pub damaged: i64,
    /// Of these, bent.
    pub bent: i64,
    /// Of these, wet.
    pub wet: i64,
    /// Of these, not the part they are labelled as.
    pub wrong: i64,
}

impl OnHand {
    /// Returns whether anybody has counted.
    pub fn is_counted(&self) -> bool {
        self.counts > 0
    }

    /// Returns the pieces that cannot be built with: damaged, bent or wrong. Wet ones can (a tube
    /// dries); a wet piece that is spoiled is to be called damaged as well.
    pub fn unfit(&self) -> i64 {
        sum([self.damaged, self.bent, self.wrong])
    }

    /// Returns the pieces that can be built with; never below 0.
    pub fn good(&self) -> i64 {
        self.counted.saturating_sub(self.unfit()).max(0)
    }

    /// Returns whether more pieces are said to be in a bad condition than were counted, so that
    /// one of the two is to be looked at again. A wet piece may be damaged too, so wet ones are
    /// held against the count alone.
    pub fn is_overdrawn(&self) -> bool {
        self.unfit() > self.counted || self.wet > self.counted
    }
}

fn sum(quantities: impl IntoIterator<Item = i64>) -> i64 {
    quantities.into_iter().fold(0, i64::saturating_add)
}
