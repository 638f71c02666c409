//! Keeping what was read of a piece.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::EventId;

use super::{append, filled, refused, unknown_mark};
use crate::access::Holder;
use crate::pages::questions;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Measured {
    id: EventId,
    seen: String,
    #[serde(default)]
    mark: String,
    #[serde(default)]
    pile: String,
}

pub(crate) async fn keep(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Measured>,
) -> Reply {
    let (mark, pile) = (filled(&form.mark), filled(&form.pile));
    let readings = questions::read(&form.seen)?;
    if readings.is_empty() {
        return Err(Failure::refused(
            "Nothing was read of the piece yet, so there is nothing to keep.",
        ));
    }
    if let Some(mark) = mark
        && !yard.at_desk(|desk| desk.has_mark(mark))?
    {
        return Err(unknown_mark());
    }
    let what = tally::measured(mark, pile, readings).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/tell?kept=1"))
}
