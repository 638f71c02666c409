//! How far a crew gets in a day.
//!
//! Stages are taken in the order of the build. A stage starts when those that it follows are done as far as there are
//! parts for them; every unit of a stage is taken to be as much work as any other. At the slow pace the crew does one
//! stage after another. At the quick pace hands that are of no use at one stage do meanwhile what needs not wait for it.
//! A crew may leave some of its people idle, if it then gets farther in the order of the build.

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
    /// Up to this bow (from 1, counted from the front) all of it, but for bows that are left out.
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
    let [slow, quick] = [(1, false), (0, true)].map(|(pace, alongside)| {
        let tasks = tasks(build, works, far, pace);
        let shares = farthest(&tasks, people, minutes, alongside);
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
                None => format!("{name} begun, {:.0} % of it", done.share * 100.0),
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
    /// Whether it is known how to do it.
    known: bool,
    /// The share that was done before.
    before: f64,
}

fn tasks(build: &Build, works: &[StageWork], far: Option<&HowFar>, pace: usize) -> Vec<Task> {
    (build.stages.iter().zip(works).enumerate())
        .map(|(at, (stage, work))| {
            let whole = work.person_minutes.map_or(0.0, |m| m[pace]);
            let left = work.minutes_left().map_or(0.0, |m| m[pace]);
            let lacking = whole * (1.0 - share_with_parts(build, far, at));
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
                known: work.done || work.person_minutes.is_some(),
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
fn farthest(tasks: &[Task], people: usize, minutes: f64, alongside: bool) -> Vec<f64> {
    let most_of_use: usize = tasks.iter().map(|task| task.people[1]).sum();
    let of_any_number = (0..=people.min(most_of_use))
        .map(|people| one_day(tasks, people, minutes, alongside))
        .max_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    of_any_number.unwrap_or_default()
}

/// Shares out so many people over the day, the earlier stage first.
fn one_day(tasks: &[Task], people: usize, minutes: f64, alongside: bool) -> Vec<f64> {
    let mut open: Vec<f64> = tasks.iter().map(|task| task.open).collect();
    let mut over = vec![false; tasks.len()];
    let mut left = minutes.max(0.0);
    loop {
        let at_work = shared_out(tasks, &open, &mut over, people, alongside);
        let until = (at_work.iter())
            .map(|(task, hands)| open[*task] / hands)
            .fold(left, f64::min);
        if at_work.is_empty() || left <= 0.0 {
            break;
        }
        for (task, hands) in at_work {
            let rest = open[task] - until * hands;
            open[task] = if rest > 1e-9 * tasks[task].whole {
                rest
            } else {
                0.0
            };
        }
        left -= until;
    }
    (tasks.iter().zip(open).zip(over))
        .map(|((task, open), over)| {
            let this_day = if task.whole > 0.0 {
                (task.open - open) / task.whole
            } else {
                0.0
            };
            let nothing_to_do = over && task.whole <= 0.0;
            if nothing_to_do {
                1.0
            } else {
                (task.before + this_day).clamp(0.0, 1.0)
            }
        })
        .collect()
}

/// Which tasks (by index) are at work with how many hands. Marks those that are over.
fn shared_out(
    tasks: &[Task],
    open: &[f64],
    over: &mut [bool],
    people: usize,
    alongside: bool,
) -> Vec<(usize, f64)> {
    let mut free = people;
    let mut at_work = Vec::new();
    for (at, task) in tasks.iter().enumerate() {
        let may_start = task.known && task.follows.iter().all(|before| over[*before]);
        over[at] = may_start && open[at] <= 0.0;
        let [fewest, most] = task.people;
        if may_start && !over[at] && free >= fewest.max(1) && (alongside || at_work.is_empty()) {
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
    Done {
        share,
        units: finished,
        through_bow: match first_undone {
            _ if units.is_empty() => None,
            None => Some(build.bows),
            Some(bow) => bow.checked_sub(1).filter(|bow| *bow > 0),
        },
    }
}
