//! What a phone says about a form that waited in it: of which job it is, when it was seen, and by whom.
//!
//! These come as headers, so that they stand beside any form, whatever its kind. A form sent without script has none
//! of them: it is of now, and of whoever holds the phone.

use axum::extract::Request;
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use percent_encoding::percent_decode_str;

use crate::access::Holder;
use crate::reply::{self, Failure};

/// The id of what waits, which our answer repeats: so the phone knows that the answer is ours, and not that of some
/// other network's front door.
const ID: &str = "tallyard-id";
/// The job of the page that the form was on.
const JOB: &str = "tallyard-job";
/// The phone's clock, in milliseconds since 1970-01-01 UTC.
const AT: &str = "tallyard-at";
/// The name of whoever held the phone then, percent-encoded.
const WHO: &str = "tallyard-who";

/// In our answer: what waited under this id is on disk.
const KEPT: HeaderName = HeaderName::from_static("tallyard-kept");
/// In our answer: the page to go on to.
const SEE: HeaderName = HeaderName::from_static("tallyard-see");
/// In our answer: what waited under this id cannot be taken, and the page says why.
const REFUSED: HeaderName = HeaderName::from_static("tallyard-refused");

/// 2020-01-01: a phone whose clock says less does not know the day.
const FIRST: i64 = 1_577_836_800_000;
const DAY: i64 = 86_400_000;

/// Writes what the phone says into the holder, and answers in its terms.
pub(crate) async fn as_the_phone_says(mut request: Request, next: Next) -> Response {
    let headers = request.headers().clone();
    let Some(id) = headers.get(ID) else {
        return next.run(request).await;
    };
    let Some(holder) = request.extensions_mut().get_mut::<Holder>() else {
        return next.run(request).await;
    };
    let job = holder.job.to_string();
    if text(&headers, JOB).is_some_and(|said| said != job) {
        return Failure::new(
            StatusCode::CONFLICT,
            "This was seen at another job, and waits in the phone until that job's yard is open.",
        )
        .into_response();
    }
    holder.at = time(&headers, store::now());
    if let Some(who) = name(&headers) {
        holder.who = who;
    }
    answered(id, next.run(request).await).await
}

/// A way back to a page means that it was kept; the phone needs no page.
async fn answered(id: &HeaderValue, mut response: Response) -> Response {
    let status = response.status();
    let outcome = if status.is_redirection() {
        let see = response.headers_mut().remove(header::LOCATION);
        response = StatusCode::NO_CONTENT.into_response();
        response.headers_mut().extend(see.map(|see| (SEE, see)));
        KEPT
    } else if status.is_client_error() {
        response = reply::in_words(response).await;
        REFUSED
    } else {
        return response;
    };
    response.headers_mut().insert(outcome, id.clone());
    response
}

/// The time that the phone says, if its clock can be right; it may be ahead, as in the next time zone.
fn time(headers: &HeaderMap, now: i64) -> Option<i64> {
    let at = text(headers, AT)?.parse().ok()?;
    (FIRST..=now.saturating_add(DAY))
        .contains(&at)
        .then_some(at)
}

/// The name that the phone says, if it is one.
fn name(headers: &HeaderMap) -> Option<String> {
    let said = percent_decode_str(text(headers, WHO)?).decode_utf8().ok()?;
    let said = said.trim();
    let fits = !said.is_empty()
        && said.chars().count() <= tally::MAX_NAME
        && !said.chars().any(char::is_control);
    fits.then(|| said.to_string())
}

fn text<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    headers.get(name)?.to_str().ok()
}
