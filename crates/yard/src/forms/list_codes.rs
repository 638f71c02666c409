//! Taking in what senders' codes stood for in earlier jobs.

use axum::Extension;
use axum::extract::multipart::MultipartError;
use axum::extract::{Multipart, State};
use tally::{EventId, What};

use super::list_intake::file_name;
use super::{append, not_whole};
use crate::access::Holder;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

pub(crate) async fn take(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    mut form: Multipart,
) -> Reply {
    let broken = |error: MultipartError| {
        not_whole(&error, || {
            "The file is bigger than any file of codes.".into()
        })
    };
    let (mut id, mut file) = (None, None);
    while let Some(field) = form.next_field().await.map_err(broken)? {
        match field.name() {
            Some("id") => id = field.text().await.map_err(broken)?.parse::<EventId>().ok(),
            Some("codes") => {
                let name = file_name(field.file_name().unwrap_or_default());
                let bytes = field.bytes().await.map_err(broken)?;
                file = Some((name, bytes)).filter(|(_, bytes)| !bytes.is_empty());
            }
            _ => {}
        }
    }
    let id =
        id.ok_or_else(|| Failure::refused("The form was not whole. Open the list page again."))?;
    let (name, bytes) =
        file.ok_or_else(|| Failure::refused("Choose a file of codes from an earlier job."))?;
    list::read_codes(&bytes).map_err(|why| {
        Failure::refused(format!("{name} could not be read.")).with([format!("{why}.")])
    })?;
    let digest = yard.at_desk(|desk| desk.put_document(&bytes))?;
    append(&yard, holder, id, What::CodesTaken { digest, name })?;
    Ok(see("/list#codes"))
}
