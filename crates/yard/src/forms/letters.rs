//! What papers say that nothing else in the log holds.

use axum::extract::State;
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{EventId, Standing, What, Written};

use super::{append, filled, lines, refused, whole};
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Said {
    id: EventId,
    field: String,
    /// Empty for what holds for every shipment.
    #[serde(default)]
    shipment: String,
    /// Left empty: not said again.
    #[serde(default)]
    words: String,
}

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Said>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let words = lines(&form.words);
    let shipment = filled(&form.shipment);
    if let Some(name) = shipment
        && !standing.shipments.contains_key(name)
    {
        return Err(Failure::refused(format!(
            "There is no shipment of the name “{name}”. Open the page again."
        )));
    }
    check(&standing, &form.field, shipment, &words)?;
    let written = Written {
        field: form.field,
        shipment: shipment.map(String::from),
        words,
    };
    let what = tally::say(What::Written(written)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/letters"))
}

/// Refuses a field that no paper has, and words that it cannot hold.
fn check(
    standing: &Standing,
    field: &str,
    shipment: Option<&str>,
    words: &str,
) -> Result<(), Failure> {
    let unknown = || Failure::refused("No paper has this field. Open the page again.");
    if let Some(known) = paper::FIELDS.iter().find(|known| known.name == field) {
        if !known.lines && words.contains('\n') {
            return Err(Failure::refused(format!(
                "{} is one line; this has several.",
                known.asks
            )));
        }
        return match known.of_shipment || shipment.is_none() {
            true => Ok(()),
            false => Err(unknown()),
        };
    }
    let difference = standing.difference.as_ref().ok_or_else(unknown)?;
    let is = |of: fn(&str) -> String| difference.marks.iter().any(|mark| of(&mark.mark) == field);
    if shipment.is_some() && (is(paper::harmed_field) || is(paper::lost_field)) {
        return match words {
            "" => Ok(()),
            words => whole("the number of pieces", words).map(drop),
        };
    }
    if shipment.is_some() && is(paper::hidden_field) {
        return match words {
            "" | "yes" | "no" => Ok(()),
            _ => Err(Failure::refused("The answer must be yes or no.")),
        };
    }
    let costs = &standing.state.affairs.costs;
    if shipment.is_none() && costs.keys().any(|words| paper::cost_field(words) == field) {
        return match words {
            "" | paper::NO_CARRIER => Ok(()),
            name if standing.shipments.contains_key(name) => Ok(()),
            name => Err(Failure::refused(format!(
                "There is no shipment of the name “{name}”."
            ))),
        };
    }
    Err(unknown())
}
