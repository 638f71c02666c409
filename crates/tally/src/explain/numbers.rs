//! The numbers that are to be explained: what the lists promise and what was counted, each against the order.

use crate::difference::MarkDifference;
use crate::fold::State;
use crate::listed::Promise;

/// Which of a mark's numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Side {
    /// What all lists promise.
    List,
    /// What was counted.
    Yard,
}

/// A number, by mark (its place in the parts list) and side.
pub(crate) type Key = (usize, Side);

/// How far a number is from what it should be, and what of that needs no explaining.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Number {
    /// What is said less what should be.
    pub off: i64,
    /// What should be.
    pub base: i64,
    /// As many more need no explaining: spares, and what came early.
    pub up: i64,
    /// As many fewer are spares that did not come.
    pub spares: i64,
    /// As many fewer, after those, are still to come.
    pub to_come: i64,
}

impl Number {
    /// Whether there is anything to explain.
    pub fn deviates(&self) -> bool {
        self.off > self.up || self.off < -(self.spares + self.to_come)
    }

    /// So many that need no explaining, all or some of them.
    pub fn free(counted: i64) -> Self {
        Self {
            off: counted,
            base: 0,
            up: counted,
            spares: 0,
            to_come: 0,
        }
    }

    /// What the lists promise; nothing where that is not clear. `whole`: every list could be read.
    pub fn listed(
        mark: &MarkDifference,
        promise: &Promise,
        [needed, supplied]: [i64; 2],
        whole: bool,
    ) -> Option<Self> {
        let listed = mark.listed?;
        if !promise.unclear.is_empty() || (!whole && listed < needed) {
            return None;
        }
        Some(Self {
            off: listed - needed,
            base: needed,
            up: supplied - needed,
            spares: 0,
            to_come: 0,
        })
    }

    /// What was counted; nothing where nobody has.
    pub fn counted(
        mark: &MarkDifference,
        promise: &Promise,
        [needed, supplied]: [i64; 2],
    ) -> Option<Self> {
        if !mark.on_hand.is_counted() {
            return None;
        }
        let least = (needed - promise.later).max(0);
        // A list says how many spares there are; without one, as many as usual.
        let promised = match mark.listed {
            Some(_) => promise.listed - promise.later,
            None => supplied,
        };
        let base = promised.clamp(least, supplied);
        let enough = needed.clamp(least, base);
        Some(Self {
            // A piece and what came in its place are one.
            off: mark.on_hand.counted - mark.replaced() - base,
            base,
            up: supplied - base,
            spares: base - enough,
            to_come: enough - least,
        })
    }
}

/// The promise of a mark's rows, where so many are needed.
pub(crate) fn promise(mark: &MarkDifference, needed: i64, state: &State) -> Promise {
    Promise::of(&mark.mark, mark.rows.iter(), needed, state)
}
