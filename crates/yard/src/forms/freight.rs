//! What the carrier's papers say of a shipment.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{EventId, Freight, What};

use super::{append, filled, optional_whole, refused};
use crate::access::Holder;
use crate::address;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Said {
    id: EventId,
    #[serde(default)]
    shipment: String,
    /// The set of rules for the way it travels, and the one that it was bought under.
    #[serde(default)]
    carried: String,
    #[serde(default)]
    bought: String,
    #[serde(default)]
    carrier: String,
    #[serde(default)]
    bill: String,
    #[serde(default)]
    carrier_number: String,
    #[serde(default)]
    billed_on: String,
    #[serde(default)]
    units: String,
    #[serde(default)]
    units_are: String,
}

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Said>,
) -> Reply {
    let text = |text: &str| text.trim().to_owned();
    let shipment = filled(&form.shipment)
        .ok_or_else(|| Failure::refused("Say which shipment it is, such as Load 1."))?;
    let rules = [form.carried.trim(), form.bought.trim()];
    if let Some(unknown) = claim::unknown_set(&rules.join(" ")) {
        return Err(Failure::refused(format!(
            "There are no rules called “{unknown}”. Open the page again and choose from those that are there."
        )));
    }
    let freight = Freight {
        shipment: shipment.into(),
        rules: rules.join(" ").trim().into(),
        carrier: text(&form.carrier),
        bill: text(&form.bill),
        carrier_number: text(&form.carrier_number),
        billed_on: filled(&form.billed_on).map(String::from),
        units: optional_whole("the number of units on the bill", &form.units)?,
        units_are: text(&form.units_are),
    };
    let what = tally::say(What::FreightSaid(freight)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(&address::tailgate(shipment)))
}
