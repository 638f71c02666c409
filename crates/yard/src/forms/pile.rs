//! Where a pile lies.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::EventId;

use super::{append, refused};
use crate::access::Holder;
use crate::reply::{Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Placed {
    id: EventId,
    pile: String,
    place: String,
}

pub(crate) async fn place(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Placed>,
) -> Reply {
    let what = tally::place_pile(form.pile.trim(), form.place.trim()).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/piles"))
}
