//! Plans: days with a crew, when a shipment is expected, ways round what is short, what was worked, tools that are here.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{CrewDay, EventId, Expected, Standing, ToolsSeen, WaySaid, WayStands, What, Worked};

use super::{append, decide, filled, refused, unknown_mark, whole};
use crate::access::Holder;
use crate::address;
use crate::desk::has_mark;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct OneDay {
    id: EventId,
    #[serde(default)]
    day: String,
    #[serde(default)]
    people: String,
    #[serde(default)]
    hours: String,
    /// "yes" when they were told to come.
    #[serde(default)]
    called: String,
    #[serde(default)]
    words: String,
}

/// A day on which a crew could build, or with nobody on it: that it is no such day after all.
pub(crate) async fn crew_day(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<OneDay>,
) -> Reply {
    let people = whole("the number of people", &form.people)?;
    let day = CrewDay {
        day: form.day.trim().into(),
        people,
        minutes: match people {
            0 => 0,
            _ => (minutes("the hours of each", &form.hours)?)
                .filter(|minutes| *minutes > 0)
                .ok_or_else(|| {
                    Failure::refused("Say how many hours each works that day, such as 8 or 7.5.")
                })?,
        },
        called: form.called == "yes",
        words: form.words.trim().into(),
    };
    let what = tally::say(What::CrewDay(day)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/ready#days"))
}

#[derive(Deserialize)]
pub(crate) struct Between {
    id: EventId,
    #[serde(default)]
    shipment: String,
    #[serde(default)]
    earliest: String,
    #[serde(default)]
    latest: String,
    #[serde(default)]
    words: String,
}

/// Between which days a shipment will come.
pub(crate) async fn expected(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Between>,
) -> Reply {
    let expected = Expected {
        shipment: form.shipment.trim().into(),
        earliest: filled(&form.earliest).map(String::from),
        latest: filled(&form.latest).map(String::from),
        words: form.words.trim().into(),
    };
    // Days are written so that their order is that of their letters.
    if let (Some(first), Some(last)) = (&expected.earliest, &expected.latest)
        && first > last
    {
        return Err(Failure::refused(
            "The first day is after the last one. Put the earlier of the two first.",
        ));
    }
    let what = tally::say(What::Expected(expected)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/ready#coming"))
}

#[derive(Deserialize)]
pub(crate) struct OneWay {
    id: EventId,
    #[serde(default)]
    mark: String,
    #[serde(default)]
    way: String,
    #[serde(default)]
    quantity: String,
    #[serde(default)]
    stands: String,
    #[serde(default)]
    words: String,
}

/// How a way round a shortage stands.
pub(crate) async fn way(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<OneWay>,
) -> Reply {
    let stands = match form.stands.as_str() {
        "meant" => WayStands::Meant,
        "asked" => WayStands::Asked,
        "allowed" => WayStands::Allowed,
        "refused" => WayStands::Refused,
        "dropped" => WayStands::Dropped,
        _ => {
            return Err(Failure::refused(
                "Say how it stands: you mean to, you asked, they allow it, they refuse it, or it is dropped.",
            ));
        }
    };
    let said = WaySaid {
        mark: form.mark.trim().into(),
        way: form.way.trim().into(),
        quantity: whole("the number of pieces", &form.quantity)?,
        stands,
        words: form.words.trim().into(),
    };
    let what = tally::say(What::WaySaid(said)).map_err(refused)?;
    let mark = form.mark.trim();
    decide(&yard, holder, form.id, |standing| {
        match has_mark(standing, mark) {
            true => Ok(what),
            false => Err(unknown_mark()),
        }
    })?;
    Ok(see(&address::ways_of(mark)))
}

#[derive(Deserialize)]
pub(crate) struct SomeWork {
    id: EventId,
    #[serde(default)]
    stage: String,
    #[serde(default)]
    people: String,
    #[serde(default)]
    hours: String,
    /// "yes" when the stage is done.
    #[serde(default)]
    done: String,
}

/// What was worked on a stage of the build.
pub(crate) async fn worked(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<SomeWork>,
) -> Reply {
    let each = minutes("the hours of each", &form.hours)?;
    let people = filled(&form.people)
        .map(|people| whole("the number of people", people))
        .transpose()?;
    let person_minutes = match (people, each) {
        (Some(people), Some(each)) => Some(people.saturating_mul(each)),
        (None, None) => None,
        _ => {
            return Err(Failure::refused(
                "Say both how many people worked and for how many hours each, or leave both empty.",
            ));
        }
    };
    let done = form.done == "yes";
    if person_minutes.is_none() && !done {
        return Err(Failure::refused(
            "Say that the stage is done, or how many people worked for how long.",
        ));
    }
    let stage = form.stage.trim();
    let work = Worked {
        stage: stage.into(),
        person_minutes,
        done,
    };
    let what = tally::say(What::Worked(work)).map_err(refused)?;
    decide(&yard, holder, form.id, |standing| {
        match has_stage(standing, stage) {
            true => Ok(what),
            false => Err(Failure::refused(
                "The build has no such stage. Open the page of stages again.",
            )),
        }
    })?;
    Ok(see(&address::stage(stage)))
}

fn has_stage(standing: &Standing, stage: &str) -> bool {
    (standing.ordered()).is_some_and(|ordered| ordered.frame.stages.iter().any(|one| one == stage))
}

#[derive(Deserialize)]
pub(crate) struct Tool {
    id: EventId,
    #[serde(default)]
    tool: String,
    #[serde(default)]
    quantity: String,
}

/// Tools that are here.
pub(crate) async fn tool(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Tool>,
) -> Reply {
    let tools = ToolsSeen {
        tool: form.tool.trim().into(),
        quantity: whole("the number of tools", &form.quantity)?,
    };
    let what = tally::say(What::ToolsSeen(tools)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/tools"))
}

/// Hours as people type them, "8", "7.5", "7,5" or "7:30", in minutes; nothing where left empty.
fn minutes(what: &str, text: &str) -> Result<Option<i64>, Failure> {
    let Some(text) = filled(text) else {
        return Ok(None);
    };
    let read = || -> Option<i64> {
        if let Some((hours, rest)) = text.split_once(':') {
            let rest: i64 = rest.parse().ok().filter(|rest| (0..60).contains(rest))?;
            return Some(hours.parse::<u16>().ok()? as i64 * 60 + rest);
        }
        let hours: f64 = text.replace(',', ".").parse().ok()?;
        (0.0..=1000.0)
            .contains(&hours)
            .then(|| (hours * 60.0).round() as i64)
    };
    read().map(Some).ok_or_else(|| {
        let said: String = text.chars().take(40).collect();
        Failure::refused(format!(
            "{} must be hours, such as 8, 7.5 or 7:30; it is “{said}”.",
            frame::capitalised(what)
        ))
    })
}
