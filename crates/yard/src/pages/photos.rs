//! The pictures: those that a claim asks for, ticked as they are taken, and all others.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use tally::{Asked, Digest, EventId, Picture, Proof, Shot, State as Tally};

use super::layout::{self, Way};
use super::state::Tone;
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::clock;
use crate::forms::photo::small_copy;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let tally = &standing.state;
    let proofs = tally.proofs();
    let content = html! {
        h1 { "Photos" }
        p { "Straight from this phone into the job, kept as they came. Where they were taken stays in the job, and is left out of what is passed on." }
        div data-live="photos" {
            @if standing.shipments.is_empty() { (load(tally, None)) }
            @for shipment in standing.shipments.keys() { (load(tally, Some(shipment))) }
            p.soft { "Bands are under tension: stand to the side, gloves and eye protection, cutters made for it." }
            h2 id="freight" { "Papers of the freight" }
            p { "What a claim to the carrier rests on. A picture of each goes along with the claim, and in the bundle." }
            @if standing.shipments.is_empty() { (freight_papers(tally, None)) }
            @for shipment in standing.shipments.keys() { (freight_papers(tally, Some(shipment))) }
            h2 id="wrong" { "What is wrong" }
            @if proofs.is_empty() {
                p.soft { "Nothing was said to be damaged, bent, wet or wrong. Say it on the mark's count page, and the pictures for it are asked for here." }
            }
            @for proof in &proofs {
                h3 { a.mark.show href=(address::count(proof.mark)) { (proof.mark) } (proof.in_words()) }
                ul.shots { @for asked in &proof.asked { (prompt(asked, Of { shipment: None, proof: Some(proof) })) } }
            }
            h2 { "Others" }
            ul.shots { (others(tally, &standing.shipments.keys().collect::<Vec<_>>())) }
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

/// The pictures of a shipment as it came and while it was opened.
fn load(tally: &Tally, shipment: Option<&str>) -> Markup {
    let asked = tally.load_shots(shipment);
    let missing = asked.iter().filter(|asked| asked.taken.is_empty()).count();
    let (before, after): (Vec<_>, Vec<_>) = (asked.iter()).partition(|a| a.shot.before_the_bands());
    let of = Of {
        shipment,
        proof: None,
    };
    html! {
        details.load id=[shipment.map(|name| format!("load-{}", address::segment(name)))] open[missing > 0] {
            summary { @match shipment { Some(name) => { (name) " as it came" }, None => "The load as it came" } ": " (missing) " to take" }
            p { "All four sides, from above, and the labels, before a band is cut." }
            ul.shots { @for asked in &before { (prompt(asked, of)) } }
            h2 { "While it is opened" }
            ul.shots { @for asked in &after { (prompt(asked, of)) } }
        }
    }
}

/// The documents of a shipment that a claim to its carrier rests on.
fn freight_papers(tally: &Tally, shipment: Option<&str>) -> Markup {
    let asked = tally.claim_papers(shipment);
    let missing = asked.iter().filter(|asked| asked.taken.is_empty()).count();
    let of = Of {
        shipment,
        proof: None,
    };
    html! {
        details id={ "papers-" (shipment.map(address::segment).unwrap_or_default()) } {
            summary { "Papers of " (shipment.unwrap_or("the freight")) ": " (missing) " to take" }
            ul.shots { @for asked in &asked { (prompt(asked, of)) } }
        }
    }
}

/// What a picture that is asked for belongs to.
#[derive(Clone, Copy)]
struct Of<'a> {
    shipment: Option<&'a str>,
    proof: Option<&'a Proof<'a>>,
}

/// One picture that is asked for: what it is to show, those that are there, and the button that takes it.
fn prompt(asked: &Asked<'_>, of: Of<'_>) -> Markup {
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

fn others(tally: &Tally, shipments: &[&String]) -> Markup {
    // Also those whose place on this page is gone: a condition that was taken back, a shipment of another name.
    let placed: Vec<EventId> = (shipments.iter().map(|name| tally.load_shots(Some(name))))
        .chain(shipments.is_empty().then(|| tally.load_shots(None)))
        .chain(shipments.iter().map(|name| tally.claim_papers(Some(name))))
        .chain(shipments.is_empty().then(|| tally.claim_papers(None)))
        .chain(tally.proofs().into_iter().map(|proof| proof.asked.to_vec()))
        .flatten()
        .flat_map(|asked| asked.taken)
        .map(|picture| picture.event)
        .collect();
    let taken: Vec<&Picture> = (tally.pictures.iter())
        .filter(|picture| !placed.contains(&picture.event))
        .collect();
    html! {
        li {
            p { (Tone::Open.says("Anything else worth keeping")) }
            (small_ones(&taken))
            (take(Shot::Other, Of { shipment: None, proof: None }))
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
fn take(shot: Shot, of: Of<'_>) -> Markup {
    let belongs = of.proof.map_or_else(
        || of.shipment.map(address::segment).unwrap_or_default(),
        |proof| proof.seen.event.to_string(),
    );
    let key = format!("{}-{belongs}", shot.name());
    html! {
        form.take method="post" action="/photo" enctype="multipart/form-data" data-keep={ "Photo: " (shot.in_words()) } {
            input type="hidden" name="id" value=(store::fresh_id());
            input type="hidden" name="shot" value=(shot.name());
            @if let Some(shipment) = of.shipment { input type="hidden" name="shipment" value=(shipment); }
            @if let Some(proof) = of.proof {
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
    let sent = yard.with_picture(move || {
        let picture = photo::look(&bytes)?;
        let advice = picture.advice();
        let sent = match wanted.whole {
            0 => photo::without_place(&bytes),
            _ => Ok(bytes),
        };
        Ok::<_, photo::Refused>((picture.kind, advice, sent))
    });
    match sent.await? {
        Ok((kind, _, Ok(bytes))) => Ok(picture(kind.media_type(), bytes)),
        Ok((_, advice, Err(why))) => Err(not_passed_on(&why).with(advice.map(String::from))),
        Err(why) => Err(not_passed_on(&why)),
    }
}

fn not_passed_on(why: &photo::Refused) -> Failure {
    Failure::refused(format!("{}.", frame::capitalised(&why.to_string()))).offering(html! {
        p { a.button href="?whole=1" { "Take it as it came, with the place if that stands in it" } }
    })
}

/// The small copy of a picture; words in its place where there is none.
pub(crate) async fn small(State(yard): State<Yard>, Path(digest): Path<String>) -> Reply {
    let digest = named(&yard, &digest)?;
    if let Some(small) = yard.at_desk(|desk| desk.small_picture(&digest))? {
        return Ok(picture(JPEG, small));
    }
    // A copy of the job that came by mail has no small ones yet.
    let bytes = yard
        .at_desk(|desk| desk.picture(&digest))?
        .ok_or_else(missing)?;
    match yard.with_picture(move || small_copy(&bytes)).await? {
        Ok(small) => {
            // Where it is too big to be kept it is made again the next time.
            let _kept = yard.at_desk(|desk| desk.keep_small_picture(&digest, &small));
            Ok(picture(JPEG, small))
        }
        Err(_) => Ok(picture("image/svg+xml", NOT_SHOWN.as_bytes().to_vec())),
    }
}

/// A picture as a page shows it large: upright, with nothing in it but the pixels.
pub(crate) async fn large(State(yard): State<Yard>, Path(digest): Path<String>) -> Reply {
    let digest = named(&yard, &digest)?;
    let bytes = yard
        .at_desk(|desk| desk.picture(&digest))?
        .ok_or_else(missing)?;
    let made = yard
        .with_picture(move || photo::thumbnail(&bytes, LARGE))
        .await?;
    let large = made.map_err(|why| not_passed_on(&why))?;
    Ok(picture(JPEG, large))
}

/// The longest side of a picture that a page shows large, in pixels.
const LARGE: u32 = 1400;
const JPEG: &str = "image/jpeg";
const NOT_SHOWN: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 120"><rect width="120" height="120" fill="#f3f0e6"/><text x="60" y="56" text-anchor="middle" font-family="sans-serif" font-size="15" fill="#191813">kept, not</text><text x="60" y="76" text-anchor="middle" font-family="sans-serif" font-size="15" fill="#191813">shown here</text></svg>"##;

/// The digest, if it is that of a picture in this job's log: other documents are not given out here.
fn named(yard: &Yard, digest: &str) -> Result<Digest, Failure> {
    let digest: Digest = digest.parse().map_err(|_| missing())?;
    let standing = yard.at_desk(|desk| desk.standing())?;
    let known = standing.state.has_picture(&digest);
    known.then_some(digest).ok_or_else(missing)
}

fn missing() -> Failure {
    Failure::new(
        StatusCode::NOT_FOUND,
        "There is no such picture in this copy of the job.",
    )
}

fn picture(kind: &'static str, bytes: Vec<u8>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, kind),
        // Its address is its content, so it never changes.
        (
            header::CACHE_CONTROL,
            "private, max-age=31536000, immutable",
        ),
    ];
    (headers, bytes).into_response()
}
