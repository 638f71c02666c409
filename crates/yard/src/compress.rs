//! Text goes out compressed: a phone at the far end of the yard has little to spare.

use std::io::Write as _;

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use flate2::Compression;
use flate2::write::GzEncoder;

/// What is compressed; pictures and papers are already, and a stream is sent as it comes.
const TEXT: [&str; 5] = [
    "text/html",
    "text/css",
    "text/javascript",
    "image/svg+xml",
    "application/json",
];

/// Compresses an answer of text for a browser that takes gzip.
pub(crate) async fn text(request: Request, next: Next) -> Response {
    let takes = accepts(request.headers());
    let answer = next.run(request).await;
    if !takes || !is_text(answer.headers()) {
        return answer;
    }
    let (mut parts, body) = answer.into_parts();
    // Our own pages are whole in memory already.
    let Ok(body) = to_bytes(body, usize::MAX).await else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    // What a phone with little to spare carries counts for more than a millisecond here.
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    let Ok(packed) = encoder.write_all(&body).and_then(|()| encoder.finish()) else {
        return Response::from_parts(parts, Body::from(body));
    };
    parts.headers.remove(header::CONTENT_LENGTH);
    let set = [
        (header::CONTENT_ENCODING, "gzip"),
        (header::VARY, "accept-encoding"),
    ];
    for (name, value) in set {
        parts.headers.insert(name, HeaderValue::from_static(value));
    }
    Response::from_parts(parts, Body::from(packed))
}

/// Whether gzip is among what is accepted, and not at a weight of nothing (RFC 9110, 12.5.3).
fn accepts(headers: &HeaderMap) -> bool {
    (headers.get_all(header::ACCEPT_ENCODING).iter())
        .filter_map(|value| value.to_str().ok())
        .flat_map(|line| line.split(','))
        .any(|coding| {
            let (name, weight) = coding.split_once(';').unwrap_or((coding, "q=1"));
            let weight = weight.trim().trim_start_matches("q=").trim();
            name.trim().eq_ignore_ascii_case("gzip") && weight.parse().is_ok_and(|q: f32| q > 0.0)
        })
}

fn is_text(headers: &HeaderMap) -> bool {
    let kind = headers.get(header::CONTENT_TYPE);
    let kind = kind.and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    TEXT.iter().any(|text| kind.starts_with(text))
}
