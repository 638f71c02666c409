//! The safe address: a listener that speaks TLS, and what phones are told about it.

use std::io;
use std::net::{IpAddr, SocketAddr};
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::connect_info::Connected;
use axum::http::uri::Authority;
use axum::http::{HeaderMap, header};
use axum::serve::{IncomingStream, Listener};
use tokio::net::{TcpListener, TcpStream};
use tokio::task::JoinSet;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::server::TlsStream;

use crate::access::Peer;
use crate::trust::{self, Fingerprint, is_own};
use crate::trust_address;

/// How long a phone may take to agree on a key.
const HANDSHAKE: Duration = Duration::from_secs(10);
/// How many may be at it at once; more wait in the system's own queue.
const MOST_HANDSHAKES: usize = 256;

/// The address at which phones that trust this computer meet no warning, and what they trust it by.
#[derive(Clone, Debug)]
pub struct SafeAddress {
    /// Where it listens.
    pub at: SocketAddr,
    /// Where phones on the same network find it, such as `https://192.168.1.20:7412`.
    pub address: String,
    /// Every name and address that its certificate is for.
    names: Vec<String>,
    /// By what people know the certificate that phones are given.
    pub fingerprint: Fingerprint,
    /// When it ends, in milliseconds since 1970-01-01 UTC.
    pub until: i64,
    /// That certificate (DER).
    pub certificate: Vec<u8>,
}

impl SafeAddress {
    /// The safe address under the name by which a browser found the plain one, if the certificate is for that name too:
    /// cookies go by names.
    pub(crate) fn beside(&self, headers: &HeaderMap) -> String {
        let port = self.at.port();
        let asked = || {
            let authority: Authority = headers.get(header::HOST)?.to_str().ok()?.parse().ok()?;
            let host = authority.host().to_ascii_lowercase();
            let bare = host.trim_start_matches('[').trim_end_matches(']');
            let known = self.names.iter().any(|name| name == bare);
            known.then(|| format!("https://{host}:{port}"))
        };
        asked().unwrap_or_else(|| self.address.clone())
    }
}

/// Opens the safe address, or says in words why there is none.
pub(crate) async fn open(
    listen: SocketAddr,
    seen: IpAddr,
    keeps: &Path,
) -> Result<(SafeAddress, TlsListener), String> {
    if !is_own(seen) {
        return Err(format!(
            "this computer's address here, {seen}, is none of a private network, and its certificate can vouch for no other"
        ));
    }
    let now = store::now() / 1000;
    let authority = trust::Authority::kept_in(keeps, now).map_err(|e| e.to_string())?;
    let mut names = trust_address::at_hand();
    if !names.contains(&seen.to_string()) {
        names.push(seen.to_string());
    }
    let config = trust_address::served_by(&authority, keeps, &names, now);
    let config = config.map_err(|e| e.to_string())?;
    let bound = TcpListener::bind(listen).await;
    let tcp = bound.map_err(|e| format!("{listen}: {e}"))?;
    let at = tcp.local_addr().map_err(|e| format!("{listen}: {e}"))?;
    let safe = SafeAddress {
        at,
        address: format!("https://{}", SocketAddr::new(seen, at.port())),
        names,
        fingerprint: authority.fingerprint(),
        until: authority.until * 1000,
        certificate: authority.certificate.to_vec(),
    };
    let listener = TlsListener {
        tcp,
        acceptor: TlsAcceptor::from(Arc::new(config)),
        agreeing: JoinSet::new(),
    };
    Ok((safe, listener))
}

/// Takes in connections that have agreed on a key. They do so side by side: one that dawdles holds up nobody.
pub(crate) struct TlsListener {
    tcp: TcpListener,
    acceptor: TlsAcceptor,
    agreeing: JoinSet<Option<(TlsStream<TcpStream>, SocketAddr)>>,
}

impl Listener for TlsListener {
    type Io = TlsStream<TcpStream>;
    type Addr = SocketAddr;

    async fn accept(&mut self) -> (Self::Io, Self::Addr) {
        loop {
            let room = self.agreeing.len() < MOST_HANDSHAKES;
            tokio::select! {
                (stream, from) = Listener::accept(&mut self.tcp), if room => {
                    let agreed = self.acceptor.accept(stream);
                    self.agreeing.spawn(async move {
                        let agreed = tokio::time::timeout(HANDSHAKE, agreed).await;
                        // Whoever gives up has not got so far as to be answered.
                        Some((agreed.ok()?.ok()?, from))
                    });
                }
                Some(agreed) = self.agreeing.join_next() => {
                    if let Ok(Some(connection)) = agreed {
                        return connection;
                    }
                }
            }
        }
    }

    fn local_addr(&self) -> io::Result<SocketAddr> {
        self.tcp.local_addr()
    }
}

impl Connected<IncomingStream<'_, TlsListener>> for Peer {
    fn connect_info(stream: IncomingStream<'_, TlsListener>) -> Self {
        Peer::of(stream.io().get_ref().0, *stream.remote_addr(), true)
    }
}
