//! Where ids and the time come from. The tally itself takes both as given.

use std::time::{SystemTime, UNIX_EPOCH};

use tally::EventId;
use uuid::Uuid;

/// Returns a new event id.
pub fn fresh_id() -> EventId {
    EventId(Uuid::now_v7())
}

/// Returns this computer's time in milliseconds since 1970-01-01 UTC; 0 if its clock says
/// earlier.
pub fn now() -> i64 {
    let since = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}
