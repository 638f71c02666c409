//! Setting the order, from fields or from an order file.

use std::collections::BTreeMap;

use axum::extract::State;
use axum::{Extension, Form};
use frame::{ExpandError, Family, Order};
use maud::html;
use tally::{Digest, EventId, Standing, What};

use super::append;
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(fields): Form<BTreeMap<String, String>>,
) -> Reply {
    let id: EventId = (fields.get("id").and_then(|text| text.parse().ok()))
        .ok_or_else(|| Failure::refused("The form was not whole. Open the order page again."))?;
    let order = match fields.get("toml") {
        Some(toml) => Order::read(toml).map_err(|e| said("The order file cannot be read.", &e))?,
        None => from_fields(&fields),
    };
    let standing = yard.at_desk(|desk| desk.standing())?;
    let (family, document) = family_of(&standing, &order)?;
    frame::expand(&order, &family).map_err(cannot_be_built)?;
    append(
        &yard,
        holder,
        id,
        What::OrderSet {
            toml: order.write(),
            family: document,
        },
    )?;
    Ok(see("/order"))
}

/// The order's family, and the document that holds it. A family of the job's own stays the order's while the order
/// names it.
fn family_of(standing: &Standing, order: &Order) -> Result<(Family, Option<Digest>), Failure> {
    let own = standing.state.order.as_ref().and_then(|seen| seen.family);
    let named = standing.ordered().map(|ordered| &ordered.family);
    match named.filter(|family| own.is_some() && family.name == order.family) {
        Some(family) => Ok((family.clone(), own)),
        None => {
            let family = Family::named(&order.family);
            Ok((
                family.map_err(|e| said("The family is not known.", &e))?,
                None,
            ))
        }
    }
}

fn cannot_be_built(error: ExpandError) -> Failure {
    const SAYS: &str = "This house cannot be built as ordered.";
    let ExpandError::Refused(refusal) = error else {
        return said(SAYS, &error);
    };
    let troubles = refusal
        .troubles
        .iter()
        .map(|t| format!("{}: {}", t.field, t.what));
    Failure::refused(SAYS).with(troubles).offering(html! {
        @if !refusal.nearest.is_empty() { h2 { "The nearest orders that can be built" } }
        @for (changes, order) in &refusal.nearest {
            form method="post" action="/order" {
                input type="hidden" name="id" value=(store::fresh_id());
                input type="hidden" name="toml" value=(order.write());
                p { button type="submit" { "Order it with " (changes.join(", ")) } }
            }
        }
    })
}

fn said(says: &str, error: &dyn std::error::Error) -> Failure {
    Failure::refused(says).with(error.to_string().lines().map(String::from))
}

/// Fields named `options.purlins`, `front.door` and so on go into the order's tables of those names.
fn from_fields(fields: &BTreeMap<String, String>) -> Order {
    let field = |name: &str| fields.get(name).cloned().unwrap_or_default();
    let table = |name: &str| -> BTreeMap<String, String> {
        (fields.iter())
            .filter_map(|(key, value)| {
                Some((
                    key.strip_prefix(name)?.strip_prefix('.')?.into(),
                    value.clone(),
                ))
            })
            .collect()
    };
    Order {
        name: field("name"),
        family: field("family"),
        length: field("length"),
        bow_spacing: fields.get("bow_spacing").cloned(),
        uneven: fields.get("uneven").filter(|way| !way.is_empty()).cloned(),
        number: None,
        sender: None,
        site: None,
        units: None,
        options: table("options"),
        front: table("front"),
        back: table("back"),
        left: table("left"),
        right: table("right"),
    }
}
