//! The tally in the file: appending to it and reading it.

use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension, Row, params};
use tally::{Draft, Event, EventId, MAX_SEQ, MAX_WIRE};

use crate::chain;
use crate::error::{Fault, StoreError};
use crate::job::Job;

/// Events as read from the file.
#[derive(Debug, Default)]
pub struct Log {
    /// The events, in the order in which they came into this copy.
    pub events: Vec<Event>,
    /// Those that could not be read; they stay in the file.
    pub unread: Vec<UnreadEvent>,
    /// The row of the last one, to be handed to [`Job::events_since`] for what comes after.
    pub upto: i64,
}

/// A row that is not an event.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnreadEvent {
    /// The row.
    pub row: i64,
    /// Why.
    pub why: String,
}

impl Job {
    /// Appends an event and returns it with its number. When this returns, it is on disk. A retry
    /// under the same id returns the event that is there already; the same id with something else
    /// to say is an error.
    pub fn append(&mut self, draft: Draft) -> Result<Event, StoreError> {
        self.write_shared(|transaction| {
            if let Some(wire) = find(transaction, draft.id)? {
                let stored = Event::read(&wire).map_err(|why| Fault::Damaged(why.to_string()))?;
                return match stored.what == draft.what {
                    true => Ok(stored),
                    false => Err(Fault::IdTaken(stored.id)),
                };
            }
            let seq = next_seq(transaction)?;
            let event = draft.numbered(seq)?;
            insert(transaction, &event, &event.write()?)?;
            Ok(event)
        })
    }

    /// Returns all events.
    pub fn events(&self) -> Result<Log, StoreError> {
        self.events_since(0)
    }

    /// Returns the events that came into this copy after that row.
    pub fn events_since(&self, row: i64) -> Result<Log, StoreError> {
        self.read(|view| {
            let mut log = Log {
                upto: row,
                ..Log::default()
            };
            let mut statement = view.prepare_cached(WIRES_SINCE)?;
            let mut rows = statement.query(params![row, MAX_WIRE as i64])?;
            while let Some(found) = rows.next()? {
                log.upto = found.get(0)?;
                match wire(found)?.and_then(|text| Event::read(text).map_err(|why| why.to_string()))
                {
                    Ok(event) => log.events.push(event),
                    Err(why) => log.unread.push(UnreadEvent { row: log.upto, why }),
                }
            }
            Ok(log)
        })
    }
}

/// Rows and their wire text, nothing in its place where that is bigger than an event can be.
pub(crate) const WIRES_SINCE: &str = "
    select row, case when octet_length(wire) <= ?2 then wire end
    from event where row > ?1 order by row";

/// Returns the text of a row of [`WIRES_SINCE`], or why it is none.
pub(crate) fn wire<'a>(row: &'a Row<'_>) -> Result<Result<&'a str, String>, rusqlite::Error> {
    Ok(match row.get_ref(1)? {
        ValueRef::Text(bytes) => {
            str::from_utf8(bytes).map_err(|_| "it is not text (UTF-8)".to_owned())
        }
        _ => Err(format!("it is bigger than {MAX_WIRE} bytes")),
    })
}

/// Returns the wire text of an event.
pub(crate) fn find(connection: &Connection, id: EventId) -> Result<Option<String>, Fault> {
    let mut statement = connection.prepare_cached("select wire from event where id = ?1")?;
    Ok(statement
        .query_one([id.0.as_bytes()], |row| row.get(0))
        .optional()?)
}

/// Puts an event that is not there yet into its free slot, at the end of the chain.
pub(crate) fn insert(connection: &Connection, event: &Event, wire: &str) -> Result<(), Fault> {
    let seq = i64::try_from(event.seq).map_err(|_| Fault::LogFull)?;
    let link = chain::next(&chain::head(connection)?, wire.as_bytes());
    let mut statement = connection.prepare_cached(
        "insert into event (id, device, seq, wire, chain) values (?1, ?2, ?3, ?4, ?5)",
    )?;
    let id = event.id.0.as_bytes();
    statement.execute(params![id, event.device, seq, wire, link.0])?;
    Ok(())
}

/// Returns one more than the highest number in this copy.
fn next_seq(connection: &Connection) -> Result<u64, Fault> {
    let mut statement = connection.prepare_cached("select coalesce(max(seq), 0) from event")?;
    let highest: i64 = statement.query_one([], |row| row.get(0))?;
    u64::try_from(highest)
        .ok()
        .filter(|highest| *highest < MAX_SEQ)
        .map(|highest| highest + 1)
        .ok_or(Fault::LogFull)
}
