//! The build-day folder, taken from how a job stands.

use std::collections::BTreeMap;

use claim::Date;
use frame::{Frame, Lit, View};
use ready::{
    CallIs, DayOutlook, HowFar, PaceRests, Readiness, StageReach, StageWork, Stop, chance_in_words,
    hours, tools_needed,
};
use tally::{Ordered, Plans, Standing};

use crate::build_day::{BuildDay, CallSign, DayCall, StageCard, StagePart, StageState, ToolRow};
use crate::build_day_ground::{Piles, lifting, setting_out, staging, unloading};
use crate::build_day_people::{contacts, points};
use crate::drawings::Drawing;
use crate::of_standing::order_line;
use crate::tell_apart_of::tell_apart_of;

/// Returns the folder of a job: for the day that a crew was called for, else for the earliest that was planned, else for
/// today. Nothing without an order that can be built.
pub fn build_day_of(standing: &Standing, readiness: &Readiness, today: Date) -> Option<BuildDay> {
    let ordered = standing.ordered()?;
    let (plans, works) = (&standing.state.plans, &readiness.works);
    let day = readiness.day(today);
    // The cards say what the answer counts on, so that both leave out the same bows.
    let far = readiness.far(today);
    let piles = Piles::of(ordered, &readiness.build);
    let of_stage = |work: &StageWork| stage(ordered, readiness, day, far, work, &piles);
    Some(BuildDay {
        job: ordered.order.name.clone(),
        order: order_line(ordered),
        site: ordered.order.site.clone().unwrap_or_default(),
        call: call(readiness),
        when: day.map(when).unwrap_or_default(),
        stages: (works.iter())
            .filter(|work| !work.is_nothing())
            .map(of_stage)
            .collect(),
        setting_out: setting_out(&ordered.frame),
        staging: staging(ordered, plans, &piles),
        unloading: unloading(ordered, plans),
        lifting: lifting(ordered, plans),
        card: tell_apart_of(standing).filter(|card| !card.groups.is_empty()),
        contacts: contacts(standing),
        points: points(standing),
        tools: tools(works, plans),
    })
}

/// When, who and how long; nothing while nobody planned a crew for the day.
fn when(day: &DayOutlook) -> String {
    if !day.planned {
        return format!("{}: no crew planned yet", claim::day_in_words(day.day));
    }
    let people = match day.people {
        1 => "1 person".to_owned(),
        n => format!("{n} people"),
    };
    let called = if day.called { ", called" } else { "" };
    let long = in_hours(day.minutes as f64 / 60.0);
    format!(
        "{}: {people}, {long} each{called}",
        claim::day_in_words(day.day)
    )
}

fn call(readiness: &Readiness) -> DayCall {
    let Some(call) = &readiness.call else {
        return DayCall {
            words: "Wait".into(),
            why: vec!["Nobody has said a day and a crew yet.".into()],
            ..DayCall::default()
        };
    };
    DayCall {
        sign: match call.is {
            CallIs::Go => CallSign::Go,
            CallIs::GoAsFar => CallSign::GoAsFar,
            CallIs::Wait => CallSign::Wait,
            CallIs::Built => CallSign::Built,
        },
        words: call.says.clone(),
        why: call.why.clone(),
        chance: call.chance_says.clone(),
        rests_on: call.rests_on.clone(),
        would_change: call.would_change.clone(),
    }
}

