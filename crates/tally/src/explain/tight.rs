//! A programme made tight before the solver sees it: no column may be used more often than the numbers leave room for.
//!
//! That is what makes it quick. A column's further units are opened by its first, `further ≤ most · first`; with a greatest
//! amount of hundreds where two are wanted, the solver's relaxed problem opens a hundredth of the column, which costs next to
//! nothing, and many branches are needed to see that it cannot.

use crate::explain::programme::{Column, Programme};

/// It settles in two or three rounds; where it does not, what was found so far holds as well.
const MOST_ROUNDS: usize = 8;

impl Programme {
    /// The same programme without the columns of a class, each other column with the greatest amount that the numbers
    /// leave room for. Nothing where some number is out of reach of all columns together.
    pub(super) fn tightened(&self, without: Option<usize>) -> Option<Self> {
        let mut columns: Vec<Column> = self.columns.iter().map(merged).collect();
        for column in &mut columns {
            if without.is_some() && column.class == without {
                column.most = 0;
            }
        }
        for _ in 0..MOST_ROUNDS {
            let reach = self.reach(&columns);
            let mut rooms = self.targets.iter().zip(&reach);
            if rooms.any(|(target, [down, up])| target > up || target < down) {
                return None;
            }
            let mut changed = false;
            for column in &mut columns {
                let most = (column.effects.iter())
                    .map(|&(number, effect)| {
                        let (target, [down, up]) = (self.targets[number], reach[number]);
                        let room = match effect > 0 {
                            true => target.saturating_sub(down),
                            false => up.saturating_sub(target),
                        };
                        room / effect.abs()
                    })
                    .min();
                let most = most.unwrap_or(0).min(column.most);
                changed |= most < column.most;
                column.most = most;
            }
            if !changed {
                break;
            }
        }
        Some(Self {
            targets: self.targets.clone(),
            columns,
            one_of: self.one_of.clone(),
        })
    }

    /// The least and the greatest that each number can be made up to.
    fn reach(&self, columns: &[Column]) -> Vec<[i64; 2]> {
        let mut reach = vec![[0_i64; 2]; self.targets.len()];
        for column in columns {
            for &(number, effect) in &column.effects {
                let side = &mut reach[number][usize::from(effect > 0)];
                *side = side.saturating_add(effect.saturating_mul(column.most));
            }
        }
        reach
    }
}

/// A column with one effect on each number, none of them nothing.
fn merged(column: &Column) -> Column {
    let mut effects: Vec<(usize, i64)> = Vec::new();
    for &(number, effect) in &column.effects {
        match effects.iter_mut().find(|(known, _)| *known == number) {
            Some((_, sum)) => *sum += effect,
            None => effects.push((number, effect)),
        }
    }
    effects.retain(|(_, effect)| *effect != 0);
    Column {
        effects,
        most: column.most.max(0),
        ..column.clone()
    }
}
