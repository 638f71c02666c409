//! The papers as answers: each is made when it is asked for.

use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use paper::{PaperError, Print, Sheet};
use serde::Deserialize;
use tally::{Digest, Standing};

use crate::forms::filled;
use crate::papers::{
    BUILD_DAY, DRAWINGS, OSD, PAPER_KINDS, PaperKind, PaperOf, TALLY_SHEET, TELL_APART,
};
use crate::reply::{Failure, Reply};
use crate::serve::Yard;
use crate::{clock, letters};

#[derive(Deserialize)]
pub(crate) struct Wanted {
    #[serde(default)]
    sheet: String,
    /// Print the numbers that should be there; left out, the sheet is for a blind count.
    #[serde(default)]
    told: u8,
    /// The shipment that a letter to a carrier is about.
    #[serde(default)]
    shipment: String,
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
    one(&yard, &OSD, "over-short-damaged", wanted).await
}

pub(crate) async fn tally_sheet(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &TALLY_SHEET, "tally-sheet", wanted).await
}

pub(crate) async fn drawings(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &DRAWINGS, "drawings", wanted).await
}

pub(crate) async fn tell_apart(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &TELL_APART, "tell-apart", wanted).await
}

pub(crate) async fn build_day(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    one(&yard, &BUILD_DAY, "build-day", wanted).await
}

/// A letter to the carrier or to the sender, by the name of its file.
pub(crate) async fn letter(
    State(yard): State<Yard>,
    Path(file): Path<String>,
    Query(wanted): Query<Wanted>,
) -> Reply {
    let is_it =
        |kind: &&PaperKind| kind.letter().is_some() && file.strip_suffix(".pdf") == Some(kind.name);
    match PAPER_KINDS.iter().find(is_it) {
        Some(kind) => one(&yard, kind, kind.name, wanted).await,
        None => Err(super::no_such_page().await),
    }
}

async fn one(yard: &Yard, kind: &'static PaperKind, file: &'static str, wanted: Wanted) -> Reply {
    let (log_head, job) = yard.at_desk(|desk| Ok((desk.head()?, desk.beside()?)))?;
    printed(yard, file, move |standing| {
        let of = PaperOf {
            standing,
            job: Some(&job),
            log_head,
            sheet: wanted.sheet(),
            told: wanted.told != 0,
            made: store::now(),
        };
        let any = || letters::shipments(standing).into_iter().next();
        let shipment = filled(&wanted.shipment).map(String::from).or_else(any);
        kind.of_shipment(&of, &shipment.unwrap_or_default())
    })
    .await
}

/// How a paper of this job is printed: when, and an id that changes with what it says.
pub(crate) fn print(standing: &Standing, sheet: Sheet, made: i64) -> Print {
    // Whatever a paper says follows from what the events say, and from when it is made.
    let content = format!("{:?}{made}", standing.state);
    Print {
        sheet,
        made_at: clock::moment(&standing.state.affairs, made).unwrap_or(EPOCH),
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
                "The paper could not be made. It needs an order that can be built, and something to say: a claim needs what was lost or harmed, a notice what is short, over or wrong.",
            ));
        }
    };
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_string()),
        (
            header::CONTENT_DISPOSITION,
            format!("inline; filename=\"{name}.pdf\""),
        ),
    ];
    Ok::<Response, Failure>((headers, pdf).into_response())
}
