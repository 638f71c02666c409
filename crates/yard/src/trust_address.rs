//! The certificate that the safe address is served with: for the addresses at hand, made anew when they change.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use rustls::RootCertStore;
use rustls::ServerConfig;
use rustls::client::WebPkiServerVerifier;
use rustls::client::danger::ServerCertVerifier;
use rustls::crypto::{CryptoProvider, ring};
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName, UnixTime};

use crate::trust::{Authority, DAY, NEAR_END_DAYS, TrustError, is_own};
use crate::trust_file::{self, Over};

const FILE: &str = "address.pem";
/// More addresses than a computer has; containers bring dozens.
const MOST_NAMES: usize = 64;

/// How the safe address is served: by the certificate that a folder keeps, if it will do, or by a new one.
pub(crate) fn served_by(
    authority: &Authority,
    folder: &Path,
    names: &[String],
    now: i64,
) -> Result<ServerConfig, TrustError> {
    let path = folder.join(FILE);
    let provider = Arc::new(ring::default_provider());
    // One that cannot be read is made anew too; if that cannot be, writing says why.
    if let Some(kept) = trust_file::read(&path).ok().flatten()
        && let Ok(config) = config(&kept, &provider)
        && vouches(authority, &kept, &provider, names, now)
    {
        return Ok(config);
    }
    let fresh = authority.vouch_for(names, now)?;
    trust_file::write(&path, &fresh, Over::Anything)?;
    config(&fresh, &provider)
}

fn config(pem: &str, provider: &Arc<CryptoProvider>) -> Result<ServerConfig, TrustError> {
    let unread = |_| TrustError::Served(rustls::Error::General("its file is damaged".into()));
    let certificate = CertificateDer::from_pem_slice(pem.as_bytes()).map_err(unread)?;
    let key = PrivateKeyDer::from_pem_slice(pem.as_bytes()).map_err(unread)?;
    let mut config = ServerConfig::builder_with_provider(provider.clone())
        .with_safe_default_protocol_versions()?
        .with_no_client_auth()
        .with_single_cert(vec![certificate], key)?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(config)
}

/// Whether a phone that trusts the authority would take a certificate for all these names, today and in a month: the
/// question is put to the verifier that such a phone could use, and not to what we think stands in the file.
fn vouches(
    authority: &Authority,
    pem: &str,
    provider: &Arc<CryptoProvider>,
    names: &[String],
    now: i64,
) -> bool {
    let asked = || {
        let certificate = CertificateDer::from_pem_slice(pem.as_bytes()).ok()?;
        let mut roots = RootCertStore::empty();
        roots.add(authority.certificate.clone()).ok()?;
        let verifier =
            WebPkiServerVerifier::builder_with_provider(Arc::new(roots), provider.clone())
                .build()
                .ok()?;
        let at = |second: i64| {
            let second = u64::try_from(second).unwrap_or_default();
            UnixTime::since_unix_epoch(Duration::from_secs(second))
        };
        let holds = |name: &String, second: i64| {
            ServerName::try_from(name.as_str()).is_ok_and(|name| {
                verifier
                    .verify_server_cert(&certificate, &[], &name, &[], at(second))
                    .is_ok()
            })
        };
        let days = [now, now + NEAR_END_DAYS * DAY];
        Some((names.iter()).all(|name| days.iter().all(|day| holds(name, *day))))
    };
    asked().unwrap_or(false)
}

/// The names and addresses by which this computer is reached, as far as the authority may vouch for them.
pub(crate) fn at_hand() -> Vec<String> {
    let mut names = vec!["localhost".to_string()];
    names.extend(name_on_the_network());
    let own = [
        IpAddr::V4(Ipv4Addr::LOCALHOST),
        IpAddr::V6(Ipv6Addr::LOCALHOST),
    ];
    // A system that does not tell its addresses is still vouched for on itself.
    let found = if_addrs::get_if_addrs().unwrap_or_default();
    let mut addresses: Vec<IpAddr> = (own.into_iter())
        .chain(found.iter().map(if_addrs::Interface::ip))
        .filter(|ip| is_own(*ip))
        .collect();
    addresses.sort_unstable();
    addresses.dedup();
    names.extend(addresses.iter().map(IpAddr::to_string));
    names.truncate(MOST_NAMES);
    names
}

/// What other computers of the network may call this one: its name under `.local` (RFC 6762).
fn name_on_the_network() -> Option<String> {
    let name = gethostname::gethostname().to_str()?.to_ascii_lowercase();
    let label = name.split('.').next()?;
    let fits = (1..=63).contains(&label.len())
        && label != "localhost"
        && label
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'-')
        && !label.starts_with('-')
        && !label.ends_with('-');
    fits.then(|| format!("{label}.local"))
}
