//! The chain over the log: each event bound to all that came into this copy before it.
//!
//! The chain of an empty log is the SHA-256 of the job's id (its 16 bytes). Each event then makes
//! the next link: the SHA-256 of the link before it (32 bytes), the length of its wire text in
//! bytes (8 bytes, big-endian) and the wire text itself. What an event names by digest is bound
//! with it. The last link is the head.
//!
//! Whoever can write the file can also make the whole chain anew. What pins it is a head that was
//! written down elsewhere: see `docs/verify.md`.

use rusqlite::{Connection, OptionalExtension, params};
use sha2::{Digest as _, Sha256};
use tally::Digest;

use crate::error::{Fault, StoreError};
use crate::job::{Job, JobId};

impl Job {
    /// Returns the head of this copy's log: it stands for every event in it, in the order in which
    /// they came. Noted elsewhere (on a paper, with somebody else), it lets [`Job::verify`] tell
    /// later whether they are all still there unchanged.
    pub fn head(&self) -> Result<Digest, StoreError> {
        self.read(head)
    }
}

/// The link that a job's log begins with.
pub(crate) fn first(job: JobId) -> Digest {
    Digest::of(job.0.as_bytes())
}

/// The link of an event that comes after `before`.
pub(crate) fn next(before: &Digest, wire: &[u8]) -> Digest {
    let link = Sha256::new()
        .chain_update(before.0)
        .chain_update((wire.len() as u64).to_be_bytes())
        .chain_update(wire);
    Digest(link.finalize().into())
}

/// Returns the last link.
pub(crate) fn head(connection: &Connection) -> Result<Digest, Fault> {
    let mut statement =
        connection.prepare_cached("select chain from event order by row desc limit 1")?;
    let last = statement.query_one([], |row| row.get(0)).optional()?;
    match last {
        Some(link) => Ok(Digest(link)),
        None => first_of(connection),
    }
}

/// Returns the link that this file's log begins with.
pub(crate) fn first_of(connection: &Connection) -> Result<Digest, Fault> {
    let id: [u8; 16] = connection.query_one("select id from job", [], |row| row.get(0))?;
    Ok(first(JobId(uuid::Uuid::from_bytes(id))))
}

/// Brings the events of a log without a chain into one, under their rows and to the byte.
pub(crate) fn begin(connection: &Connection) -> Result<(), Fault> {
    take_over(connection)?;
    connection.execute_batch("drop table event_unchained")?;
    Ok(())
}

fn take_over(connection: &Connection) -> Result<(), Fault> {
    let mut statement = connection.prepare("select row, wire from event_unchained order by row")?;
    let mut take = connection.prepare(
        "insert into event (row, id, device, seq, wire, chain)
         select row, id, device, seq, wire, ?2 from event_unchained where row = ?1",
    )?;
    let mut rows = statement.query([])?;
    let mut link = None;
    while let Some(row) = rows.next()? {
        // A file that is only just being made has neither events nor an id.
        let before = link.map_or_else(|| first_of(connection), Ok)?;
        let number: i64 = row.get(0)?;
        let this = next(&before, row.get_ref(1)?.as_bytes().unwrap_or_default());
        take.execute(params![number, this.0])?;
        link = Some(this);
    }
    Ok(())
}
