//! What `tallyard ready --json` prints.

use claim::Date;
use ready::{Call, CallIs, ComingIs, DayOutlook, HowFar, PaceRests, Readiness, StageWork, Stop};
use serde::Serialize;
use tally::Standing;

#[derive(Serialize)]
pub struct Ready {
    today: String,
    day: Option<String>,
    call: Option<Answer>,
    stages: Vec<Stage>,
    left_out: Vec<usize>,
    proven: bool,
    days: Vec<Day>,
    coming: Vec<Coming>,
}

#[derive(Serialize)]
struct Answer {
    is: &'static str,
    says: String,
    why: Vec<String>,
    chance: f64,
    chance_says: String,
    rests_on: Vec<String>,
    would_change: Vec<String>,
}

#[derive(Serialize)]
struct Stage {
    stage: String,
    follows: Vec<String>,
    units: usize,
    done: usize,
    done_if_only_counted: usize,
    through_bow: Option<usize>,
    short: Vec<Short>,
    built: bool,
    people: Option<People>,
    person_hours: Option<[f64; 2]>,
    hours_rest_on: &'static str,
}

#[derive(Serialize)]
struct Short {
    mark: String,
    needed: i64,
    there: i64,
}

#[derive(Serialize)]
struct People {
    fewest: usize,
    most_of_use: usize,
}

#[derive(Serialize)]
struct Day {
    day: String,
    people: i64,
    minutes: i64,
    planned: bool,
    called: bool,
    call: Answer,
    chances: Vec<Chance>,
}

#[derive(Serialize)]
struct Chance {
    stage: String,
    start: f64,
    complete: f64,
}

#[derive(Serialize)]
struct Coming {
    name: String,
    kind: &'static str,
    says: String,
}

/// How a job is ready; `answered` is the day that the answer is for.
pub fn ready(
    standing: &Standing,
    readiness: &Readiness,
    today: Date,
    answered: Option<&DayOutlook>,
    call: Option<&Call>,
) -> Ready {
    let far = answered.map_or_else(|| readiness.far(today), DayOutlook::counts_on);
    Ready {
        today: today.to_string(),
        day: answered.map(|day| day.day.to_string()),
        call: call.map(answer),
        stages: stages(standing, readiness, far),
        left_out: far.left_out.clone(),
        proven: far.proven,
        days: readiness.days.iter().map(|of| day(readiness, of)).collect(),
        coming: readiness.supplies.coming.iter().map(coming).collect(),
    }
}

fn answer(call: &Call) -> Answer {
    Answer {
        is: match call.is {
            CallIs::Go => "go",
            CallIs::GoAsFar => "go_as_far",
            CallIs::Wait => "wait",
            CallIs::Built => "built",
        },
        says: call.says.clone(),
        why: call.why.clone(),
        chance: call.chance,
        chance_says: call.chance_says.clone(),
        rests_on: call.rests_on.clone(),
        would_change: call.would_change.clone(),
    }
}

fn stages(standing: &Standing, readiness: &Readiness, far: &HowFar) -> Vec<Stage> {
    let build = &readiness.build;
    let plans = &standing.state.plans;
    let works = &readiness.works;
    let name = |at: usize| Some(build.stages.get(at)?.name.clone());
    (far.stages.iter())
        .filter_map(|reach| {
            let stage = build.stages.get(reach.stage)?;
            let work = works.iter().find(|work| work.stage == reach.stage);
            let counted = (readiness.counted.stages.iter()).find(|one| one.stage == reach.stage);
            Some(Stage {
                stage: stage.name.clone(),
                follows: stage.follows.iter().copied().filter_map(name).collect(),
                units: reach.units,
                done: reach.done,
                done_if_only_counted: counted.map_or(0, |reach| reach.done),
                through_bow: reach.through_bow,
                short: reach
                    .stops
                    .iter()
                    .filter_map(|stop| short(readiness, stop))
                    .collect(),
                built: (plans.worked.get(&stage.name)).is_some_and(|seen| seen.done),
                people: (work.filter(|work| work.people[1] > 0)).map(|work| People {
                    fewest: work.people[0],
                    most_of_use: work.people[1],
                }),
                person_hours: work
                    .and_then(|work| work.person_minutes)
                    .map(|minutes| minutes.map(|minutes| minutes / 60.0)),
                hours_rest_on: rests(work),
            })
        })
        .collect()
}

fn short(readiness: &Readiness, stop: &Stop) -> Option<Short> {
    match stop {
        Stop::Short {
            mark,
            needed,
            there,
        } => Some(Short {
            mark: readiness.build.marks.get(*mark)?.clone(),
            needed: *needed,
            there: *there,
        }),
        Stop::Before(_) => None,
    }
}

fn rests(work: Option<&StageWork>) -> &'static str {
    match work.map(|work| work.rests) {
        Some(PaceRests::OurRates) => "our_rates_no_source",
        Some(PaceRests::CrewsPace) => "our_rates_times_the_crews_pace",
        Some(PaceRests::Recorded) => "recorded",
        Some(PaceRests::Unknown) | None => "unknown",
    }
}

fn day(readiness: &Readiness, of: &DayOutlook) -> Day {
    let stages = readiness.build.stages.iter();
    Day {
        day: of.day.to_string(),
        people: of.people,
        minutes: of.minutes,
        planned: of.planned,
        called: of.called,
        call: answer(&of.call),
        chances: (stages.zip(&of.chances))
            .map(|(stage, chance)| Chance {
                stage: stage.name.clone(),
                start: chance.start,
                complete: chance.complete,
            })
            .collect(),
    }
}

fn coming(coming: &ready::Coming) -> Coming {
    Coming {
        name: coming.name.clone(),
        kind: match coming.is {
            ComingIs::Shipment => "shipment",
            ComingIs::Sent => "sent",
            ComingIs::WayRound => "way_round",
            ComingIs::Story => "explanation",
        },
        says: coming.says.clone(),
    }
}
