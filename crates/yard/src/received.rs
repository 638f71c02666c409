//! What was received, in open formats for other programs: the command and the page write the same.

use claim::received::{Received, Said, Unwritten};
use claim::x12::{self, Envelope};
use claim::{received_csv, received_json, received_xlsx, ubl};
use tally::{Digest, Standing};

use crate::clock;

/// A format.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReceivedForm {
    /// UBL 2.1 ReceiptAdvice.
    Ubl,
    /// X12 861.
    X12,
    /// CSV.
    Csv,
    /// A workbook.
    Xlsx,
    /// JSON.
    Json,
}

/// Returns what was received, as it stands; `None` without an order that can be built. The document's number is made of
/// the order's and the log's head, if none is said: another state of the log is another document.
pub fn received(
    standing: &Standing,
    head: &Digest,
    document: Option<String>,
    receiver: String,
) -> Option<Received> {
    let affairs = &standing.state.affairs;
    let local = |at| {
        let (day, time) = clock::at_site(affairs, at);
        day.to_datetime(time)
    };
    let head = head.to_string();
    let said = Said {
        document: document.unwrap_or_else(|| named(standing, &head)),
        issued: local(store::now()),
        receiver: match receiver.trim() {
            "" => affairs.written("from-name", None).to_owned(),
            _ => receiver,
        },
        log_head: head,
    };
    Received::of(standing, said, local)
}

/// "SG-117-4f5be01a".
fn named(standing: &Standing, head: &str) -> String {
    let number = standing
        .ordered()
        .and_then(|ordered| ordered.order.number.as_deref());
    let head: String = head.chars().take(8).collect();
    format!("{}-{head}", number.unwrap_or("received"))
}

impl ReceivedForm {
    /// Writes it; the envelope is for X12 alone.
    ///
    /// # Errors
    /// Says what the format cannot hold.
    pub fn write(self, received: &Received, envelope: &Envelope) -> Result<Vec<u8>, Unwritten> {
        match self {
            Self::Ubl => ubl::write(received).map(String::into_bytes),
            Self::X12 => x12::write(received, envelope).map(String::into_bytes),
            Self::Csv => received_csv::write(received),
            Self::Xlsx => received_xlsx::write(received),
            Self::Json => received_json::write(received).map(String::into_bytes),
        }
    }
}
