//! The wire form of an event: one JSON object, `{"v":1,"id":…,"device":…,"seq":…,"at":…,
//! "who":…,"kind":…,"body":…}`.
//!
//! It is the form on disk and between copies. The fields outside `body` are promised for every
//! version; a kind or a version that this build does not know is kept as [`What::Other`]. Whoever
//! stores or passes on an event keeps the text it came in, so that fields added later live on.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use crate::event::{Event, EventId, What};
use crate::rules::{self, Refusal};

/// The version that this build writes.
pub const WIRE_VERSION: u32 = 1;
/// The biggest event, in bytes of JSON. Holds the biggest order even when each byte is escaped.
pub const MAX_WIRE: usize = 512 * 1024;

/// The kinds of [`WIRE_VERSION`]; each must be a variant of [`What`].
const KINDS: [&str; 37] = [
    "order_set",
    "list_added",
    "list_corrected",
    "list_sent_by",
    "codes_taken",
    "list_dropped",
    "overruled",
    "counted",
    "counted_again",
    "pile_placed",
    "measured",
    "photographed",
    "conditioned",
    "noted",
    "shipment_arrived",
    "shipment_named",
    "freight_said",
    "delivered",
    "zone_set",
    "agreed",
    "done",
    "day_off",
    "written",
    "priced",
    "point_kept",
    "answered",
    "point_closed",
    "job_closed",
    "ground_set",
    "pile_put",
    "stakes_read",
    "crew_day",
    "expected",
    "way_said",
    "worked",
    "tools_seen",
    "corrected",
];

/// Why a text is not an event.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unread {
    /// Not JSON, or a field is missing or of another shape.
    #[error("not an event: {0}")]
    Shape(String),
    /// Read, but it says what cannot stand in a log.
    #[error(transparent)]
    Refused(#[from] Refusal),
}

#[derive(Deserialize)]
struct Envelope<'a> {
    v: u32,
    id: EventId,
    device: String,
    seq: u64,
    at: i64,
    who: String,
    kind: String,
    #[serde(borrow)]
    body: &'a RawValue,
}

#[derive(Serialize)]
struct Written<'a, B> {
    v: u32,
    id: EventId,
    device: &'a str,
    seq: u64,
    at: i64,
    who: &'a str,
    #[serde(flatten)]
    what: B,
}

#[derive(Serialize)]
struct Kept<'a> {
    kind: &'a str,
    body: &'a RawValue,
}

impl Event {
    /// Returns the event as one line of JSON, always the same bytes for the same event; refuses
    /// one that breaks a limit.
    pub fn write(&self) -> Result<String, Refusal> {
        rules::check(self)?;
        let text = match &self.what {
            What::Other { v, kind, body } => {
                let body = serde_json::from_str(body).map_err(body_error)?;
                self.written(*v, Kept { kind, body })
            }
            what => self.written(WIRE_VERSION, what),
        }?;
        match text.len() > MAX_WIRE {
            true => Err(Refusal::TooBig(text.len())),
            false => Ok(text),
        }
    }

    /// Reads an event. Never panics, whatever the text.
    pub fn read(text: &str) -> Result<Self, Unread> {
        if text.len() > MAX_WIRE {
            return Err(Refusal::TooBig(text.len()).into());
        }
        let Envelope {
            v,
            id,
            device,
            seq,
            at,
            who,
            kind,
            body,
        } = serde_json::from_str(text).map_err(shape)?;
        let what = match v == WIRE_VERSION && KINDS.contains(&kind.as_str()) {
            true => serde_json::from_str(text).map_err(shape)?,
            false => What::Other {
                v,
                kind,
                body: body.get().to_owned(),
            },
        };
        let event = Self {
            id,
            device,
            seq,
            at,
            who,
            what,
        };
        rules::check(&event)?;
        Ok(event)
    }

    fn written<B: Serialize>(&self, v: u32, what: B) -> Result<String, Refusal> {
        let Self {
            id,
            device,
            seq,
            at,
            who,
            what: _,
        } = self;
        let written = Written {
            v,
            id: *id,
            device,
            seq: *seq,
            at: *at,
            who,
            what,
        };
        serde_json::to_string(&written).map_err(body_error)
    }
}

fn shape(error: serde_json::Error) -> Unread {
    Unread::Shape(error.to_string())
}

fn body_error(error: serde_json::Error) -> Refusal {
    Refusal::Body(error.to_string())
}
