//! What the forms do: each takes in one event and leads back to the page.

pub(crate) mod count;
pub(crate) mod delivery;
pub(crate) mod freight;
pub(crate) mod ground;
pub(crate) mod join;
pub(crate) mod letters;
pub(crate) mod list;
pub(crate) mod list_codes;
mod list_intake;
mod list_pictures;
pub(crate) mod order;
pub(crate) mod phones;
pub(crate) mod photo;
pub(crate) mod pile;
pub(crate) mod plans;
pub(crate) mod points;
pub(crate) mod prices;
pub(crate) mod shipment;
pub(crate) mod stakes;
pub(crate) mod tell;
pub(crate) mod terms;
pub(crate) mod ways;

use axum::extract::multipart::MultipartError;
use axum::http::StatusCode;
use tally::{Digest, Draft, EventId, Standing, What};

use crate::access::Holder;
use crate::desk::DeskError;
use crate::reply::Failure;
use crate::serve::Yard;

/// Appends an event for whoever holds the phone. The id was made with the form, so that a form sent twice is one event.
fn append(yard: &Yard, holder: Holder, id: EventId, what: What) -> Result<(), DeskError> {
    yard.at_desk(|desk| desk.append_seen(draft(holder, id, what)))
        .map(drop)
}

/// The id of the second event of a form that brings two: it follows from the first's, so that a form sent twice brings
/// two all the same.
fn beside(id: EventId) -> EventId {
    let digest = Digest::of(format!("beside {id}").as_bytes()).to_string();
    // Version 8 of RFC 9562: of our own making.
    let text = format!("{}8{}8{}", &digest[..12], &digest[13..16], &digest[17..32]);
    text.parse().unwrap_or(id)
}

/// What a field says; nothing where it was left empty.
pub(crate) fn filled(text: &str) -> Option<&str> {
    Some(text.trim()).filter(|text| !text.is_empty())
}

/// A text of several lines, however the browser ends them.
fn lines(text: &str) -> String {
    text.trim().replace("\r\n", "\n")
}

/// A whole number of things as people type it.
fn whole(what: &str, text: &str) -> Result<i64, Failure> {
    let text = text.trim();
    text.parse::<i64>()
        .ok()
        .filter(|n| (0..=tally::MAX_QUANTITY).contains(n))
        .ok_or_else(|| {
            Failure::refused(format!(
                "{} must be a whole number from 0 to {}; it is “{text}”.",
                frame::capitalised(what),
                tally::MAX_QUANTITY
            ))
        })
}

/// The same, where it may be left empty.
fn optional_whole(what: &str, text: &str) -> Result<Option<i64>, Failure> {
    filled(text).map(|text| whole(what, text)).transpose()
}

/// Why a form with a file did not come whole; `too_big` is said where the file is.
fn not_whole(error: &MultipartError, too_big: impl FnOnce() -> String) -> Failure {
    let status = error.status();
    let says = match status {
        StatusCode::PAYLOAD_TOO_LARGE => too_big(),
        _ => format!("The form did not come whole: {error}."),
    };
    Failure::new(status, says)
}

/// What the holder saw: now, or when their phone says that it was.
fn draft(holder: Holder, id: EventId, what: What) -> Draft {
    Draft {
        id,
        device: holder.device,
        at: holder.at.unwrap_or_else(store::now),
        who: holder.who,
        what,
    }
}

/// Appends what follows from a form and from how things stand, both at once, so that nobody comes in between.
fn decide(
    yard: &Yard,
    holder: Holder,
    id: EventId,
    what: impl FnOnce(&Standing) -> Result<What, Failure>,
) -> Result<(), Failure> {
    yard.at_desk(|desk| {
        let standing = desk.standing_before(id)?;
        let what = match what(&standing) {
            Ok(what) => what,
            Err(failure) => return Ok(Err(failure)),
        };
        desk.append_seen(draft(holder, id, what))?;
        Ok(Ok(()))
    })?
}

/// Appends what was seen of a mark. One that this order lacks is refused: most likely it was mistyped.
fn append_to_mark(
    yard: &Yard,
    holder: Holder,
    id: EventId,
    mark: &str,
    what: What,
) -> Result<(), Failure> {
    yard.at_desk(|desk| {
        if !desk.has_mark(mark)? {
            return Ok(Err(unknown_mark()));
        }
        desk.append_seen(draft(holder, id, what))?;
        Ok(Ok(()))
    })?
}

fn unknown_mark() -> Failure {
    Failure::new(
        StatusCode::NOT_FOUND,
        "This order has no such mark. Go to Count and touch one.",
    )
}

fn refused(refusal: tally::Refusal) -> Failure {
    Failure::refused(format!("{refusal}."))
}
