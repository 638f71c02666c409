//! How far the build gets, once for each stock of pieces: most days have the same.

use std::collections::BTreeMap;

use crate::build::Build;
use crate::how_far::{Effort, HowFar, how_far_with};

/// Answers that were worked out before.
pub(crate) struct Memo {
    most: Vec<i64>,
    known: BTreeMap<Vec<i64>, HowFar>,
    /// All together take no longer than one may alone.
    effort: Effort,
}

impl Memo {
    /// One for a build of which all needs are these: what is there beyond them changes nothing.
    pub fn of(most: Vec<i64>) -> Self {
        Self {
            most,
            known: BTreeMap::new(),
            effort: Effort::none(),
        }
    }

    /// How far the build gets with so many pieces of each mark.
    pub fn how_far(&mut self, build: &Build, amounts: &[i64]) -> HowFar {
        let pairs = amounts.iter().zip(&self.most);
        let amounts: Vec<i64> = pairs.map(|(there, most)| *there.min(most)).collect();
        let far = self.known.entry(amounts);
        far.or_insert_with_key(|amounts| how_far_with(build, amounts, &mut self.effort))
            .clone()
    }
}
