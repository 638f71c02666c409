//! Bringing in a list, saying what a row is and who sent it, setting a list or its correction aside.

use axum::extract::{Multipart, State};
use axum::{Extension, Form};
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Digest, EventId, ListStanding, Standing, What};

use super::list_intake::{self, Brought};
use super::{append, beside, decide, filled, refused};
use crate::access::Holder;
use crate::address;
use crate::desk::DeskError;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

pub(crate) async fn add(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    form: Multipart,
) -> Reply {
    let Brought {
        id,
        name,
        bytes,
        corrects,
        shipment,
        sender,
    } = list_intake::take(&yard, form).await?;
    not_sent_before(&yard, id, &Digest::of(&bytes))?;
    let digest = yard.at_desk(|desk| desk.put_document(&bytes))?;
    decide(&yard, holder.clone(), id, |standing| match corrects {
        Some(old) => {
            // Another person may have corrected it since the form was opened: both say so of the same list.
            let list = corrected_by(standing, &old).map_or_else(|| in_use(standing, &old), Ok)?;
            if old == digest {
                return Err(Failure::refused(format!(
                    "{name} is the very list that it is to correct, {}. Choose the one that was sent anew.",
                    list.seen.name
                )));
            }
            Ok(What::ListCorrected { old, digest, name })
        }
        None => {
            if let Some(list) = corrected_by(standing, &digest) {
                return Err(Failure::refused(format!(
                    "{name} was corrected by {} already. To use it again, set the correction aside.",
                    list.seen.name
                )));
            }
            added(standing, digest, name, shipment)
        }
    })?;
    if let Some(sender) = sender {
        let what = What::ListSentBy {
            list: digest,
            sender,
        };
        append(&yard, holder, beside(id), what)?;
    }
    Ok(see(&address::list(&digest.to_string())))
}

/// A browser's way back shows a form that was sent as it was: with another file it would be two lists in one.
fn not_sent_before(yard: &Yard, id: EventId, brought: &Digest) -> Result<(), Failure> {
    let other = |what: &What| match what {
        What::ListAdded { digest, .. } | What::ListCorrected { digest, .. } => digest != brought,
        _ => true,
    };
    let sent = yard.at_desk(|desk| {
        let mut log = desk.log()?.iter();
        Ok::<_, DeskError>(log.any(|event| event.id == id && other(&event.what)))
    })?;
    match sent {
        true => Err(Failure::refused(
            "This form was already sent. Open the list page again and choose the file anew.",
        )),
        false => Ok(()),
    }
}

/// A list of its own. The same bytes are the same list, whatever the file is called now; only its shipment can be said
/// so.
fn added(
    standing: &Standing,
    digest: Digest,
    name: String,
    shipment: Option<String>,
) -> Result<What, Failure> {
    let here = standing
        .lists
        .iter()
        .find(|list| list.seen.digest == digest);
    let name = match here {
        Some(list) if shipment.is_none() || shipment == list.seen.shipment => {
            return Err(Failure::refused(format!(
                "This list is here already, as {}.",
                list.seen.name
            ))
            .offering(back_to("The list", &address::list(&digest.to_string()))));
        }
        Some(list) => list.seen.name.clone(),
        None => name,
    };
    Ok(What::ListAdded {
        digest,
        name,
        shipment,
    })
}

/// The way from what did not work to where it is put right.
fn back_to(what: &str, path: &str) -> Markup {
    html! { p { a.button href=(path) { (what) } } }
}

/// The list in use that took this one's place.
fn corrected_by<'a>(standing: &'a Standing, digest: &Digest) -> Option<&'a ListStanding> {
    let was = |list: &&ListStanding| list.seen.earlier.iter().any(|it| it.digest == *digest);
    standing.lists.iter().find(was)
}

#[derive(Deserialize)]
pub(crate) struct Row {
    id: EventId,
    list: Digest,
    row: String,
    #[serde(default)]
    mark: String,
}