fn stage(
    ordered: &Ordered,
    readiness: &Readiness,
    day: Option<&DayOutlook>,
    far: &HowFar,
    work: &StageWork,
    piles: &Piles,
) -> StageCard {
    let (build, at) = (&readiness.build, work.stage);
    let reach = far.stages.iter().find(|reach| reach.stage == at);
    let planned = day.filter(|day| day.planned);
    let people = planned.map(|day| usize::try_from(day.people).unwrap_or(0));
    let stage_name = |n: &usize| build.stages.get(*n).map(|stage| stage.name.clone());
    let (state, words) = state_of(work, reach, &left_out(readiness, far, reach));
    StageCard {
        name: work.name.clone(),
        says: work.says.clone(),
        state,
        reach: words,
        chance: match (work.done, day.and_then(|day| day.chances.get(at))) {
            (false, Some(chance)) => chance_in_words(chance.complete),
            _ => String::new(),
        },
        stops: stops(readiness, far, reach),
        after: (build.stages.get(at).iter())
            .flat_map(|stage| stage.follows.iter().filter_map(stage_name))
            .collect(),
        drawing: stage_drawing(&ordered.frame, &work.name),
        parts: stage_parts(ordered, work, reach, piles),
        people: from_to(work.people),
        hours: how_long(work, people),
        sure: match work.rests {
            PaceRests::OurRates => "our own rates, no source",
            PaceRests::CrewsPace => "by this crew's own pace",
            PaceRests::Recorded => "as recorded",
            PaceRests::Unknown => "",
        }
        .into(),
        tools: (work.tools.iter())
            .map(|need| {
                let says = tool_in_words(&need.tool, need.quantity, need.useful);
                (says, need.quantity)
            })
            .collect(),
        wear: work.wear.clone(),
        weather: work.weather.clone().unwrap_or_default(),
        cautions: work.cautions.clone(),
    }
}

/// How far a stage gets, and the same in words.
fn state_of(
    work: &StageWork,
    reach: Option<&StageReach>,
    left_out: &[usize],
) -> (StageState, String) {
    match reach {
        _ if work.done => (StageState::Done, "done".into()),
        Some(reach) if reach.done < reach.units => match (reach.done, reach.through_bow) {
            (0, _) => (StageState::Waits, "waits".into()),
            (_, Some(bow)) if !left_out.is_empty() => (
                StageState::Part,
                format!("as far as bow {bow}, without {}", joined(left_out)),
            ),
            (_, Some(bow)) => (StageState::Part, format!("as far as bow {bow}")),
            (done, None) => (StageState::Part, format!("{done} of {}", reach.units)),
        },
        _ => (StageState::Whole, "all of it".into()),
    }
}

/// What stops a stage, and which bows are left out of it.
fn stops(readiness: &Readiness, far: &HowFar, reach: Option<&StageReach>) -> Vec<String> {
    let build = &readiness.build;
    let Some(reach) = reach else {
        return Vec::new();
    };
    let stopped = reach.stops.iter().filter_map(|stop| match stop {
        Stop::Short {
            mark,
            needed,
            there,
        } => {
            let mark = build.marks.get(*mark)?;
            Some(format!("{mark}: {needed} needed so far, {there} there."))
        }
        Stop::Before(stage) => {
            let name = &build.stages.get(*stage)?.name;
            Some(format!("All of it waits for all of: {name}."))
        }
    });
    let mut stops: Vec<String> = stopped.collect();
    let bows = left_out(readiness, far, Some(reach));
    if !bows.is_empty() {
        let bows = ready::bows_in_words(&bows);
        stops.push(format!("Leave out {bows} for now. {}", ready::LEAVE_OUT));
    }
    stops
}

/// The bows that a stage leaves out for now, where it goes bow by bow, is begun and is not all there.
fn left_out(readiness: &Readiness, far: &HowFar, reach: Option<&StageReach>) -> Vec<usize> {
    let begun = reach.filter(|reach| reach.done > 0 && reach.done < reach.units);
    let of_bow = |bow: &usize| {
        let mut units = readiness.build.units.iter();
        begun.is_some_and(|reach| {
            units.any(|unit| unit.stage == reach.stage && unit.bows == [*bow; 2])
        })
    };
    far.left_out.iter().copied().filter(of_bow).collect()
}

