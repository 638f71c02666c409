//! Counts, conditions, notes, and taking any of them back.

use axum::extract::{Path, State};
use axum::{Extension, Form};
use measure::System;
use serde::Deserialize;
use tally::{EventId, How, Knew};

use super::ways::Way;
use super::{append, append_to_mark, decide, filled, refused, unknown_mark};
use crate::access::Holder;
use crate::address;
use crate::desk::has_mark;
use crate::pages;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Count {
    id: EventId,
    #[serde(flatten)]
    way: Way,
    #[serde(default)]
    pile: String,
    #[serde(default)]
    how: String,
    /// The highest number of an event that the page showed; a count anew takes the place of no later one.
    #[serde(default)]
    knew: String,
}

pub(crate) async fn add(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    Form(form): Form<Count>,
) -> Reply {
    let pile = filled(&form.pile);
    if !matches!(form.how.as_str(), "anew" | "again") && !form.way.asks_what_it_is() {
        // Nothing about it follows from how things stand, so nobody waits for that to be worked out.
        let (quantity, how) = form.way.counted(None, System::FeetInch)?;
        if let How::Photo { photo, .. } = &how {
            let known = yard
                .at_desk(|desk| desk.standing())?
                .state
                .has_picture(photo);
            known.then_some(()).ok_or_else(|| {
                Failure::refused("There is no such picture in this copy of the job. Take it again.")
            })?;
        }
        let what = tally::count(&mark, pile, quantity, how).map_err(refused)?;
        append_to_mark(&yard, holder, form.id, &mark, what)?;
        return Ok(back(&mark, form.id));
    }
    let device = holder.device.clone();
    decide(&yard, holder, form.id, |standing| {
        if !has_mark(standing, &mark) {
            return Err(unknown_mark());
        }
        let ordered = standing.ordered();
        let part = ordered.and_then(|ordered| Some(&ordered.parts.line(&mark)?.part));
        let system = ordered.map_or(System::FeetInch, |ordered| ordered.frame.system);
        let (quantity, how) = form.way.counted(part, system)?;
        let knew = Knew {
            upto: form.knew.parse().unwrap_or(standing.state.upto),
            device: &device,
        };
        let what = match form.how.as_str() {
            "anew" => tally::recount(&standing.state, knew, &mark, pile, quantity, how),
            "again" => tally::count_again(&standing.state, knew, &mark, pile, quantity, how),
            _ => tally::count(&mark, pile, quantity, how),
        };
        what.map_err(refused)
    })?;
    Ok(back(&mark, form.id))
}

#[derive(Deserialize)]
pub(crate) struct Conditioned {
    id: EventId,
    quantity: i64,
    condition: String,
    #[serde(default)]
    words: String,
}

pub(crate) async fn condition(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    Form(form): Form<Conditioned>,
) -> Reply {
    let condition = pages::conditions::condition_named(&form.condition)
        .ok_or_else(|| Failure::refused("Say what is wrong: damaged, bent, wet or wrong."))?;
    let what =
        tally::condition(&mark, form.quantity, condition, form.words.trim()).map_err(refused)?;
    append_to_mark(&yard, holder, form.id, &mark, what)?;
    Ok(back(&mark, form.id))
}

#[derive(Deserialize)]
pub(crate) struct Note {
    id: EventId,
    #[serde(default)]
    mark: String,
    words: String,
}

pub(crate) async fn note(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Note>,
) -> Reply {
    let mark = Some(form.mark.as_str()).filter(|m| !m.is_empty());
    let what = tally::note(mark, form.words.trim()).map_err(refused)?;
    match mark {
        Some(mark) => append_to_mark(&yard, holder, form.id, mark, what)?,
        None => append(&yard, holder, form.id, what)?,
    }
    Ok(mark.map_or_else(|| see("/"), |mark| back(mark, form.id)))
}

#[derive(Deserialize)]
pub(crate) struct Undo {
    id: EventId,
    event: EventId,
    /// The mark whose page it was done on.
    #[serde(default)]
    back: String,
    /// Another page that it was done on.
    #[serde(default)]
    to: String,
}

pub(crate) async fn undo(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Undo>,
) -> Reply {
    decide(&yard, holder, form.id, |standing| {
        tally::correct(&standing.state, form.event, "").map_err(refused)
    })?;
    match form.to.as_str() {
        "/photos" => Ok(see("/photos")),
        "/points" => Ok(see(&format!("/points?done={}", form.id))),
        "/prices" => Ok(see("/prices")),
        "/dates" => Ok(see("/dates")),
        "/stages" => Ok(see("/stages")),
        gate if gate.starts_with("/tailgate?") => Ok(see(gate)),
        _ => Ok(back(&form.back, form.id)),
    }
}

/// Back to the mark's page, which says that the event was kept.
fn back(mark: &str, event: EventId) -> axum::response::Response {
    see(&format!("{}?done={event}", address::count(mark)))
}
