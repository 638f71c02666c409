//! Taking in a picture: looked at, made small, kept as it came, and named in the log.

use axum::Extension;
use axum::extract::multipart::MultipartError;
use axum::extract::{Multipart, Path, State};
use tally::{Digest, EventId, Shot, Shown};

use super::{append, filled, not_whole, refused, unknown_mark};
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
    shipment: String,
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
    let (mark, shipment) = (filled(&sent.mark), filled(&sent.shipment));
    if let Some(mark) = mark
        && !yard.at_desk(|desk| desk.has_mark(mark))?
    {
        return Err(unknown_mark());
    }
    // What it says is looked at before its bytes are kept.
    let shows = Shown {
        shot: sent.shot.unwrap_or(Shot::Other),
        shipment,
        mark,
        of: sent.of,
        words: sent.words.trim(),
    };
    let what = tally::photographed(Digest::of(&sent.bytes), shows).map_err(refused)?;
    let (bytes, small) = look(yard, sent.bytes).await?;
    let photo = yard.at_desk(|desk| desk.put_photo(&bytes, small.as_deref()))?;
    append(yard, holder, id, what)?;
    Ok(photo)
}

/// Looks at a picture before it is kept, and makes it small where it can be shown. One that is whole but cannot be shown
/// here is kept all the same: it may be the only proof.
async fn look(yard: &Yard, bytes: Vec<u8>) -> Result<(Vec<u8>, Option<Vec<u8>>), Failure> {
    let refused =
        |why: photo::Refused| Failure::refused(format!("The picture was not kept: {why}."));
    let looked = yard.with_picture(move || {
        photo::look(&bytes)?;
        match small_copy(&bytes) {
            Err(why @ photo::Refused::Damaged { .. }) => Err(why),
            small => Ok((bytes, small.ok())),
        }
    });
    looked.await?.map_err(refused)
}

/// The small copy of a picture, small enough to be kept beside it.
pub(crate) fn small_copy(bytes: &[u8]) -> Result<Vec<u8>, photo::Refused> {
    let small = photo::thumbnail(bytes, SMALL)?;
    match small.len() > store::MAX_THUMBNAIL {
        // Noise and fine print take more room than what a camera sees.
        true => photo::thumbnail(bytes, SMALL / 4),
        false => Ok(small),
    }
}

async fn read_form(mut form: Multipart) -> Result<Sent, Failure> {
    let broken = |error: MultipartError| {
        not_whole(&error, || {
            let most = photo::MOST_BYTES >> 20;
            format!(
                "The picture is bigger than {most} MiB. Set the phone's camera to a smaller one."
            )
        })
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
            "shipment" => sent.shipment = text,
            "mark" => sent.mark = text,
            "of" => sent.of = text.parse().ok(),
            "words" => sent.words = text,
            _ => {}
        }
    }
    Ok(sent)
}
