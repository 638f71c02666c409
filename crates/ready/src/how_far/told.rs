//! What is done, told stage by stage, with what stops the rest.

use std::collections::BTreeSet;

use super::{HowFar, StageReach, Stop};
use crate::build::{Build, Gap};

/// What is done, told stage by stage.
pub(super) fn told(
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
    short
        .chain(
            open_before(build, stage, is_done)
                .into_iter()
                .map(Stop::Before),
        )
        .collect()
}

/// The stages that a stage follows and that are not done; through those that are, since what spans a gap can be done where
/// what follows it cannot.
fn open_before(build: &Build, stage: usize, is_done: impl Fn(usize) -> bool) -> BTreeSet<usize> {
    let mut before = BTreeSet::new();
    let mut looked = BTreeSet::new();
    let mut open = build.stages[stage].follows.clone();
    while let Some(at) = open.pop() {
        if !looked.insert(at) {
            continue;
        }
        match is_done(at) {
            true => open.extend(&build.stages[at].follows),
            false => _ = before.insert(at),
        }
    }
    before
}
