//! What comes before what. A unit follows the units of the stages that its stage follows, however far back, where both
//! stand at the same bows on the same side; what holds a skin comes after the skin.
//!
//! No source: common sense of our own. The sender's instructions go first.

use std::collections::BTreeSet;

use frame::Step;

use super::BuildStage;
use super::draft::Draft;

/// By stage: all stages that it follows, however far back.
pub(super) fn stages(stages: &[BuildStage]) -> Vec<BTreeSet<usize>> {
    before(stages.iter().map(|stage| stage.follows.as_slice()))
}

/// The same of a frame's steps.
pub(super) fn of_steps(steps: &[Step]) -> Vec<BTreeSet<usize>> {
    before(steps.iter().map(|step| step.follows.as_slice()))
}

fn before<'a>(follows: impl Iterator<Item = &'a [usize]>) -> Vec<BTreeSet<usize>> {
    let mut all: Vec<BTreeSet<usize>> = Vec::new();
    for follows in follows {
        let mut before: BTreeSet<usize> = follows.iter().copied().collect();
        // A family's stage follows only what stands above it.
        for stage in follows {
            before.extend(all.get(*stage).into_iter().flatten());
        }
        all.push(before);
    }
    all
}

/// By unit: the units that come before it, without those that come before one of these.
pub(super) fn units(drafts: &[Draft], stages: &[BTreeSet<usize>]) -> Vec<Vec<usize>> {
    let words = drafts.len().div_ceil(64);
    let mut known: Vec<Vec<u64>> = Vec::with_capacity(drafts.len());
    let mut all = Vec::with_capacity(drafts.len());
    for (index, draft) in drafts.iter().enumerate() {
        let mut before = vec![0u64; words];
        let mut after = Vec::new();
        for other in (0..index).rev() {
            let follows = stages[draft.stage].contains(&drafts[other].stage);
            let holds = drafts[other].stage == draft.stage && draft.holds && drafts[other].skin;
            if (follows || holds)
                && before[other / 64] >> (other % 64) & 1 == 0
                && draft.meets(&drafts[other])
            {
                after.push(other);
                before[other / 64] |= 1 << (other % 64);
                for (bits, more) in before.iter_mut().zip(&known[other]) {
                    *bits |= more;
                }
            }
        }
        after.reverse();
        known.push(before);
        all.push(after);
    }
    all
}
