//! A shipment is here.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{EventId, What};

use super::append;
use crate::access::Holder;
use crate::reply::{Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Arrived {
    id: EventId,
    shipment: String,
}

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Arrived>,
) -> Reply {
    append(
        &yard,
        holder,
        form.id,
        What::ShipmentArrived {
            shipment: form.shipment,
        },
    )?;
    Ok(see("/"))
}
