//! Bringing in a list, saying what a row is, setting a list aside.

use axum::extract::multipart::MultipartError;
use axum::extract::{Multipart, State};
use axum::{Extension, Form};
use serde::Deserialize;
use tally::{Digest, EventId, ListStanding, Standing, What};

use super::{append, decide, filled, not_whole};
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

/// What a list form holds.
#[derive(Default)]
struct Sent {
    id: Option<EventId>,
    file: Option<(String, Vec<u8>)>,
    pasted: String,
    shipment: String,
}

pub(crate) async fn add(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    form: Multipart,
) -> Reply {
    let sent = read_form(form).await?;
    let id = sent
        .id
        .ok_or_else(|| Failure::refused("The form was not whole. Open the list page again."))?;
    let (name, bytes) = match sent.file {
        Some(file) => file,
        None if !sent.pasted.trim().is_empty() => ("pasted rows".into(), sent.pasted.into_bytes()),
        None => return Err(Failure::refused("Choose a file, or paste the rows.")),
    };
    // A list that cannot be read is refused here, before it is kept.
    let (name, bytes) = read_first(name, bytes).await?;
    let shipment = filled(&sent.shipment).map(String::from);
    let digest = yard.at_desk(|desk| desk.put_document(&bytes))?;
    append(
        &yard,
        holder,
        id,
        What::ListAdded {
            digest,
            name,
            shipment,
        },
    )?;
    Ok(see("/list"))
}

async fn read_first(name: String, bytes: Vec<u8>) -> Result<(String, Vec<u8>), Failure> {
    let reading = tokio::task::spawn_blocking(move || match list::read(&bytes, &name) {
        Ok(_) => Ok((name, bytes)),
        Err(why) => {
            Err(Failure::refused(format!("{name} could not be read.")).with([why.to_string()]))
        }
    });
    reading
        .await
        .unwrap_or_else(|_| Err(Failure::refused("The list could not be read.")))
}

async fn read_form(mut form: Multipart) -> Result<Sent, Failure> {
    let broken = |error: MultipartError| {
        not_whole(&error, || {
            let most = list::limits::MAX_FILE_BYTES >> 20;
            format!("The file is bigger than {most} MiB, which no packing list is.")
        })
    };
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_string();
        if name == "file" {
            let called = file_name(field.file_name().unwrap_or_default());
            let bytes = field.bytes().await.map_err(broken)?;
            if !bytes.is_empty() {
                sent.file = Some((called, bytes.to_vec()));
            }
            continue;
        }
        let text = field.text().await.map_err(broken)?;
        match name.as_str() {
            "id" => sent.id = text.parse().ok(),
            "pasted" => sent.pasted = text,
            "shipment" => sent.shipment = text,
            _ => {}
        }
    }
    Ok(sent)
}

/// The last part of what a browser calls a file, for people to read; it is never used as a path.
fn file_name(said: &str) -> String {
    let last = said.rsplit(['/', '\\']).next().unwrap_or_default();
    let name: String = last
        .chars()
        .filter(|c| !c.is_control())
        .take(tally::MAX_TITLE.min(120))
        .collect();
    if name.trim().is_empty() {
        "list".into()
    } else {
        name
    }
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
    decide(&yard, holder, form.id, |standing| {
        let list = in_use(standing, &form.list)?;
        let row = list.read.as_ref().as_ref().is_ok_and(|read| {
            let mut rows = read.rows.iter();
            rows.any(|row| row.key.to_string() == form.row)
        });
        if !row {
            return Err(Failure::refused(
                "That list has no such row. Open the list page again.",
            ));
        }
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
        })
    })?;
    Ok(see("/list"))
}

fn in_use<'a>(standing: &'a Standing, list: &Digest) -> Result<&'a ListStanding, Failure> {
    let mut lists = standing.lists.iter();
    lists
        .find(|l| l.seen.digest == *list)
        .ok_or_else(|| Failure::refused("This job has no such list. Open the list page again."))
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
