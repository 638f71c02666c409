//! The papers: what there is to print and send.

use axum::Extension;
use axum::extract::{Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::html;
use paper::{PaperError, Print, Sheet};
use serde::Deserialize;
use tally::{Digest, Standing};

use super::layout::{self, Way};
use super::{bundle, state};
use crate::access::Holder;
use crate::clock;
use crate::papers::{DRAWINGS, OSD, PaperKind, PaperOf, TALLY_SHEET, TELL_APART};
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(State(yard): State<Yard>, Extension(holder): Extension<Holder>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let open = standing
        .difference
        .as_ref()
        .map_or(0, |difference| difference.not_counted());
    let bundle = bundle::offer(&yard)?;
    let content = html! {
        h1 { "Papers" }
        @if standing.ordered().is_none() {
            div.note { p { "Papers need an order. " a href="/order" { "Say what was bought" } " first." } }
        } @else {
            h2 { "Over, short and damaged" }
            p { "For the sender and the carrier: what the order needs, what the list says, what was counted, and what was wrong with it." }
            @if open > 0 { div.note.wait { p { (state::count(open as i64, "mark is", "marks are")) " not counted yet. The paper says so, and claims nothing about them." } } }
            p.row {
                a.button.main href="/papers/osd.pdf?sheet=letter" { "OS&D paper, Letter" }
                a.button href="/papers/osd.pdf?sheet=a4" { "OS&D paper, A4" }
            }
            p.soft { "A note on a receipt or a paper like this is not a claim. The carrier's own terms say what a claim needs and by when; ask them." }
            h2 { "Tally sheet" }
            p { "For counting without a phone. Counts are typed in afterwards on the count pages." }
            p.row {
                a.button.main href="/papers/tally-sheet.pdf?sheet=letter" { "Tally sheet, Letter" }
                a.button href="/papers/tally-sheet.pdf?sheet=a4" { "Tally sheet, A4" }
                a.button href="/papers/tally-sheet.pdf?sheet=letter&told=1" { "With the numbers that should be there" }
            }
            h2 { "Tell-apart card and labels" }
            p { "The card shows what is taken for each other at its true size; lay the piece on it. Labels carry a code that opens a mark's count page." }
            p.row {
                a.button.main href="/papers/tell-apart.pdf?sheet=letter" { "Tell-apart card, Letter" }
                a.button href="/papers/tell-apart.pdf?sheet=a4" { "Tell-apart card, A4" }
                a.button href="/piles/labels" { "Labels" }
            }
            h2 { "Drawings" }
            p { "The house from its corners, in plan and elevation, each bow on the ground, each joint large. " a href="/drawings" { "See them here" } "." }
            p.row {
                a.button.main href="/papers/drawings.pdf?sheet=letter" { "Drawings, Letter" }
                a.button href="/papers/drawings.pdf?sheet=a4" { "Drawings, A4" }
            }
        }
        (bundle)
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Papers,
        "Papers",
        content,
    )))
}

#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    sheet: String,
    /// Print the numbers that should be there; left out, the sheet is for a blind count.
    #[serde(default)]
    told: u8,
}

impl Wanted {
    pub fn sheet(&self) -> Sheet {
        if self.sheet == "a4" {
            Sheet::A4
        } else {
            Sheet::Letter
        }
    }
}

pub(crate) async fn osd(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &OSD, "over-short-damaged.pdf", wanted).await
}

pub(crate) async fn tally_sheet(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &TALLY_SHEET, "tally-sheet.pdf", wanted).await
}

pub(crate) async fn drawings(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &DRAWINGS, "drawings.pdf", wanted).await
}

pub(crate) async fn tell_apart(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &TELL_APART, "tell-apart.pdf", wanted).await
}

async fn one(yard: &Yard, kind: &'static PaperKind, file: &'static str, wanted: Wanted) -> Reply {
    let log_head = yard.at_desk(|desk| desk.head())?;
    printed(yard, file, move |standing| {
        kind.make(&PaperOf {
            standing,
            log_head,
            sheet: wanted.sheet(),
            told: wanted.told != 0,
            made: store::now(),
        })
    })
    .await
}

/// How a paper of this job is printed: when, and an id that changes with what it says.
pub(crate) fn print(standing: &Standing, sheet: Sheet, made: i64) -> Print {
    // Whatever a paper says follows from what the events say, and from when it is made.
    let content = format!("{:?}{made}", standing.state);
    Print {
        sheet,
        made_at: clock::moment(made).unwrap_or(EPOCH),
        id: Digest::of(content.as_bytes())
            .to_string()
            .chars()
            .take(16)
            .collect(),
        language: "en".into(),
    }
}

/// For a computer whose clock shows no time that there is.
const EPOCH: paper::Moment = paper::Moment {
    year: 1970,
    month: 1,
    day: 1,
    hour: 0,
    minute: 0,
    second: 0,
    utc_offset: 0,
};

/// A paper as an answer, or in words why it could not be made: there is no order yet, or the paper itself says why. It
/// is set on a thread of its own, for that takes longer than a page may wait for.
pub(crate) async fn printed(
    yard: &Yard,
    name: &'static str,
    make: impl FnOnce(&Standing) -> Option<Result<Vec<u8>, PaperError>> + Send + 'static,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let made = tokio::task::spawn_blocking(move || make(&standing)).await;
    let pdf = match made.ok().flatten() {
        Some(Ok(pdf)) => pdf,
        Some(Err(why)) => {
            return Err(Failure::refused("The paper could not be made.").with([why.to_string()]));
        }
        None => {
            return Err(Failure::refused(
                "The paper could not be made. It needs an order that can be built.",
            ));
        }
    };
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_string()),
        (
            header::CONTENT_DISPOSITION,
            format!("inline; filename=\"{name}\""),
        ),
    ];
    Ok::<Response, Failure>((headers, pdf).into_response())
}
