//! How a shipment was handed over at the truck.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{Delivery, EventId, Outcome, What};

use super::{append, filled, optional_whole, refused};
use crate::access::Holder;
use crate::clock;
use crate::pages::tailgate_words;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;
use crate::{address, forms};

/// The hand-over. The rows from which its words were made come along and are not kept: the words are.
#[derive(Deserialize)]
pub(crate) struct HandOver {
    id: EventId,
    #[serde(default)]
    shipment: String,
    #[serde(default)]
    on: String,
    #[serde(default)]
    time: String,
    #[serde(default)]
    units: String,
    #[serde(default)]
    outcome: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    signed: String,
    #[serde(default)]
    seal: String,
    #[serde(default)]
    seal_state: String,
}

pub(crate) async fn keep(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<HandOver>,
) -> Reply {
    let shipment = filled(&form.shipment)
        .ok_or_else(|| Failure::refused("Say which shipment it is, such as Load 1."))?;
    let outcome = outcome(&form.outcome).ok_or_else(|| {
        Failure::refused(
            "Say what was done: taken with a note, signed clear, refused in part, or refused.",
        )
    })?;
    let at = holder.at.unwrap_or_else(store::now);
    let standing = yard.at_desk(|desk| desk.standing())?;
    let (today, _) = clock::at_site(&standing.state.affairs, at);
    let delivery = Delivery {
        shipment: shipment.into(),
        on: filled(&form.on).map_or_else(|| today.to_string(), String::from),
        // Some browsers send the seconds too.
        time: filled(&form.time).map(|time| time.chars().take(5).collect()),
        units: optional_whole("the number of units off the truck", &form.units)?,
        outcome,
        receipt_note: forms::lines(&form.note),
        driver_signed: match form.signed.as_str() {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        },
        seals: tailgate_words::seal_kept(&form.seal, &form.seal_state),
    };
    let what = tally::say(What::Delivered(delivery)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(&address::handed_over(shipment)))
}

/// The outcome of a name in the forms.
pub(crate) fn outcome(name: &str) -> Option<Outcome> {
    OUTCOMES
        .into_iter()
        .find(|(_, known)| *known == name)
        .map(|(outcome, _)| outcome)
}

/// What can be done at the truck, with its name in the forms.
pub(crate) const OUTCOMES: [(Outcome, &str); 4] = [
    (Outcome::Noted, "noted"),
    (Outcome::SignedClear, "clear"),
    (Outcome::RefusedInPart, "part"),
    (Outcome::Refused, "refused"),
];
