//! The pictures: those that a claim asks for, ticked as they are taken, and all others.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Asked, Digest, Picture, Proof, Shot, State as Tally};

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::clock;
use crate::forms::photo::SMALL;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let tally = &standing.state;
    let load = tally.load_shots();
    let (before, after): (Vec<_>, Vec<_>) = (load.iter()).partition(|a| a.shot.before_the_bands());
    let proofs = tally.proofs();
    let content = html! {
        h1 { "Photos" }
        p { "Straight from this phone into the job, kept as they came. Where they were taken stays in the job, and is left out of what is passed on." }
        div data-live="photos" {
            h2 { "The load as it came" }
            p { "All four sides, from above, and the labels, before a band is cut." }
            ul.shots { @for asked in &before { (prompt(asked, None)) } }
            p.soft { "Bands are under tension: stand to the side, gloves and eye protection, cutters made for it." }
            h2 { "While it is opened" }
            ul.shots { @for asked in &after { (prompt(asked, None)) } }
            h2 id="wrong" { "What is wrong" }
            @if proofs.is_empty() {
                p.soft { "Nothing was said to be damaged, bent, wet or wrong. Say it on the mark's count page, and the pictures for it are asked for here." }
            }
            @for proof in &proofs {
                h3 { a.mark href=(address::count(proof.mark)) { (proof.mark) } " " (proof.in_words()) }
                ul.shots { @for asked in &proof.asked { (prompt(asked, Some(proof))) } }
            }
            h2 { "Others" }
            ul.shots { (others(tally)) }
        }
        script type="module" src=(assets::address("photo.js")) {}
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Photos,
        "Photos",
        content,
    )))
}

/// One picture that is asked for: what it is to show, those that are there, and the button that takes it.
fn prompt(asked: &Asked<'_>, of: Option<&Proof<'_>>) -> Markup {
    html! {
        li {
            p {
                @match asked.taken.is_empty() {
                    true => (Tone::Open.says(asked.shot.in_words())),
                    false => (Tone::Good.says(asked.shot.in_words())),
                }
                @if !asked.taken.is_empty() { span.soft { (asked.taken.len()) " taken" } }
            }
            (small_ones(&asked.taken))
            (take(asked.shot, of))
        }
    }
}

fn others(tally: &Tally) -> Markup {
    let taken: Vec<&Picture> = (tally.pictures.iter())
        .filter(|p| p.shot == Shot::Other)
        .collect();
    html! {
        li {
            p { (Tone::Open.says("Anything else worth keeping")) }
            (small_ones(&taken))
            (take(Shot::Other, None))
        }
    }
}

fn small_ones(taken: &[&Picture]) -> Markup {
    html! {
        @if !taken.is_empty() {
            div.small-ones {
                @for picture in taken {
                    figure {
                        a href=(address::photo(&picture.photo.to_string())) {
                            img src=(address::small_photo(&picture.photo.to_string())) loading="lazy" width="120" height="120"
                                alt={ (picture.shot.in_words()) ", by " (picture.who) ", " (clock::local(picture.at)) };
                        }
                        figcaption {
                            (picture.who) ", " (clock::local(picture.at))
                            @if !picture.words.is_empty() { ": " (picture.words) }
                        }
                        form.inline method="post" action="/undo" data-keep="Take back a photo" {
                            input type="hidden" name="id" value=(store::fresh_id());
                            input type="hidden" name="event" value=(picture.event);
                            input type="hidden" name="to" value="/photos";
                            button type="submit" { "Take back" }
                        }
                    }
                }
            }
        }
    }
}

/// The button that opens the phone's camera; without script a second one sends the picture.
fn take(shot: Shot, of: Option<&Proof<'_>>) -> Markup {
    let key = format!(
        "{}-{}",
        shot.name(),
        of.map_or(String::new(), |p| p.seen.event.to_string())
    );
    html! {
        form.take method="post" action="/photo" enctype="multipart/form-data" data-keep={ "Photo: " (shot.in_words()) } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="shot" value=(shot.name());
            @if let Some(proof) = of {
                input type="hidden" name="mark" value=(proof.mark);
                input type="hidden" name="of" value=(proof.seen.event);
            }
            label.button for=(key) { "Take it" span.unseen { ": " (shot.in_words()) } }
            input type="file" id=(key) name="photo" accept="image/*" capture="environment" required data-sends;
            button type="submit" { "Keep it" }
        }
    }
}

/// Whether the picture is wanted as it came, with all that stands in it.
#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    whole: u8,
}

/// A picture of the job. Where it was taken is left out, unless it is asked for as it came.
pub(crate) async fn one(
    State(yard): State<Yard>,
    Path(digest): Path<String>,
    Query(wanted): Query<Wanted>,
) -> Reply {
    let digest = named(&yard, &digest)?;
    let bytes = yard
        .at_desk(|desk| desk.picture(&digest))?
        .ok_or_else(missing)?;
    let sent = tokio::task::spawn_blocking(move || {
        let kind = photo::look(&bytes)?.kind;
        let bytes = match wanted.whole {
            0 => photo::without_place(&bytes)?,
            _ => bytes,
        };
        Ok::<_, photo::Refused>((kind, bytes))
    });
    let (kind, bytes) = match sent.await {
        Ok(Ok(sent)) => sent,
        Ok(Err(why)) => {
            return Err(Failure::refused(format!("{why}.")).offering(html! {
                p { a.button href="?whole=1" { "Take it as it came, with the place if that stands in it" } }
            }));
        }
        Err(_) => return Err(missing()),
    };
    Ok(picture(kind, bytes))
}

/// The small copy of a picture.
pub(crate) async fn small(State(yard): State<Yard>, Path(digest): Path<String>) -> Reply {
    let digest = named(&yard, &digest)?;
    if let Some(small) = yard.at_desk(|desk| desk.small_picture(&digest))? {
        return Ok(picture(photo::Kind::Jpeg, small));
    }
    // A copy of the job that came by mail has no small ones yet.
    let bytes = yard
        .at_desk(|desk| desk.picture(&digest))?
        .ok_or_else(missing)?;
    let made = tokio::task::spawn_blocking(move || photo::thumbnail(&bytes, SMALL));
    let small = made.await.ok().and_then(Result::ok).ok_or_else(missing)?;
    yard.at_desk(|desk| desk.keep_small_picture(&digest, &small))?;
    Ok(picture(photo::Kind::Jpeg, small))
}

/// The digest, if it is that of a picture in this job's log: other documents are not given out here.
fn named(yard: &Yard, digest: &str) -> Result<Digest, Failure> {
    let digest: Digest = digest.parse().map_err(|_| missing())?;
    let standing = yard.at_desk(|desk| desk.standing())?;
    let known = standing
        .state
        .pictures
        .iter()
        .any(|picture| picture.photo == digest);
    known.then_some(digest).ok_or_else(missing)
}

fn missing() -> Failure {
    Failure::new(
        StatusCode::NOT_FOUND,
        "There is no such picture in this copy of the job.",
    )
}

fn picture(kind: photo::Kind, bytes: Vec<u8>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, kind.media_type()),
        // Its address is its content, so it never changes.
        (
            header::CACHE_CONTROL,
            "private, max-age=31536000, immutable",
        ),
    ];
    (headers, bytes).into_response()
}
