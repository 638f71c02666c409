//! How far the pieces that there are go: the most units, stage by stage, in the order of the build.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use crate::build::{Build, Gap};

/// How far the build gets with so many pieces of each mark.
#[derive(Clone, Debug, PartialEq)]
pub struct HowFar {
    /// Each stage, in the order of the build.
    pub stages: Vec<StageReach>,
    /// Whether each unit of the build is done.
    pub done: Vec<bool>,
    /// The bows (from 1) that are left out for now, so that the rest stands braced; they are set in later.
    pub left_out: Vec<usize>,
    /// By mark: the pieces that are built in.
    pub used: Vec<i64>,
    /// Whether no other giving of pieces to places gets farther.
    pub proven: bool,
}

/// How far one stage gets.
#[derive(Clone, Debug, PartialEq)]
pub struct StageReach {
    /// The stage (by index).
    pub stage: usize,
    /// How many units it has; none where the order has nothing for it.
    pub units: usize,
    /// How many of them can be done.
    pub done: usize,
    /// Up to this bow (from 1, counted from the front) all of it can be done but what is left out; nothing where not even
    /// the first can.
    pub through_bow: Option<usize>,
    /// What stops it; empty when all can be done.
    pub stops: Vec<Stop>,
}

/// What stops a stage.
#[derive(Clone, Debug, PartialEq)]
pub enum Stop {
    /// Too few of a mark (by index): so many are needed by the end of this stage, so many are there.
    Short {
        /// The mark.
        mark: usize,
        /// Needed by this stage and all that it follows; where that many are there, by all stages before it too, which
        /// take theirs first.
        needed: i64,
        /// There.
        there: i64,
    },
    /// A stage before it (by index) is not done.
    Before(usize),
}

impl HowFar {
    /// Whether everything can be built.
    pub fn all(&self) -> bool {
        self.done.iter().all(|done| *done)
    }

    /// Which gets farther: the one that gets more units of the first stage done; of two that get as many, the one that gets
    /// more of the second; and so on.
    pub fn compare(&self, other: &Self) -> Ordering {
        let done = |far: &Self| far.stages.iter().map(|s| s.done).collect::<Vec<_>>();
        done(self).cmp(&done(other))
    }
}

/// How far a build gets with so many pieces of each mark, in the order of the parts list.
pub fn how_far(build: &Build, amounts: &[i64]) -> HowFar {
    let mut there: Vec<i64> = amounts.iter().map(|pieces| (*pieces).max(0)).collect();
    there.resize(build.marks.len(), 0);
    let needed = build.needs();
    if needed
        .iter()
        .zip(&there)
        .all(|(needed, there)| needed <= there)
    {
        let done = vec![true; build.units.len()];
        return told(build, &there, done, Vec::new(), true);
    }
    let mut done = vec![false; build.units.len()];
    for (index, unit) in build.units.iter().enumerate() {
        done[index] = unit.after.iter().all(|before| done[*before]);
        let used = build.used(&done);
        done[index] &= used.iter().zip(&there).all(|(used, there)| used <= there);
    }
    told(build, &there, done, Vec::new(), false)
}

/// What is done, told stage by stage.
fn told(
    build: &Build,
    there: &[i64],
    done: Vec<bool>,
    left_out: Vec<usize>,
    proven: bool,
) -> HowFar {
    let stages = (0..build.stages.len())
        .map(|stage| {
            let units: Vec<usize> = build.units_of(stage).collect();
            StageReach {
                stage,
                units: units.len(),
                done: units.iter().filter(|unit| done[**unit]).count(),
                through_bow: through_bow(build, &units, &done, &left_out),
                stops: stops(build, stage, there, &done),
            }
        })
        .collect();
    HowFar {
        stages,
        used: build.used(&done),
        done,
        left_out,
        proven,
    }
}

fn through_bow(build: &Build, units: &[usize], done: &[bool], left_out: &[usize]) -> Option<usize> {
    let is_left_out =
        |unit: &usize| matches!(build.units[*unit].gap, Gap::Bow(bow) if left_out.contains(&bow));
    let first_undone = (units.iter())
        .filter(|unit| !done[**unit] && !is_left_out(unit))
        .map(|unit| build.units[*unit].bows[0])
        .min();
    match first_undone {
        None => Some(build.bows),
        Some(bow) => bow.checked_sub(1).filter(|bow| *bow > 0),
    }
}

/// What stops a stage that is not all done.
fn stops(build: &Build, stage: usize, there: &[i64], done: &[bool]) -> Vec<Stop> {
    let is_done = |stage: usize| build.units_of(stage).all(|unit| done[unit]);
    if is_done(stage) {
        return Vec::new();
    }
    let own: BTreeSet<usize> = (build.units_of(stage))
        .flat_map(|unit| build.units[unit].needs.iter().map(|(mark, _)| *mark))
        .chain(
            (build.shared.iter())
                .filter(|s| s.units.iter().any(|u| build.units[*u].stage == stage))
                .map(|s| s.mark),
        )
        .collect();
    let followed = build.needs_through(stage);
    let earlier: Vec<bool> = build.units.iter().map(|unit| unit.stage <= stage).collect();
    let earlier = build.used(&earlier);
    let short = own.into_iter().filter_map(|mark| {
        let there = there[mark];
        let needed = [followed[mark], earlier[mark]];
        let needed = needed.into_iter().find(|needed| *needed > there)?;
        Some(Stop::Short {
            mark,
            needed,
            there,
        })
    });
    let before = nearest_before(build, stage).into_iter();
    let before = before.filter(|before| !is_done(*before)).map(Stop::Before);
    short.chain(before).collect()
}

/// The stages that a stage follows; for one that the order has nothing for, those that this one follows.
fn nearest_before(build: &Build, stage: usize) -> BTreeSet<usize> {
    let mut before = BTreeSet::new();
    let mut open = build.stages[stage].follows.clone();
    while let Some(at) = open.pop() {
        match build.units_of(at).next() {
            Some(_) => _ = before.insert(at),
            None => open.extend(&build.stages[at].follows),
        }
    }
    before
}
