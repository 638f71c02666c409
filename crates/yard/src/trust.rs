//! What phones trust this computer by: an authority of its own, made on first start.
//!
//! It can vouch for nothing but addresses that exist on a network of one's own, and the name constraints that say so
//! are critical: a phone that does not know them refuses the whole. It lies in the user's data folder and never in the
//! job file, which is passed on to the sender.

use std::io;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DistinguishedName, DnType,
    ExtendedKeyUsagePurpose, GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose,
    NameConstraints,
};
use rustls::pki_types::CertificateDer;
use rustls::pki_types::pem::PemObject;
use serde::{Deserialize, Serialize};
use tally::Digest;
use time::OffsetDateTime;

use crate::trust_file::{self, Over, Written};

/// Where addresses of one's own lie: RFC 1122 (loopback), RFC 1918 (private), RFC 3927 (link-local), RFC 4291 (IPv6
/// loopback and link-local) and RFC 4193 (unique local). The authority vouches for these and no others.
const OWN_NETWORKS: [(IpAddr, u8); 8] = [
    (IpAddr::V4(Ipv4Addr::new(127, 0, 0, 0)), 8),
    (IpAddr::V4(Ipv4Addr::new(10, 0, 0, 0)), 8),
    (IpAddr::V4(Ipv4Addr::new(172, 16, 0, 0)), 12),
    (IpAddr::V4(Ipv4Addr::new(192, 168, 0, 0)), 16),
    (IpAddr::V4(Ipv4Addr::new(169, 254, 0, 0)), 16),
    (IpAddr::V6(Ipv6Addr::LOCALHOST), 128),
    (IpAddr::V6(Ipv6Addr::new(0xfc00, 0, 0, 0, 0, 0, 0, 0)), 7),
    (IpAddr::V6(Ipv6Addr::new(0xfe80, 0, 0, 0, 0, 0, 0, 0)), 10),
];
/// Names that are resolved on one's own computer (RFC 6761) or network (RFC 6762); with all below them.
const OWN_NAMES: [&str; 2] = ["localhost", "local"];

pub(crate) const DAY: i64 = 24 * 60 * 60;
/// How long the authority lasts: two years.
const AUTHORITY_DAYS: i64 = 730;
/// How long a certificate for an address lasts, with the day before it that is left for slow clocks: 397 days.
const ADDRESS_DAYS: i64 = 396;
/// What has less left than this is made anew on start.
pub(crate) const NEAR_END_DAYS: i64 = 30;

const FILE: &str = "authority.toml";

