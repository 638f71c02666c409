//! Several looks at one pile: the first count, a blind second one, a third where they differ.
//!
//! Looks are never averaged. What two looks agree on stands; until two agree, the first stands and the difference is
//! said.

use std::collections::BTreeSet;

use crate::event::EventId;
use crate::on_hand::{Again, Count, Seen};

/// One look at the counted pieces of a pile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// Who looked.
    pub who: Vec<String>,
    /// Pieces.
    pub quantity: i64,
    /// The events that it is made of.
    pub events: Vec<EventId>,
    least: i64,
    most: i64,
    unopened: i64,
}

/// Whether the looks at a pile agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Agreement {
    /// There is one look only, or one person looked more than once.
    Unchecked,
    /// Two looks by different people agree.
    Agreed,
    /// Looks differ, and no two by different people agree.
    Differ,
}

/// What stands of one mark in one pile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PileSeen {
    /// The pile; `None` where no pile was named.
    pub pile: Option<String>,
    /// Pieces that stand: what two looks agree on, or the first look, and what was counted since.
    pub stands: i64,
    /// The fewest pieces that what was seen allows for.
    pub least: i64,
    /// The most.
    pub most: i64,
    /// Of those that stand, pieces in bundles that nobody opened.
    pub unopened: i64,
    /// The looks, the first one first.
    pub looks: Vec<Look>,
    /// Whether they agree.
    pub agreement: Agreement,
}

impl Seen {
    /// Returns what stands in each pile, by its name.
    pub fn piles(&self) -> Vec<PileSeen> {
        let names: BTreeSet<&Option<String>> =
            self.counts.iter().map(|count| &count.pile).collect();
        names.into_iter().map(|pile| self.pile(pile)).collect()
    }

    fn pile(&self, pile: &Option<String>) -> PileSeen {
        let counts: Vec<&Count> = (self.counts.iter()).filter(|c| c.pile == *pile).collect();
        let known: BTreeSet<EventId> = counts.iter().map(|count| count.event).collect();
        // A look holds as long as all that it checked stands.
        let holds = |again: &&Again| again.pile == *pile && again.checks.is_subset(&known);
        let agains: Vec<&Again> = self.again.iter().filter(holds).collect();
        let checked = agains.last().map_or(&known, |last| &last.checks);

        let (first, since): (Vec<&Count>, Vec<&Count>) =
            (counts.iter()).partition(|count| checked.contains(&count.event));
        let mut looks = vec![Look::first(&first)];
        looks.extend(
            (agains.iter())
                .filter(|again| again.checks == *checked)
                .map(|again| Look::again(again)),
        );

        let (agreement, stands) = settle(&looks);
        let since = Look::first(&since);
        let (least, most) = match agreement {
            Agreement::Differ => (
                looks.iter().map(|look| look.least).min().unwrap_or(0),
                looks.iter().map(|look| look.most).max().unwrap_or(0),
            ),
            _ => (stands.least, stands.most),
        };
        PileSeen {
            pile: pile.clone(),
            stands: stands.quantity.saturating_add(since.quantity),
            least: least.saturating_add(since.least),
            most: most.saturating_add(since.most),
            unopened: stands.unopened.saturating_add(since.unopened),
            agreement,
            looks,
        }
    }
}

/// The look that stands: the later of the first two by different people that agree (it is the more careful one), or the
/// first one. A person who looks twice at a pile does not check it.
fn settle(looks: &[Look]) -> (Agreement, Look) {
    let agreeing = (looks.iter().enumerate()).find(|(i, look)| {
        let mut before = looks[..*i].iter();
        before.any(|before| before.quantity == look.quantity && before.is_by_others_than(look))
    });
    let Some(first) = looks.first() else {
        return (Agreement::Unchecked, Look::first(&[]));
    };
    match agreeing {
        Some((_, look)) => (Agreement::Agreed, look.clone()),
        None if looks.iter().all(|look| look.quantity == first.quantity) => {
            (Agreement::Unchecked, first.clone())
        }
        None => (Agreement::Differ, first.clone()),
    }
}

impl Look {
    /// Counts that add up to one look.
    fn first(counts: &[&Count]) -> Self {
        let sum = |all: &mut dyn Iterator<Item = i64>| all.fold(0, i64::saturating_add);
        let bounds: Vec<(i64, i64)> = (counts.iter())
            .map(|count| count.how.bounds(count.quantity))
            .collect();
        let mut who: Vec<String> = Vec::new();
        for count in counts {
            if !who.contains(&count.who) {
                who.push(count.who.clone());
            }
        }
        Self {
            who,
            quantity: sum(&mut counts.iter().map(|count| count.quantity)),
            events: counts.iter().map(|count| count.event).collect(),
            least: sum(&mut bounds.iter().map(|bounds| bounds.0)),
            most: sum(&mut bounds.iter().map(|bounds| bounds.1)),
            unopened: sum(&mut counts.iter().map(|count| count.how.unopened())),
        }
    }

    /// Whether nobody took part in both.
    fn is_by_others_than(&self, other: &Self) -> bool {
        self.who.iter().all(|who| !other.who.contains(who))
    }

    fn again(again: &Again) -> Self {
        let (least, most) = again.how.bounds(again.quantity);
        Self {
            who: vec![again.who.clone()],
            quantity: again.quantity,
            events: vec![again.event],
            least,
            most,
            unopened: again.how.unopened(),
        }
    }
}
