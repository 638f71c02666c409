//! How likely each stage can be started and completed by a day, exactly, from how likely each number of pieces is.
//!
//! A stage can be *completed* when there are the pieces for it and for all stages that it follows, however far back. It
//! can be *started* when there are those for all that it follows, and for one unit of its own that comes first in it, such
//! as the first bow, whichever has its pieces. Stages that are done are behind us. Weather, tools and hands are not in
//! these chances.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::build::Build;
use crate::likely::Likely;
use crate::supply::Supplies;

/// How likely a stage has its pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageChance {
    /// That all stages which it follows have all their pieces, and at least one of its own units has its.
    pub start: f64,
    /// That it and all stages which it follows have all their pieces.
    pub complete: f64,
}

/// A stage may start with one of several units that need other pieces; so many kinds are told apart. Of more, the chance
/// of the likeliest is said, which is a little too low.
pub const MOST_FIRSTS: usize = 6;

/// How likely each stage has its pieces by the morning of a day, in the order of the build.
pub fn stage_chances(build: &Build, supplies: &Supplies, by: Date) -> Vec<StageChance> {
    chances(&StageNeeds::all(build), &Likely::by(supplies, by, &[]))
}

/// The same, of needs that were worked out before.
pub(crate) fn chances(needs: &[StageNeeds], likely: &Likely) -> Vec<StageChance> {
    (needs.iter())
        .map(|stage| StageChance {
            start: any(likely, &stage.firsts),
            complete: likely.at_least(&stage.through),
        })
        .collect()
}

/// What a stage needs, by mark.
pub(crate) struct StageNeeds {
    /// It and all that it follows.
    pub through: Vec<i64>,
    /// All that it follows, and one unit of its own; each kind of unit once, without those that need no less than another.
    firsts: Vec<Vec<i64>>,
}

impl StageNeeds {
    pub fn all(build: &Build) -> Vec<Self> {
        (0..build.stages.len())
            .map(|stage| Self::of(build, stage))
            .collect()
    }

    fn of(build: &Build, stage: usize) -> Self {
        let through = build.through(stage);
        let mut done: Vec<bool> = (build.units.iter())
            .map(|unit| through[unit.stage] && unit.stage != stage)
            .collect();
        let before = build.used(&done);
        let mut kinds: BTreeSet<Vec<i64>> = BTreeSet::new();
        let mut seen = BTreeSet::new();
        for unit in build.units_of(stage) {
            let comes_first = |before: &usize| build.units[*before].stage != stage;
            let shared = (build.shared.iter()).position(|shared| shared.units.contains(&unit));
            if !build.units[unit].after.iter().all(comes_first)
                || !seen.insert((&build.units[unit].needs, shared))
            {
                continue;
            }
            done[unit] = true;
            kinds.insert(build.used(&done));
            done[unit] = false;
        }
        let needs_no_less = |one: &Vec<i64>, other: &Vec<i64>| {
            one != other && one.iter().zip(other).all(|(one, other)| one >= other)
        };
        let firsts: Vec<Vec<i64>> = (kinds.iter())
            .filter(|kind| !kinds.iter().any(|other| needs_no_less(kind, other)))
            .cloned()
            .collect();
        Self {
            through: build.needs_through(stage),
            firsts: match firsts.is_empty() {
                true => vec![before],
                false => firsts,
            },
        }
    }
}

/// The chance that at least one of these needs is met: each, less each two at once, and three, and so on.
fn any(likely: &Likely, needs: &[Vec<i64>]) -> f64 {
    if needs.len() > MOST_FIRSTS {
        let each = needs.iter().map(|needs| likely.at_least(needs));
        return each.fold(0.0, f64::max);
    }
    let chance: f64 = (1..1_usize << needs.len())
        .map(|some| {
            let chosen = (needs.iter().enumerate()).filter(|(nth, _)| some >> nth & 1 == 1);
            let all_at_once = chosen.fold(vec![0; needs[0].len()], |most, (_, needs)| {
                let pairs = most.iter().zip(needs);
                pairs.map(|(most, need)| *most.max(need)).collect()
            });
            let sign = if some.count_ones() % 2 == 1 {
                1.0
            } else {
                -1.0
            };
            sign * likely.at_least(&all_at_once)
        })
        .sum();
    chance.clamp(0.0, 1.0)
}
