//! What was received, in open formats for other programs.

use axum::extract::{Query, State};
use axum::http::{Uri, header};
use axum::response::IntoResponse;
use claim::received::Unwritten;
use claim::x12::Envelope;
use serde::Deserialize;

use crate::received::{ReceivedForm, received};
use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// For X12: whose ids the interchange carries, its number, and whether it is only a trial.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Between {
    from: String,
    to: String,
    interchange: String,
    trial: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    uri: Uri,
    Query(between): Query<Between>,
) -> Reply {
    let ending = uri.path().rsplit('.').next().unwrap_or_default();
    let (form, kind) = match ending {
        "xml" => (ReceivedForm::Ubl, "application/xml; charset=utf-8"),
        "edi" => (ReceivedForm::X12, "application/EDI-X12"),
        "csv" => (ReceivedForm::Csv, "text/csv; charset=utf-8"),
        "xlsx" => (
            ReceivedForm::Xlsx,
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ),
        "json" => (ReceivedForm::Json, "application/json; charset=utf-8"),
        _ => return Err(super::no_such_page().await),
    };
    let (standing, head) = yard.at_desk(|desk| Ok((desk.standing()?, desk.head()?)))?;
    let Some(received) = received(&standing, &head, None, String::new()) else {
        return Err(Failure::refused(
            "What was received needs an order that can be built.",
        ));
    };
    let envelope = Envelope {
        from: between.from,
        to: between.to,
        // What is no number is refused where it is written, as 0 is.
        control: between.interchange.trim().parse().unwrap_or_default(),
        trial: !between.trial.is_empty(),
    };
    let written = form.write(&received, &envelope);
    let bytes = written.map_err(|why: Unwritten| Failure::refused(format!("{why}.")))?;
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"received.{ending}\""),
        ),
    ];
    Ok((headers, bytes).into_response())
}
