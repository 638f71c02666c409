//! The union of two copies of a job.

use rusqlite::{Connection, OptionalExtension, Row, Transaction, params};
use tally::{Digest, Event, EventId, MAX_WIRE};

use crate::document::{self, MAX_DOCUMENT};
use crate::error::{Fault, StoreError};
use crate::job::Job;
use crate::log;

/// The most problems that a merge lists; the others are only counted.
pub const MAX_PROBLEMS: usize = 1_000;

/// How far an event's number may lie beyond the number of events in both copies. In honest copies
/// it never does, since each number is one more than that of an event its writer had; the slack
/// is for events that were kept out. Without a bound, one forged number would use up all numbers.
const SLACK: u64 = 1_000_000;

/// What a merge brought into this copy.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Merged {
    /// Events that are new here.
    pub events: usize,
    /// Documents that are new here.
    pub documents: usize,
    /// How many things were kept out; they stay in the other copy.
    pub kept_out: usize,
    /// Why, for the first [`MAX_PROBLEMS`] of them.
    pub problems: Vec<Problem>,
}

/// Why something in the other copy was kept out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Problem {
    /// Not an event.
    #[error("row {row} of the other copy: {why}")]
    Unreadable {
        /// The row there.
        row: i64,
        /// Why.
        why: String,
    },
    /// The same id, another text. One of the two copies was tampered with.
    #[error("event {0} says one thing here and another there")]
    Differs(EventId),
    /// Two events claim one number of one device: somebody wrote on under the same device name in
    /// two copies.
    #[error("event {there} claims number {seq} of device `{device}`, which is event {here} here")]
    SlotTaken {
        /// The device.
        device: String,
        /// The number.
        seq: u64,
        /// The event here.
        here: EventId,
        /// The event there.
        there: EventId,
    },
    /// A number that no honest writer can have reached.
    #[error("event {id} has number {seq}, far beyond the {events} events of both copies")]
    FarAhead {
        /// The event.
        id: EventId,
        /// Its number.
        seq: u64,
        /// The events of both copies.
        events: u64,
    },
    /// A document that is too big.
    #[error("document {digest} takes {size} bytes; at most {MAX_DOCUMENT} fit")]
    DocumentTooBig {
        /// Its digest, as claimed.
        digest: Digest,
        /// Its size in bytes.
        size: i64,
    },
    /// A document whose bytes are not those of its digest.
    #[error("document {0} was changed in the other copy; its bytes do not match its digest")]
    DocumentChanged(Digest),
}

impl Merged {
    fn keep_out(&mut self, problem: Problem) {
        self.kept_out += 1;
        if self.problems.len() < MAX_PROBLEMS {
            self.problems.push(problem);
        }
    }
}

impl Job {
    /// Takes in what the other copy has and this one lacks, all or nothing, on disk when this
    /// returns. What cannot be taken is reported and does not stop the rest. The other copy stays
    /// as it is.
    pub fn merge(&mut self, other: &Self) -> Result<Merged, StoreError> {
        let (here, there) = (self.id(), other.id());
        if here != there {
            return Err(Fault::AnotherJob { here, there }.at(self.path()));
        }
        self.write_shared(|transaction| {
            let view = other.connection.unchecked_transaction().map_err(theirs)?;
            let mut merged = Merged::default();
            documents(transaction, &view, &mut merged)?;
            events(transaction, &view, &mut merged)?;
            Ok(merged)
        })
    }
}

