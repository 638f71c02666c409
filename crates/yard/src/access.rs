//! Who may come in: a phone that showed the join code and now shows its own secret.

use std::net::{IpAddr, SocketAddr};

use axum::extract::connect_info::{ConnectInfo, Connected};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use axum::serve::IncomingStream;
use tokio::net::{TcpListener, TcpStream};

use store::JobId;

use crate::pages;
use crate::reply::{Failure, page_reply};
use crate::serve::Yard;

/// The cookie that holds the secret of a phone that joined at the plain address. Browsers keep cookies by host and not
/// by port, so it is shown at the safe address as well: one joining is enough for both.
const COOKIE: &str = "tallyard";
/// The one of a phone that joined at the safe address; it never crosses the air unencrypted (RFC 6265bis, 4.1.3.2). It
/// has a name of its own because a plain page may not write over a cookie that is `Secure`.
const SAFE_COOKIE: &str = "__Host-tallyard";

/// The other end of a connection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Peer {
    pub ip: IpAddr,
    /// Whether it is the yard's own computer, at the table.
    pub at_table: bool,
    /// Whether it came by the safe address.
    pub safe: bool,
}

impl Peer {
    pub fn of(stream: &TcpStream, from: SocketAddr, safe: bool) -> Self {
        let ip = from.ip().to_canonical();
        let ours = stream.local_addr().map(|ours| ours.ip().to_canonical());
        Self {
            ip,
            // What comes from this computer to an address of its own comes from that address.
            at_table: ip.is_loopback() || ours.is_ok_and(|ours| ours == ip),
            safe,
        }
    }
}

impl Connected<IncomingStream<'_, TcpListener>> for Peer {
    fn connect_info(stream: IncomingStream<'_, TcpListener>) -> Self {
        Peer::of(stream.io(), *stream.remote_addr(), false)
    }
}

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
    /// Whether that job can only be read.
    pub for_reading: bool,
}

/// Who it is that asks.
pub(crate) enum Comer {
    Joined(Holder),
    /// Its holder's name, when it was shut out at the table.
    ShutOut(String),
    Stranger,
}

/// Lets only joined phones through; others are shown the way to join, and nothing else.
pub(crate) async fn only_joined(
    State(yard): State<Yard>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    mut request: Request,
    next: Next,
) -> Response {
    let reads = request.method() == Method::GET;
    match comer(&yard, request.headers()) {
        Ok(Comer::Joined(holder)) => {
            yard.door().saw(&holder.device, store::now());
            if holder.for_reading && !may_always(&request) {
                // Before the phone's own words are read: what waits in it is not put aside, but kept for the job itself.
                return for_reading().into_response();
            }
            request.extensions_mut().insert(holder);
            next.run(request).await
        }
        // The table cannot be shut out of its own job: it joins anew.
        Ok(Comer::ShutOut(who)) if reads && !peer.at_table => {
            (StatusCode::FORBIDDEN, page_reply(pages::phones::shut_out(&who))).into_response()
        }
        Ok(_) if reads => Redirect::to("/join").into_response(),
        Ok(Comer::ShutOut(who)) => Failure::new(
            StatusCode::FORBIDDEN,
            format!(
                "This phone was shut out at the table, so this was not kept. Leave it on the phone, ask at the \
                 table to let {who}'s phone in again, and then send it once more."
            ),
        )
        .into_response(),
        Ok(Comer::Stranger) => Failure::new(
            StatusCode::FORBIDDEN,
            "This phone has not joined. Scan the QR code at the table.",
        )
        .into_response(),
        Err(failure) => failure.into_response(),
    }
}

/// Whether a request writes nothing into the job: it reads, or its phone leaves.
fn may_always(request: &Request) -> bool {
    matches!(*request.method(), Method::GET | Method::HEAD) || request.uri().path() == "/leave"
}

fn for_reading() -> Failure {
    Failure::new(
        StatusCode::FORBIDDEN,
        "This is a copy for reading, and nothing can be written to it. What is new goes into the job itself, at the \
         yard that it came from.",
    )
}

/// Who it is that sent these headers.
pub(crate) fn comer(yard: &Yard, headers: &HeaderMap) -> Result<Comer, Failure> {
    let mut shut = None;
    for secret in [SAFE_COOKIE, COOKIE]
        .iter()
        .filter_map(|name| cookie(headers, name))
    {
        match yard.at_desk(|desk| desk.device(&secret))? {
            Some(device) if !device.revoked => {
                return Ok(Comer::Joined(Holder {
                    device: device.id,
                    who: device.name,
                    at: None,
                    job: yard.job,
                    for_reading: yard.for_reading,
                }));
            }
            Some(device) => shut = Some(device.name),
            None => {}
        }
    }
    Ok(shut.map_or(Comer::Stranger, Comer::ShutOut))
}

fn cookie(headers: &HeaderMap, wanted: &str) -> Option<String> {
    (headers.get_all(header::COOKIE).iter())
        .filter_map(|value| value.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(name, _)| *name == wanted)
        .map(|(_, value)| value.to_string())
        .filter(|value| value.len() <= 128)
}

/// The header that gives a phone its secret for half a year.
///
/// To a browser the plain and the safe address are two sites. Only a `Lax` cookie is shown when a link leads from one
/// to the other, and only to links: forms of other sites are refused by their origin besides.
pub(crate) fn set_cookie(secret: &str, safe: bool) -> String {
    match safe {
        true => format!(
            "{SAFE_COOKIE}={secret}; Path=/; Max-Age=15552000; HttpOnly; SameSite=Lax; Secure"
        ),
        false => format!("{COOKIE}={secret}; Path=/; Max-Age=15552000; HttpOnly; SameSite=Lax"),
    }
}

/// The headers that take the secret back, whichever it is.
pub(crate) fn clear_cookies() -> [String; 2] {
    [
        format!("{COOKIE}=; Path=/; Max-Age=0; HttpOnly; SameSite=Lax"),
        format!("{SAFE_COOKIE}=; Path=/; Max-Age=0; HttpOnly; SameSite=Lax; Secure"),
    ]
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
