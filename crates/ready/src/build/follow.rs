//! What comes before what. A unit follows the units of the stages that its stage follows, however far back, where both
//! stand at the same bows on the same side; what holds a skin comes after the skin.
//!
//! No source: common sense of our own. The sender's instructions go first.

use std::collections::BTreeSet;

use frame::Step;

use super::draft::Draft;
use super::{BuildStage, Gap};
use crate::bits::Bits;

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

/// By unit: all units that come before it, however far back.
pub(super) fn before_units(drafts: &[Draft], stages: &[BTreeSet<usize>]) -> Vec<Bits> {
    let mut all: Vec<Bits> = Vec::with_capacity(drafts.len());
    for (index, draft) in drafts.iter().enumerate() {
        let mut before = Bits::none(drafts.len());
        for (other, earlier) in drafts[..index].iter().enumerate().rev() {
            let follows = stages[draft.stage].contains(&earlier.stage);
            let holds = earlier.stage == draft.stage && draft.holds && earlier.skin;
            if (follows || holds) && !before.has(other) && draft.meets(earlier) {
                before.put(other);
                before.put_all(&all[other]);
            }
        }
        all.push(before);
    }
    all
}

/// By unit: those that come before it and are not said by what comes between. What spans a bow that is left out says
/// nothing of that bow, so that what does not span it has the bow named.
pub(super) fn nearest(before: &[Bits], gaps: &[Gap]) -> Vec<Vec<usize>> {
    // By unit: what is done for sure once it is, whatever is left out.
    let mut sure: Vec<Bits> = Vec::with_capacity(before.len());
    let mut all = Vec::with_capacity(before.len());
    for (all_before, gap) in before.iter().zip(gaps) {
        let spans = *gap == Gap::Spans;
        let (mut said, mut certain) = (Bits::none(before.len()), Bits::none(before.len()));
        let mut after = Vec::new();
        let mut units: Vec<usize> = all_before.iter().collect();
        units.reverse();
        for unit in units {
            if said.has(unit) {
                continue;
            }
            after.push(unit);
            said.put(unit);
            said.put_all(if spans { &before[unit] } else { &sure[unit] });
            certain.put_all(&sure[unit]);
            if !(spans && matches!(gaps[unit], Gap::Bow(_))) {
                certain.put(unit);
            }
        }
        after.reverse();
        sure.push(certain);
        all.push(after);
    }
    all
}
