//! What was received, in open formats for other programs.

use axum::extract::{Query, State};
use axum::http::{Uri, header};
use axum::response::IntoResponse;
use claim::received::{Received, Said, Unwritten};
use claim::x12::Envelope;
use claim::{received_csv, received_json, received_xlsx, ubl, x12};
use jiff::civil::DateTime;
use serde::Deserialize;

use crate::clock;
use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// For X12: whose ids the interchange carries.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Between {
    from: String,
    to: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    uri: Uri,
    Query(between): Query<Between>,
) -> Reply {
    let ending = uri.path().rsplit('.').next().unwrap_or_default();
    let kind = match ending {
        "xml" => "application/xml; charset=utf-8",
        "edi" => "application/EDI-X12",
        "csv" => "text/csv; charset=utf-8",
        "xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "json" => "application/json; charset=utf-8",
        _ => return Err(super::no_such_page().await),
    };
    let (standing, head) = yard.at_desk(|desk| Ok((desk.standing()?, desk.head()?)))?;
    let affairs = &standing.state.affairs;
    let local = |at| {
        let (day, time) = clock::at_site(affairs, at);
        DateTime::from_parts(day, time)
    };
    // Each state of the log is another document.
    let upto = standing.state.upto;
    let number = standing
        .ordered()
        .and_then(|ordered| ordered.order.number.as_deref());
    let said = Said {
        document: format!("{}-R{upto}", number.unwrap_or("JOB")),
        issued: local(store::now()),
        receiver: String::new(),
        log_head: head.to_string(),
    };
    let Some(received) = Received::of(&standing, said, local) else {
        return Err(Failure::refused(
            "What was received needs an order that can be built.",
        ));
    };
    let written = match ending {
        "xml" => ubl::write(&received).map(String::into_bytes),
        "csv" => received_csv::write(&received),
        "xlsx" => received_xlsx::write(&received),
        "json" => received_json::write(&received).map(String::into_bytes),
        _ => {
            let envelope = Envelope {
                from: between.from,
                to: between.to,
                control: u32::try_from(upto % 999_999_999 + 1).unwrap_or(1),
                trial: false,
            };
            x12::write(&received, &envelope).map(String::into_bytes)
        }
    };
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
