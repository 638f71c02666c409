//! Fewer pieces needed, each place counted once: a stage that waits and a house that ends a bay sooner may free the same.

use super::offer::Less;
use super::table::{Table, Written};
use crate::programme::Is;

/// Two ways by which fewer are needed, of which one frees places that the other frees as well.
pub(crate) struct Both {
    /// The house that ends a bay sooner (by index).
    pub shorter: usize,
    /// The stage that waits (by index).
    pub later: usize,
    /// Whether they are gone both.
    pub column: usize,
}

impl Table<'_> {
    /// Two ways that free the same places are both gone if each is.
    pub(super) fn both(&self, written: &mut Written) {
        for (shorter, less) in self.less.iter().enumerate() {
            for (stage, _) in &less.within {
                let waits = |other: &Less| other.stage == Some(*stage);
                let Some(later) = self.less.iter().position(waits) else {
                    continue;
                };
                let column = written.programme.column(1, 0);
                let [one, other] = [written.less[shorter], written.less[later]];
                let at_once = vec![(one, 1), (other, 1), (column, -1)];
                written.programme.row(at_once, Is::AtMost, 1);
                for each in [one, other] {
                    let only_then = vec![(column, 1), (each, -1)];
                    written.programme.row(only_then, Is::AtMost, 0);
                }
                written.both.push(Both {
                    shorter,
                    later,
                    column,
                });
            }
        }
    }

    /// What two ways free together, counted twice when each is taken for itself.
    pub(crate) fn twice(&self, both: &Both, mark: usize) -> i64 {
        let stage = self.less[both.later].stage;
        let within = self.less[both.shorter].within.iter();
        (within.filter(|(at, _)| Some(*at) == stage))
            .flat_map(|(_, frees)| frees)
            .filter(|(at, _)| *at == mark)
            .map(|(_, fewer)| *fewer)
            .sum()
    }

    /// How many fewer of a mark are needed: a term for each way, less what two of them free together.
    pub(super) fn fewer<'a>(
        &'a self,
        written: &'a Written,
        mark: usize,
        frees: impl Fn(&'a Less) -> &'a [(usize, i64)] + 'a,
    ) -> impl Iterator<Item = (usize, i64)> + 'a {
        let each = (self.less.iter().zip(&written.less)).flat_map(move |(less, column)| {
            let frees = frees(less).iter().filter(move |(at, _)| *at == mark);
            frees.map(|(_, fewer)| (*column, *fewer))
        });
        let both = written.both.iter();
        let twice = both.map(move |both| (both.column, -self.twice(both, mark)));
        each.chain(twice.filter(|(_, twice)| *twice != 0))
    }
}
