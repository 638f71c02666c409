//! What was measured and photographed, as it stands.

use crate::digest::Digest;
use crate::event::{EventId, Shot};

/// A piece that was measured to find out what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who measured.
    pub who: String,
    /// What it was held to be; `None`: none of this order.
    pub mark: Option<String>,
    /// The pile it lay in.
    pub pile: Option<String>,
    /// What was read.
    pub readings: Vec<tell::Reading>,
}

/// A picture that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who took it.
    pub who: String,
    /// The document.
    pub photo: Digest,
    /// What it shows.
    pub shot: Shot,
    /// The shipment it shows, by its name as first spelled.
    pub shipment: Option<String>,
    /// The mark it shows, where it shows one.
    pub mark: Option<String>,
    /// The condition that it proves.
    pub of: Option<EventId>,
    /// In the person's words.
    pub words: String,
}
