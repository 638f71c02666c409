//! How far a crew gets in a day.
//!
//! Stages are taken in the order of the build. A stage starts when those that it follows are done as far as there are
//! parts for them; every unit of a stage is taken to be as much work as any other. Hands that are of no use at one stage
//! do meanwhile what needs not wait for it. What wants a calm day is not left half done overnight: it is not begun unless
//! all its parts are there and it is finished by the evening. A crew may leave some of its people idle, if it then gets
//! farther in the order of the build.

use std::collections::BTreeSet;

use crate::build::Build;
use crate::how_far::HowFar;
use crate::work::StageWork;

/// How far a crew gets in a day, between a slow and a quick pace.
#[derive(Clone, Debug, PartialEq)]
pub struct DayReach {
    /// Each stage, in the order of the build.
    pub stages: Vec<StageDay>,
}

/// How far a crew gets with a stage by the evening.
#[derive(Clone, Debug, PartialEq)]
pub struct StageDay {
    /// The stage (by index).
    pub stage: usize,
    /// Whether this house has nothing of it.
    pub nothing: bool,
    /// At the slow pace.
    pub slow: Done,
    /// At the quick pace.
    pub quick: Done,
}

/// What is done of a stage by the evening, what was done before that day with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Done {
    /// The share of the whole stage, from 0 to 1.
    pub share: f64,
    /// How many of its units.
    pub units: usize,
    /// Up to this bow (from 1, counted from the front) all of it, but for bows that are left out; nothing where not even
    /// the first is done, or where the stage does not go from bow to bow.
    pub through_bow: Option<usize>,
}

/// How far so many people get who each work so many minutes. Without how far the parts go, all parts are taken to be
/// there. What is done by [`StageWork::done`] is done; a stage of unknown work, or for which they are too few, is left.
pub fn day_reach(
    build: &Build,
    works: &[StageWork],
    far: Option<&HowFar>,
    people: usize,
    minutes: f64,
) -> DayReach {
    let [slow, quick] = [1, 0].map(|pace| {
        let tasks = tasks(build, works, far, pace);
        let shares = farthest(&tasks, people, minutes);
        (shares.iter().enumerate())
            .map(|(stage, share)| done(build, far, stage, *share))
            .collect::<Vec<Done>>()
    });
    let stages = (slow.into_iter().zip(quick).zip(works).enumerate())
        .map(|(stage, ((slow, quick), work))| StageDay {
            stage,
            nothing: work.is_nothing(),
            slow,
            quick,
        })
        .collect();
    DayReach { stages }
}

impl DayReach {
    /// Where the crew is in the evening, in words: at the slow and at the quick pace.
    pub fn says(&self, build: &Build) -> [String; 2] {
        [
            self.at(build, |day| &day.slow),
            self.at(build, |day| &day.quick),
        ]
    }

    /// The last two stages that are begun and not done; else the last that is done.
    fn at(&self, build: &Build, pace: fn(&StageDay) -> &Done) -> String {
        let days = (self.stages.iter().zip(&build.stages)).filter(|(day, _)| !day.nothing);
        let days: Vec<(&str, &Done)> = days.map(|(day, s)| (s.name.as_str(), pace(day))).collect();
        if days.iter().all(|(_, done)| done.share >= 1.0) {
            return "all done".into();
        }
        let begun: Vec<String> = (days.iter().rev())
            .filter(|(_, done)| done.share > 0.0 && done.share < 1.0)
            .take(2)
            .map(|(name, done)| match done.through_bow {
                Some(bow) => format!("{name} as far as bow {bow}"),
                None => format!("{name} begun, {:.0} % of it", (done.share * 100.0).floor()),
            })
            .collect();
        match days.iter().rev().find(|(_, done)| done.share >= 1.0) {
            _ if !begun.is_empty() => begun.join(" and "),
            Some((name, _)) => format!("{name} done"),
            None => "nothing done".into(),
        }
    }
}

/// A stage as work to be shared out, in minutes of one person.
struct Task {
    /// All of it.
    whole: f64,
    /// What can be done of it now.
    open: f64,
    people: [usize; 2],
    follows: Vec<usize>,
    /// Whether it may be begun at all.
    may_begin: bool,
    /// The share that was done before.
    before: f64,
    /// Whether it must not be left half done overnight.
    in_one_go: bool,
}

impl Task {
    /// The share that is done, when so much is left of what can be done now.
    fn share(&self, open: f64, over: bool) -> f64 {
        match self.whole > 0.0 {
            true => (self.before + (self.open - open) / self.whole).clamp(0.0, 1.0),
            // Nothing to do: done as soon as its turn comes.
            false => f64::from(over),
        }
    }
}

fn tasks(build: &Build, works: &[StageWork], far: Option<&HowFar>, pace: usize) -> Vec<Task> {
    (build.stages.iter().zip(works).enumerate())
        .map(|(at, (stage, work))| {
            let whole = work.person_minutes.map_or(0.0, |m| m[pace]);
            let left = work.minutes_left().map_or(0.0, |m| m[pace]);
            let with_parts = share_with_parts(build, far, at);
            let lacking = whole * (1.0 - with_parts);
            let in_one_go = work.weather.is_some();
            let has_its_parts = !in_one_go || with_parts >= 1.0;
            let open = if work.done {
                0.0
            } else {
                (left - lacking).max(0.0)
            };
            Task {
                whole,
                open,
                people: work.people,
                follows: stage.follows.clone(),
                may_begin: work.done || (work.person_minutes.is_some() && has_its_parts),
                in_one_go,
                before: match (work.done, whole > 0.0) {
                    (true, _) => 1.0,
                    (false, true) => 1.0 - left / whole,
                    (false, false) => 0.0,
                },
            }
        })
        .collect()
}

