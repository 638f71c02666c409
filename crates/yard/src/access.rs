//! Who may come in: a phone that showed the join code and now shows its own secret.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use store::JobId;

use crate::reply::Failure;
use crate::serve::Yard;

/// The cookie that holds a phone's secret.
const COOKIE: &str = "tallyard";

/// Whoever holds the phone.
#[derive(Clone, Debug)]
pub(crate) struct Holder {
    /// The device's id.
    pub device: String,
    /// The name its holder goes by.
    pub who: String,
    /// When what the form says was seen, where the phone says so itself; see `seen.rs`.
    pub at: Option<i64>,
    /// The job that the phone has joined.
    pub job: JobId,
}

/// Lets only joined phones through; others are shown the way to join, and nothing else.
pub(crate) async fn only_joined(
    State(yard): State<Yard>,
    mut request: Request,
    next: Next,
) -> Response {
    match holder(&yard, request.headers()) {
        Ok(Some(holder)) => {
            request.extensions_mut().insert(holder);
            next.run(request).await
        }
        Ok(None) if request.method() == Method::GET => Redirect::to("/join").into_response(),
        Ok(None) => Failure::new(
            StatusCode::FORBIDDEN,
            "This phone has not joined. Scan the QR code at the table.",
        )
        .into_response(),
        Err(failure) => failure.into_response(),
    }
}

/// Whoever holds the phone that sent these headers, if it has joined.
pub(crate) fn holder(yard: &Yard, headers: &HeaderMap) -> Result<Option<Holder>, Failure> {
    let Some(secret) = cookie(headers) else {
        return Ok(None);
    };
    let device = yard.at_desk(|desk| desk.device(&secret))?;
    Ok(device.map(|device| Holder {
        device: device.id,
        who: device.name,
        at: None,
        job: yard.job,
    }))
}

fn cookie(headers: &HeaderMap) -> Option<String> {
    (headers.get_all(header::COOKIE).iter())
        .filter_map(|value| value.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(name, _)| *name == COOKIE)
        .map(|(_, value)| value.to_string())
        .filter(|value| value.len() <= 128)
}

/// The header that gives a phone its secret for half a year.
pub(crate) fn set_cookie(secret: &str) -> String {
    format!("{COOKIE}={secret}; Path=/; Max-Age=15552000; HttpOnly; SameSite=Strict")
}

/// The header that takes the secret back.
pub(crate) fn clear_cookie() -> String {
    format!("{COOKIE}=; Path=/; Max-Age=0; HttpOnly; SameSite=Strict")
}

/// Refuses forms that another site's page sends: the browser says where they come from.
pub(crate) async fn same_site_only(request: Request, next: Next) -> Response {
    if request.method() != Method::GET
        && request.method() != Method::HEAD
        && !is_from_here(request.headers())
    {
        return Failure::new(
            StatusCode::FORBIDDEN,
            "This form came from another site. Open the yard's own page.",
        )
        .into_response();
    }
    next.run(request).await
}

fn is_from_here(headers: &HeaderMap) -> bool {
    let text = |name: header::HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    match (text(header::ORIGIN), text(header::HOST)) {
        // A program that is no browser sends no origin; it has no cookie of ours to misuse either.
        (None, _) => true,
        (Some(origin), Some(host)) => origin
            .split_once("://")
            .is_some_and(|(_, from)| from == host),
        (Some(_), None) => false,
    }
}