fn documents(here: &Transaction<'_>, there: &Connection, merged: &mut Merged) -> Result<(), Fault> {
    let mut known = here.prepare("select 1 from document where digest = ?1")?;
    let mut statement = there
        .prepare("select rowid, digest, octet_length(bytes) from document order by rowid")
        .map_err(theirs)?;
    let mut rows = statement.query([]).map_err(theirs)?;
    while let Some(row) = rows.next().map_err(theirs)? {
        let (rowid, digest, size) = heading(row).map_err(theirs)?;
        if known.exists([digest.0])? {
            continue;
        }
        if size > MAX_DOCUMENT as i64 {
            merged.keep_out(Problem::DocumentTooBig { digest, size });
            continue;
        }
        let bytes = document::bytes_in(there, rowid).map_err(theirs)?;
        if Digest::of(&bytes) != digest {
            merged.keep_out(Problem::DocumentChanged(digest));
            continue;
        }
        merged.documents += usize::from(document::insert(here, &digest, &bytes)?);
    }
    Ok(())
}

/// Returns a document's row, digest as claimed, and size in bytes, without reading the bytes.
fn heading(row: &Row<'_>) -> Result<(i64, Digest, i64), rusqlite::Error> {
    Ok((row.get(0)?, Digest(row.get(1)?), row.get(2)?))
}

fn events(here: &Transaction<'_>, there: &Connection, merged: &mut Merged) -> Result<(), Fault> {
    let count = number_of_events(here)?.saturating_add(number_of_events(there).map_err(theirs)?);
    let mut statement = there.prepare(log::WIRES_SINCE).map_err(theirs)?;
    let mut rows = statement
        .query(params![0, MAX_WIRE as i64])
        .map_err(theirs)?;
    while let Some(row) = rows.next().map_err(theirs)? {
        let read = log::wire(row)
            .map_err(theirs)?
            .and_then(|text| match Event::read(text) {
                Ok(event) => Ok((event, text)),
                Err(why) => Err(why.to_string()),
            });
        match read {
            Err(why) => merged.keep_out(Problem::Unreadable {
                row: row.get(0)?,
                why,
            }),
            Ok((event, text)) => match obstacle(here, &event, text, count)? {
                Obstacle::Known => {}
                Obstacle::Problem(problem) => merged.keep_out(problem),
                Obstacle::None => {
                    log::insert(here, &event, text)?;
                    merged.events += 1;
                }
            },
        }
    }
    Ok(())
}

/// What stands in the way of taking an event in.
enum Obstacle {
    None,
    Known,
    Problem(Problem),
}

fn obstacle(
    here: &Transaction<'_>,
    event: &Event,
    text: &str,
    events: u64,
) -> Result<Obstacle, Fault> {
    if let Some(known) = log::find(here, event.id)? {
        return Ok(match known == text {
            true => Obstacle::Known,
            false => Obstacle::Problem(Problem::Differs(event.id)),
        });
    }
    let &Event { id, seq, .. } = event;
    if seq > events.saturating_add(SLACK) {
        return Ok(Obstacle::Problem(Problem::FarAhead { id, seq, events }));
    }
    Ok(match slot(here, &event.device, seq)? {
        None => Obstacle::None,
        Some(taken) => {
            let device = event.device.clone();
            Obstacle::Problem(Problem::SlotTaken {
                device,
                seq,
                here: taken,
                there: id,
            })
        }
    })
}

/// Returns the event that holds a slot.
fn slot(here: &Transaction<'_>, device: &str, seq: u64) -> Result<Option<EventId>, Fault> {
    let seq = i64::try_from(seq).map_err(|_| Fault::LogFull)?;
    let mut statement =
        here.prepare_cached("select id from event where seq = ?1 and device = ?2")?;
    let id: Option<[u8; 16]> = statement
        .query_one(params![seq, device], |row| row.get(0))
        .optional()?;
    Ok(id.map(|bytes| EventId(uuid::Uuid::from_bytes(bytes))))
}

fn number_of_events(connection: &Connection) -> Result<u64, rusqlite::Error> {
    let count: i64 = connection.query_one("select count(*) from event", [], |row| row.get(0))?;
    Ok(u64::try_from(count).unwrap_or(0))
}

/// Names a fault for the copy that it is in; the other faults of a merge are this copy's.
fn theirs(error: rusqlite::Error) -> Fault {
    Fault::InOther(Box::new(error.into()))
}
