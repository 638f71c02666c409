//! What a list's form brings: a file, several photographs of one list, or rows that were pasted; read before it is kept.

use axum::extract::Multipart;
use axum::extract::multipart::MultipartError;
use tally::{Digest, EventId};

use super::{filled, list_pictures, not_whole};
use crate::reply::Failure;
use crate::serve::{MOST_LIST, Yard};

/// A list that can be read, with what its form said of it.
pub(crate) struct Brought {
    pub id: EventId,
    pub name: String,
    pub bytes: Vec<u8>,
    /// The list that it corrects.
    pub corrects: Option<Digest>,
    pub shipment: Option<String>,
    pub sender: Option<String>,
}

/// What the form holds.
#[derive(Default)]
struct Sent {
    id: Option<EventId>,
    files: Vec<(String, Vec<u8>)>,
    /// A file with nothing in it, by its name.
    empty: Option<String>,
    pasted: String,
    /// The same rows as a table, where the browser could tell.
    pasted_table: String,
    corrects: String,
    shipment: String,
    sender: String,
}

/// Takes a list's form in. A list that cannot be read is refused here, before it is kept.
pub(crate) async fn take(yard: &Yard, form: Multipart) -> Result<Brought, Failure> {
    let sent = read_form(form).await?;
    let id = (sent.id)
        .ok_or_else(|| Failure::refused("The form was not whole. Open the list page again."))?;
    let corrects = filled(&sent.corrects)
        .map(str::parse)
        .transpose()
        .map_err(|_| Failure::refused("This job has no such list. Open the list page again."))?;
    let shipment = filled(&sent.shipment).map(String::from);
    let sender = filled(&sent.sender).map(String::from);
    if let Some(name) = sent.empty {
        return Err(Failure::refused(format!(
            "{name} is empty: there is nothing in the file."
        )));
    }
    let (name, bytes) = one_list(yard, sent.files, sent.pasted, sent.pasted_table).await?;
    Ok(Brought {
        id,
        name,
        bytes,
        corrects,
        shipment,
        sender,
    })
}

/// The one list of all that came.
async fn one_list(
    yard: &Yard,
    mut files: Vec<(String, Vec<u8>)>,
    pasted: String,
    table: String,
) -> Result<(String, Vec<u8>), Failure> {
    let pasted_rows = || "pasted rows".to_string();
    if !files.is_empty() && !pasted.trim().is_empty() {
        return Err(Failure::refused(
            "A file was chosen and rows were pasted. Bring them in one after the other: each is a list of its own.",
        ));
    }
    let pictures = !files.is_empty() && files.iter().all(|(_, bytes)| ocr::is_picture(bytes));
    if pictures {
        return list_pictures::recognised(yard, files).await;
    }
    match (files.len(), files.pop()) {
        (1, Some((name, bytes))) => read_first(name, bytes).await,
        (0, _) if !table.trim().is_empty() => {
            // What a browser calls a table may be none; the plain rows are there beside it.
            match read_first(pasted_rows(), table.into_bytes()).await {
                Err(_) if !pasted.trim().is_empty() => {
                    read_first(pasted_rows(), pasted.into_bytes()).await
                }
                read => read,
            }
        }
        (0, _) if !pasted.trim().is_empty() => read_first(pasted_rows(), pasted.into_bytes()).await,
        (0, _) => Err(Failure::refused("Choose a file, or paste the rows.")),
        (several, _) => Err(Failure::refused(format!(
            "{several} files were chosen. Bring in one list at a time; several files can only be photographs of one list."
        ))),
    }
}

async fn read_first(name: String, bytes: Vec<u8>) -> Result<(String, Vec<u8>), Failure> {
    let reading = tokio::task::spawn_blocking(move || match list::read(&bytes, &name) {
        Ok(_) => Ok((name, bytes)),
        // The error names the file too; once is enough.
        Err(error) => Err(Failure::refused(format!(
            "{name} could not be read: {}.",
            error.why
        ))),
    });
    reading
        .await
        .unwrap_or_else(|_| Err(Failure::refused("The list could not be read.")))
}

async fn read_form(mut form: Multipart) -> Result<Sent, Failure> {
    let broken = |error: MultipartError| {
        not_whole(&error, || {
            let (most, list) = (MOST_LIST >> 20, list::limits::MAX_FILE_BYTES >> 20);
            format!(
                "What was sent is bigger than {most} MiB. A list is at most {list} MiB; of many photographs bring in fewer at a time, or smaller ones."
            )
        })
    };
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_string();
        if name == "file" {
            // A browser sends a file without a name where none was chosen.
            let chosen = field.file_name().is_some_and(|name| !name.is_empty());
            let called = file_name(field.file_name().unwrap_or_default());
            let bytes = field.bytes().await.map_err(broken)?;
            if !bytes.is_empty() {
                sent.files.push((called, bytes.to_vec()));
            } else if chosen {
                sent.empty = Some(called);
            }
            continue;
        }
        let text = field.text().await.map_err(broken)?;
        match name.as_str() {
            "id" => sent.id = text.parse().ok(),
            "pasted" => sent.pasted = text,
            "pasted_table" => sent.pasted_table = text,
            "corrects" => sent.corrects = text,
            "shipment" => sent.shipment = text,
            "sender" => sent.sender = text,
            _ => {}
        }
    }
    Ok(sent)
}

/// The last part of what a browser calls a file, for people to read; it is never used as a path.
pub(crate) fn file_name(said: &str) -> String {
    let last = said.rsplit(['/', '\\']).next().unwrap_or_default();
    let name: String = last
        .chars()
        .filter(|c| !c.is_control() && !turns(*c))
        .take(tally::MAX_TITLE.min(120))
        .collect();
    if name.trim().is_empty() {
        "list".into()
    } else {
        name
    }
}

/// Marks that turn the direction of writing, and so would show another name.
fn turns(c: char) -> bool {
    matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}