/// "7 and 10", "3, 7 and 10".
fn joined(bows: &[usize]) -> String {
    let bows: Vec<String> = bows.iter().map(usize::to_string).collect();
    match bows.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

fn stage_parts(
    ordered: &Ordered,
    work: &StageWork,
    reach: Option<&StageReach>,
    piles: &Piles,
) -> Vec<StagePart> {
    let short = |at: usize| {
        let stops = reach.iter().flat_map(|reach| &reach.stops);
        stops
            .filter_map(|stop| match stop {
                Stop::Short {
                    mark,
                    needed,
                    there,
                } if *mark == at => Some(needed - there),
                _ => None,
            })
            .fold(0, i64::max)
    };
    (ordered.parts.lines.iter().enumerate())
        .filter_map(|(at, line)| {
            let of_stage = line.stages().into_iter();
            let quantity = of_stage
                .filter(|(stage, _)| *stage == work.name)
                .map(|(_, n)| n)
                .sum();
            (quantity > 0).then(|| StagePart {
                mark: line.part.mark.0.clone(),
                description: line.part.description.clone(),
                quantity,
                missing: short(at).clamp(0, quantity),
                piles: piles.with(&line.part.mark.0),
                svg: frame::part_drawing(&line.part),
            })
        })
        .collect()
}

fn tools(works: &[StageWork], plans: &Plans) -> Vec<ToolRow> {
    let names: BTreeMap<usize, &str> = (works.iter())
        .map(|work| (work.stage, work.name.as_str()))
        .collect();
    (tools_needed(works).into_iter())
        .map(|tally| ToolRow {
            here: plans.tools.get(&tally.tool).copied(),
            tool: tool_in_words(&tally.tool, tally.quantity, tally.useful),
            needed: tally.quantity,
            stages: (tally.stages.iter())
                .filter_map(|stage| names.get(stage).map(|name| (*name).to_owned()))
                .collect(),
        })
        .collect()
}

/// "post driver, of use up to 3": alike on the cards and in the tally, where the count needed stands beside it.
fn tool_in_words(tool: &str, needed: i64, useful: i64) -> String {
    match useful > needed {
        true => format!("{tool}, of use up to {useful}"),
        false => tool.to_owned(),
    }
}

/// "2 to 6", "2".
fn from_to([fewest, most]: [usize; 2]) -> String {
    match fewest >= most {
        true => fewest.to_string(),
        false => format!("{fewest} to {most}"),
    }
}

/// How long a stage takes the crew; with nobody named, as many as are of use.
fn how_long(work: &StageWork, people: Option<usize>) -> String {
    let [fewest, most] = work.people;
    let of_use = people.unwrap_or(most).min(most);
    match hours(work, of_use) {
        Some([quick, slow]) => {
            let (quick, slow) = (in_hours(quick), in_hours(slow));
            match quick == slow {
                true => format!("{quick} with {of_use}"),
                false => format!("{quick} to {slow} with {of_use}"),
            }
        }
        None if work.person_minutes.is_some() => format!("it takes {fewest} people"),
        None => String::new(),
    }
}

/// Hours to the quarter, minutes below one: "2 h 30 min", "20 min".
fn in_hours(hours: f64) -> String {
    let minutes = match hours < 1.0 {
        true => (hours * 12.0).round().max(1.0) * 5.0,
        false => (hours * 4.0).round() * 15.0,
    };
    match ((minutes / 60.0) as i64, (minutes % 60.0) as i64) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// The house with all that a stage brings lit, in black: on the printer of a site office thick lines are told from thin
/// grey ones, not orange from grey. Nothing where the stage brings nothing that can be drawn.
pub fn stage_drawing(frame: &Frame, stage: &str) -> Option<Drawing> {
    let pieces = (frame.pieces.iter()).any(|piece| frame.belongs(piece.member).0 == stage);
    let hardware = || (frame.joints.iter()).any(|joint| frame.joint_kind(joint).stage == stage);
    let hung = || frame.hung.iter().any(|hung| hung.stage == stage);
    (pieces || hardware() || hung()).then(|| {
        let svg = frame::isometric_lit(frame, View::FrontRight, Lit::Stage(stage));
        let says =
            format!("The house with everything for {stage} in thick black, the rest in thin grey.");
        Drawing {
            title: frame::capitalised(stage),
            says,
            svg: svg.replace(LIT_ON_SCREEN, INK),
        }
    })
}

/// What a lit line is drawn with on a screen.
const LIT_ON_SCREEN: &str = "#b3470b";
/// Ink.
const INK: &str = "#000";