/// The share of a stage's units for which there are parts.
fn share_with_parts(build: &Build, far: Option<&HowFar>, stage: usize) -> f64 {
    let Some(far) = far else {
        return 1.0;
    };
    let units = (build.units.iter().zip(&far.done)).filter(|(unit, _)| unit.stage == stage);
    let with_parts: Vec<bool> = units.map(|(_, done)| *done).collect();
    match with_parts.len() {
        0 => 1.0,
        all => with_parts.iter().filter(|done| **done).count() as f64 / all as f64,
    }
}

/// The share of each stage that is done when the day is over, for the number of people at work that gets farthest.
fn farthest(tasks: &[Task], people: usize, minutes: f64) -> Vec<f64> {
    let most_of_use: usize = tasks.iter().map(|task| task.people[1]).sum();
    let of_any_number = (0..=people.min(most_of_use))
        .map(|people| one_day(tasks, people, minutes))
        .max_by_key(|shares| {
            // Shares that differ in their last digits are the same share.
            let in_millionths = shares.iter().map(|share| (share * 1e6).round() as i64);
            in_millionths.collect::<Vec<i64>>()
        });
    of_any_number.unwrap_or_default()
}

/// The share of each stage that so many people have done by the evening.
fn one_day(tasks: &[Task], people: usize, minutes: f64) -> Vec<f64> {
    let mut may_begin: Vec<bool> = tasks.iter().map(|task| task.may_begin).collect();
    loop {
        let (open, over) = by_the_evening(tasks, &may_begin, people, minutes);
        let half_done = (0..tasks.len())
            .find(|at| tasks[*at].in_one_go && 0.0 < open[*at] && open[*at] < tasks[*at].open);
        match half_done {
            Some(at) => may_begin[at] = false,
            None => {
                return (tasks.iter().zip(open).zip(over))
                    .map(|((task, open), over)| task.share(open, over))
                    .collect();
            }
        }
    }
}

/// What is left to do of each task in the evening, and whether it is over: people are shared out, the earlier task first,
/// and anew whenever one is finished.
fn by_the_evening(
    tasks: &[Task],
    may_begin: &[bool],
    people: usize,
    minutes: f64,
) -> (Vec<f64>, Vec<bool>) {
    let mut open: Vec<f64> = tasks.iter().map(|task| task.open).collect();
    let mut over = vec![false; tasks.len()];
    let mut left = minutes.max(0.0);
    loop {
        let at_work = shared_out(tasks, may_begin, &open, &mut over, people);
        if at_work.is_empty() || left <= 0.0 {
            return (open, over);
        }
        let until = (at_work.iter())
            .map(|(task, hands)| open[*task] / hands)
            .fold(left, f64::min);
        for (task, hands) in at_work {
            let rest = open[task] - until * hands;
            let is_some = rest > 1e-9 * tasks[task].whole;
            open[task] = if is_some { rest } else { 0.0 };
        }
        left -= until;
    }
}

/// Which tasks (by index) are at work with how many hands. Marks those that are over.
fn shared_out(
    tasks: &[Task],
    may_begin: &[bool],
    open: &[f64],
    over: &mut [bool],
    people: usize,
) -> Vec<(usize, f64)> {
    let mut free = people;
    let mut at_work = Vec::new();
    for (at, task) in tasks.iter().enumerate() {
        let may_start = may_begin[at] && task.follows.iter().all(|before| over[*before]);
        over[at] = task.before >= 1.0 || (may_start && open[at] <= 0.0);
        let [fewest, most] = task.people;
        if may_start && !over[at] && free >= fewest.max(1) {
            let hands = free.min(most.max(1));
            free -= hands;
            at_work.push((at, hands as f64));
        }
    }
    at_work
}

/// A share of a stage in units and bows: those units that have parts, in the order of the build.
fn done(build: &Build, far: Option<&HowFar>, stage: usize, share: f64) -> Done {
    let units: Vec<usize> = (0..build.units.len())
        .filter(|unit| build.units[*unit].stage == stage)
        .collect();
    let has_parts = |unit: usize| far.is_none_or(|far| far.done.get(unit) == Some(&true));
    let is_left_out = |unit: usize| {
        let [from, to] = build.units[unit].bows;
        from == to && far.is_some_and(|far| far.left_out.contains(&from))
    };
    let whole_units = (share * units.len() as f64 + 1e-6).floor() as usize;
    let (with, without): (Vec<usize>, Vec<usize>) =
        (units.iter().copied()).partition(|unit| has_parts(*unit));
    let finished = if share >= 1.0 {
        units.len()
    } else {
        whole_units.min(with.len())
    };
    let undone = with.iter().chain(&without).skip(finished);
    let first_undone = undone
        .filter(|unit| !is_left_out(**unit))
        .map(|unit| build.units[*unit].bows[0])
        .min();
    let starts: BTreeSet<usize> = units
        .iter()
        .map(|unit| build.units[*unit].bows[0])
        .collect();
    Done {
        share,
        units: finished,
        through_bow: match first_undone {
            // All at one place, or at the two ends.
            _ if starts.len() <= 2 => None,
            None => Some(build.bows),
            Some(bow) => bow.checked_sub(1).filter(|bow| *bow > 0),
        },
    }
}
