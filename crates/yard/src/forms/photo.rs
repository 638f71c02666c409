//! Taking in a picture: looked at, made small, kept as it came, and named in the log.

use axum::Extension;
use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use tally::{Digest, EventId, Shot};

use super::{append, refused};
use crate::access::Holder;
use crate::address;
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

/// The longest side of the small copy, in pixels: clear on a phone's screen, some 30 KB.
pub(crate) const SMALL: u32 = 480;

/// What a picture's form holds.
#[derive(Default)]
struct Sent {
    id: Option<EventId>,
    bytes: Vec<u8>,
    shot: Option<Shot>,
    mark: String,
    of: Option<EventId>,
    words: String,
}

/// A picture of the load, of what is wrong, or of anything else.
pub(crate) async fn add(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    form: Multipart,
) -> Reply {
    let sent = read_form(form).await?;
    keep(&yard, holder, sent).await?;
    Ok(see("/photos"))
}

/// A picture of the ends of a bundle, to count the tubes in it.
pub(crate) async fn add_for_count(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    form: Multipart,
) -> Reply {
    let mut sent = read_form(form).await?;
    sent.mark.clone_from(&mark);
    sent.words = "the ends of a bundle, to count them".into();
    let photo = keep(&yard, holder, sent).await?;
    Ok(see(&address::rings(&mark, &photo.to_string())))
}

async fn keep(yard: &Yard, holder: Holder, sent: Sent) -> Result<Digest, Failure> {
    let id = sent
        .id
        .ok_or_else(|| Failure::refused("The form was not whole. Open the page again."))?;
    if sent.bytes.is_empty() {
        return Err(Failure::refused("Take a picture, or choose one."));
    }
    let (bytes, small) = look(sent.bytes).await?;
    let photo = yard.at_desk(|desk| desk.put_photo(&bytes, small.as_deref()))?;
    let mark = Some(sent.mark.as_str()).filter(|mark| !mark.is_empty());
    let shot = sent.shot.unwrap_or(Shot::Other);
    let what =
        tally::photographed(photo, shot, mark, sent.of, sent.words.trim()).map_err(refused)?;
    append(yard, holder, id, what)?;
    Ok(photo)
}

/// Looks at a picture before it is kept, and makes it small where it can be shown.
async fn look(bytes: Vec<u8>) -> Result<(Vec<u8>, Option<Vec<u8>>), Failure> {
    let looking = tokio::task::spawn_blocking(move || {
        let picture = photo::look(&bytes)?;
        let small = match picture.can_be_shown {
            true => Some(photo::thumbnail(&bytes, SMALL)?),
            false => None,
        };
        Ok((bytes, small))
    });
    match looking.await {
        Ok(looked) => looked.map_err(|why: photo::Refused| {
            Failure::refused(format!("The picture was not kept: {why}."))
        }),
        Err(_) => Err(Failure::refused("The picture could not be looked at.")),
    }
}

async fn read_form(mut form: Multipart) -> Result<Sent, Failure> {
    let broken = |e: axum::extract::multipart::MultipartError| {
        let status = e.status();
        let says = match status {
            StatusCode::PAYLOAD_TOO_LARGE => format!(
                "The picture is bigger than {} MiB. Set the phone's camera to a smaller one.",
                photo::MOST_BYTES >> 20
            ),
            _ => format!("The form did not come whole: {e}."),
        };
        Failure::new(status, says)
    };
    let mut sent = Sent::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_string();
        if name == "photo" {
            sent.bytes = field.bytes().await.map_err(broken)?.to_vec();
            continue;
        }
        let text = field.text().await.map_err(broken)?;
        match name.as_str() {
            "id" => sent.id = text.parse().ok(),
            "shot" => sent.shot = Shot::named(&text),
            "mark" => sent.mark = text,
            "of" => sent.of = text.parse().ok(),
            "words" => sent.words = text,
            _ => {}
        }
    }
    Ok(sent)
}