/// Why there is no safe address.
#[derive(Debug, thiserror::Error)]
pub(crate) enum TrustError {
    /// A file of the data folder cannot be read or written.
    #[error("{}: {error}", path.display())]
    File { path: PathBuf, error: io::Error },
    /// The kept authority is none.
    #[error("{} is damaged ({says}); move it away, and a new one is made on the next start", path.display())]
    Damaged { path: PathBuf, says: String },
    /// A certificate cannot be made.
    #[error("a certificate cannot be made: {0}")]
    Made(#[from] rcgen::Error),
    /// The authority cannot be written down.
    #[error("the certificate cannot be written: {0}")]
    Written(#[from] toml::ser::Error),
    /// The certificate cannot be served.
    #[error("the certificate cannot be used: {0}")]
    Served(#[from] rustls::Error),
}

/// What this computer vouches by.
pub(crate) struct Authority {
    /// What phones are given.
    pub certificate: CertificateDer<'static>,
    /// The second when it ends.
    pub until: i64,
    key: KeyPair,
}

/// An authority as it is kept; one file, so that key and certificate are never of two makings.
#[derive(Serialize, Deserialize)]
struct Kept {
    until: String,
    certificate: String,
    key: String,
}

impl Authority {
    /// The authority that a folder keeps; made there if there is none, or if it nears its end.
    pub fn kept_in(folder: &Path, now: i64) -> Result<Self, TrustError> {
        let path = folder.join(FILE);
        let Some(text) = trust_file::read(&path)? else {
            return Self::made(&path, Over::Nothing, now);
        };
        let kept = Self::read(&text).map_err(|says| TrustError::Damaged {
            path: path.clone(),
            says,
        })?;
        // One that lasts longer than any does was made by a clock that ran ahead.
        if (NEAR_END_DAYS * DAY..=AUTHORITY_DAYS * DAY).contains(&(kept.until - now)) {
            return Ok(kept);
        }
        Self::made(&path, Over::Anything, now)
    }

    fn made(path: &Path, over: Over, now: i64) -> Result<Self, TrustError> {
        let text = fresh(now)?;
        let text = match trust_file::write(path, &text, over)? {
            Written::Now => text,
            // Another yard of this computer was opened at the same moment; both go by its authority.
            Written::Before(theirs) => theirs,
        };
        Self::read(&text).map_err(|says| TrustError::Damaged {
            path: path.into(),
            says,
        })
    }

    fn read(text: &str) -> Result<Self, String> {
        let kept: Kept = toml::from_str(text).map_err(|e| e.message().to_string())?;
        let until: Timestamp = kept.until.parse().map_err(|e| format!("its end: {e}"))?;
        let certificate = CertificateDer::from_pem_slice(kept.certificate.as_bytes());
        Ok(Self {
            certificate: certificate.map_err(|e| format!("its certificate: {e}"))?,
            until: until.as_second(),
            key: KeyPair::from_pem(&kept.key).map_err(|e| format!("its key: {e}"))?,
        })
    }

    /// The SHA-256 of its certificate, by which people know it.
    pub fn fingerprint(&self) -> Fingerprint {
        Fingerprint(Digest::of(&self.certificate).0)
    }

    /// A certificate for names and addresses of this computer, and its key, as PEM.
    pub fn vouch_for(&self, names: &[String], now: i64) -> Result<String, TrustError> {
        let mut params = CertificateParams::new(names)?;
        params.distinguished_name = DistinguishedName::new();
        let first = names.first().map_or("localhost", String::as_str);
        (params.distinguished_name).push(DnType::CommonName, first);
        params.not_before = second(now - DAY);
        params.not_after = second(self.until.min(now + ADDRESS_DAYS * DAY));
        params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        params.use_authority_key_identifier_extension = true;
        let key = KeyPair::generate()?;
        let mut of_authority = CertificateParams::default();
        of_authority.distinguished_name = name_of(&self.key);
        of_authority.key_usages = vec![KeyUsagePurpose::KeyCertSign];
        let certificate = params.signed_by(&key, &Issuer::new(of_authority, &self.key))?;
        Ok(format!("{}{}", certificate.pem(), key.serialize_pem()))
    }
}

/// A new authority, as it is kept.
fn fresh(now: i64) -> Result<String, TrustError> {
    // ECDSA on P-256, which every phone knows.
    let key = KeyPair::generate()?;
    let until = now + AUTHORITY_DAYS * DAY;
    let mut params = CertificateParams::default();
    params.distinguished_name = name_of(&key);
    params.not_before = second(now - DAY);
    params.not_after = second(until);
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign];
    // For servers only: it vouches for no mail, program or person.
    params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
    let networks = OWN_NETWORKS.iter().map(|(network, prefix)| {
        GeneralSubtree::IpAddress(CidrSubnet::from_addr_prefix(*network, *prefix))
    });
    let names = OWN_NAMES.map(|name| GeneralSubtree::DnsName(name.into()));
    params.name_constraints = Some(NameConstraints {
        permitted_subtrees: networks.chain(names).collect(),
        excluded_subtrees: Vec::new(),
    });
    let kept = Kept {
        until: (Timestamp::from_second(until).unwrap_or(Timestamp::MAX)).to_string(),
        certificate: params.self_signed(&key)?.pem(),
        key: key.serialize_pem(),
    };
    Ok(toml::to_string(&kept)?)
}

/// The SHA-256 of a certificate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fingerprint([u8; 32]);

impl Fingerprint {
    /// Sixteen groups of four letters and figures, to be compared by eye.
    pub fn groups(&self) -> Vec<String> {
        (self.0.chunks(2))
            .map(|two| two.iter().map(|byte| format!("{byte:02X}")).collect())
            .collect()
    }
}

/// Whether the authority may vouch for an address.
pub(crate) fn is_own(ip: IpAddr) -> bool {
    let within = |network: &IpAddr, prefix: u8| match (ip, network) {
        (IpAddr::V4(ip), IpAddr::V4(network)) => {
            (ip.to_bits() ^ network.to_bits()) >> (32 - u32::from(prefix)) == 0
        }
        (IpAddr::V6(ip), IpAddr::V6(network)) => {
            (ip.to_bits() ^ network.to_bits()) >> (128 - u32::from(prefix)) == 0
        }
        _ => false,
    };
    OWN_NETWORKS
        .iter()
        .any(|(network, prefix)| within(network, *prefix))
}

/// An authority is named for its key, so that two computers' are told apart in a phone's list, and so that the name
/// can be written again from what is kept.
fn name_of(key: &KeyPair) -> DistinguishedName {
    let digest = Digest::of(key.public_key_raw()).to_string();
    let mut name = DistinguishedName::new();
    let text = format!("Tallyard yard computer {}", digest[..8].to_uppercase());
    name.push(DnType::CommonName, text);
    name
}

fn second(second: i64) -> OffsetDateTime {
    OffsetDateTime::from_unix_timestamp(second).unwrap_or(OffsetDateTime::UNIX_EPOCH)
}
