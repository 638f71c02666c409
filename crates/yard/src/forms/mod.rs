//! What the forms do: each takes in one event and leads back to the page.

pub(crate) mod count;
pub(crate) mod join;
pub(crate) mod list;
pub(crate) mod order;
pub(crate) mod shipment;

use tally::{EventId, What};

use crate::access::Holder;
use crate::desk::DeskError;
use crate::reply::Failure;
use crate::serve::Yard;

/// Appends an event for whoever holds the phone. The id was made with the form, so that a form sent twice is one event.
async fn append(yard: &Yard, holder: Holder, id: EventId, what: What) -> Result<(), DeskError> {
    yard.at_desk(move |desk| desk.append(id, &holder.device, &holder.who, what))
        .await
        .map(drop)
}

fn refused(refusal: tally::Refusal) -> Failure {
    Failure::refused(format!("{refusal}."))
}
