//! Bringing in a list, saying what a row is and who sent it, setting a list or its correction aside.

use axum::extract::{Multipart, State};
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{Digest, EventId, ListStanding, Standing, What};

use super::list_intake::{self, Brought};
use super::{append, beside, decide, filled, refused};
use crate::access::Holder;
use crate::address;
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
            Ok(What::ListAdded {
                digest,
                name,
                shipment,
            })
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
            return Err(Failure::refused(format!(
                "This order has no mark {mark}. Take one from the parts list, or leave it empty for none of them."
            )));
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
