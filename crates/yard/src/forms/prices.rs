//! What a piece costs, and other costs.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{BadMoney, Currency, EventId, Money, Priced, What};

use super::{append, append_to_mark, filled, refused};
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Price {
    id: EventId,
    /// Empty for a cost of another kind.
    #[serde(default)]
    mark: String,
    #[serde(default)]
    words: String,
    /// Left empty: not known again.
    #[serde(default)]
    each: String,
    currency: String,
}

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Price>,
) -> Reply {
    let bad = |why: BadMoney| Failure::refused(format!("{why}."));
    let currency: Currency = form.currency.parse().map_err(bad)?;
    let each = (filled(&form.each).map(|sum| Money::read(sum, currency))).transpose();
    let mark = filled(&form.mark);
    let priced = Priced {
        mark: mark.map(String::from),
        words: form.words.trim().into(),
        each: each.map_err(bad)?,
    };
    let what = tally::say(What::Priced(priced)).map_err(refused)?;
    match mark {
        Some(mark) => append_to_mark(&yard, holder, form.id, mark, what)?,
        None => append(&yard, holder, form.id, what)?,
    }
    Ok(see("/prices"))
}