pub(crate) async fn overrule(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Row>,
) -> Reply {
    let mut back = address::list(&form.list.to_string());
    decide(&yard, holder, form.id, |standing| {
        let list = in_use(standing, &form.list)?;
        let read = list.read.as_ref().as_ref().ok();
        let mut rows = read.into_iter().flat_map(|read| &read.rows);
        let Some(row) = rows.find(|row| row.key.to_string() == form.row) else {
            return Err(Failure::refused(
                "That list has no such row. Open the list page again.",
            ));
        };
        back = address::list_row(&form.list.to_string(), &row.at.to_string());
        let mark = Some(form.mark.trim().to_string()).filter(|m| !m.is_empty());
        let ordered = standing.ordered();
        if let Some(mark) = &mark
            && ordered.is_none_or(|ordered| ordered.parts.line(mark).is_none())
        {
            let at = &row.at;
            return Err(Failure::refused(format!(
                "This order has no mark {mark}. Take one from the parts list, or leave it empty for none of them."
            ))
            .with([format!("It was said of {at} of {}: “{}”.", list.seen.name, list::words_of(row))])
            .offering(back_to(&format!("Back to {at}"), &back)));
        }
        Ok(What::Overruled {
            list: form.list,
            row: form.row,
            mark,
            words: Some(list::words_of(row)),
        })
    })?;
    Ok(see(&back))
}

fn in_use<'a>(standing: &'a Standing, list: &Digest) -> Result<&'a ListStanding, Failure> {
    let mut lists = standing.lists.iter();
    lists
        .find(|l| l.seen.digest == *list)
        .ok_or_else(|| Failure::refused("This job has no such list. Open the list page again."))
}

#[derive(Deserialize)]
pub(crate) struct SentBy {
    id: EventId,
    list: Digest,
    sender: String,
}

pub(crate) async fn sent_by(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<SentBy>,
) -> Reply {
    let back = address::list(&form.list.to_string());
    decide(&yard, holder, form.id, |standing| {
        in_use(standing, &form.list)?;
        let sender = filled(&form.sender).ok_or_else(|| {
            Failure::refused("Say who sent the list, as the sender writes their own name.")
        })?;
        Ok(What::ListSentBy {
            list: form.list,
            sender: sender.into(),
        })
    })?;
    Ok(see(&back))
}

#[derive(Deserialize)]
pub(crate) struct Dropped {
    id: EventId,
    list: Digest,
}

pub(crate) async fn set_aside(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Dropped>,
) -> Reply {
    decide(&yard, holder, form.id, |standing| {
        in_use(standing, &form.list)?;
        Ok(What::ListDropped { digest: form.list })
    })?;
    Ok(see("/list"))
}

/// Takes a list up again that was set aside, as it was.
pub(crate) async fn take_up(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Dropped>,
) -> Reply {
    decide(&yard, holder, form.id, |standing| {
        let mut aside = standing.state.lists_aside();
        let seen = (aside.find(|seen| seen.digest == form.list)).ok_or_else(|| {
            Failure::refused("No such list is set aside. Open the list page again.")
        })?;
        Ok(What::ListAdded {
            digest: seen.digest,
            name: seen.name.clone(),
            shipment: seen.shipment.clone(),
        })
    })?;
    Ok(see(&address::list(&form.list.to_string())))
}

#[derive(Deserialize)]
pub(crate) struct SentAnew {
    id: EventId,
    /// The list before.
    old: Digest,
    list: Digest,
}

/// Says of a list in use that it is another one, sent anew.
pub(crate) async fn sent_anew(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<SentAnew>,
) -> Reply {
    decide(&yard, holder, form.id, |standing| {
        in_use(standing, &form.old)?;
        let list = in_use(standing, &form.list)?;
        if form.old == form.list {
            return Err(Failure::refused("A list cannot take its own place."));
        }
        Ok(What::ListCorrected {
            old: form.old,
            digest: form.list,
            name: list.seen.name.clone(),
        })
    })?;
    Ok(see(&address::list(&form.list.to_string())))
}

#[derive(Deserialize)]
pub(crate) struct TakenBack {
    id: EventId,
    event: EventId,
}

/// Takes back what was said on the list page: a correction, so that the list before stands again; a word on a row that
/// is gone; a file of codes.
pub(crate) async fn take_back(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<TakenBack>,
) -> Reply {
    decide(&yard, holder, form.id, |standing| {
        tally::correct(&standing.state, form.event, "").map_err(refused)
    })?;
    Ok(see("/list"))
}
