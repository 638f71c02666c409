//! Looking over a whole job file: its pages, each event and its link in the chain, each document.

use std::collections::BTreeSet;

use rusqlite::{Connection, Row};
use tally::{Digest, Event};

use crate::error::{Fault, StoreError};
use crate::job::Job;
use crate::{chain, document};

/// The most faults that a report puts into words; the others are only counted.
const MAX_WORDS: usize = 1_000;

/// What looking over a whole job found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// Events in the log.
    pub events: u64,
    /// Documents.
    pub documents: u64,
    /// The bytes of all documents together.
    pub bytes: u64,
    /// The head that the events make, as they stand: see [`Job::head`].
    pub head: Digest,
    /// Where the head that was noted earlier stands, when one was given.
    pub noted: Option<Noted>,
    /// Documents that events name and this copy lacks. No fault of the log: a merge with the copy
    /// that has them brings them.
    pub absent: Vec<Digest>,
    /// How many faults there are.
    pub faults: usize,
    /// The faults in words, the first thousand of them.
    pub wrong: Vec<String>,
}

/// Where a head that was noted earlier stands in the chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Noted {
    /// In it: the log still begins with the events that it was noted for.
    Held {
        /// How many those are.
        events: u64,
        /// How many came after them.
        since: u64,
    },
    /// Not in it: events that it was noted for are gone or changed, or it belongs to another copy.
    Missing,
}

/// Faults in words as they are found.
#[derive(Debug, Default)]
pub(crate) struct Wrong {
    /// How many there are.
    pub faults: usize,
    /// The first of them.
    pub words: Vec<String>,
}

impl Wrong {
    pub fn add(&mut self, words: String) {
        self.faults += 1;
        if self.words.len() < MAX_WORDS {
            self.words.push(words);
        }
    }
}

impl Report {
    /// Whether nothing is wrong: no fault, and the noted head, if one was given, is in the chain.
    pub fn is_well(&self) -> bool {
        self.faults == 0 && self.noted != Some(Noted::Missing)
    }

    fn fault(&mut self, words: String) {
        self.faults += 1;
        if self.wrong.len() < MAX_WORDS {
            self.wrong.push(words);
        }
    }

    /// Puts into words what stopped the reading of a part of the file; what comes after is still
    /// looked at. What is no fault of the file (it is busy, say) stops everything.
    fn stopped(&mut self, what: &str, result: Result<(), Fault>) -> Result<(), Fault> {
        match result {
            Err(why @ (Fault::Damaged(_) | Fault::Sqlite(_))) => {
                self.fault(format!("the {what} cannot be read to their end: {why}"));
                Ok(())
            }
            result => result,
        }
    }
}

impl Job {
    /// Looks over the whole file, and for a head of its log that was noted earlier. Reads
    /// everything, so it takes its time with many photos; one at a time is in memory, in pieces.
    pub fn verify(&self, noted: Option<&Digest>) -> Result<Report, StoreError> {
        self.read(|view| {
            let mut report = Report {
                events: 0,
                documents: 0,
                bytes: 0,
                head: chain::first(self.id()),
                noted: noted.map(|_| Noted::Missing),
                absent: Vec::new(),
                faults: 0,
                wrong: Vec::new(),
            };
            let mut named = BTreeSet::new();
            let looked = pages(view, &mut report);
            report.stopped("pages", looked)?;
            let looked = events(view, noted, &mut named, &mut report);
            report.stopped("events", looked)?;
            let looked = documents(view, &mut named, &mut report);
            report.stopped("documents", looked)?;
            report.absent = named.into_iter().collect();
            Ok(report)
        })
    }
}

fn pages(view: &Connection, report: &mut Report) -> Result<(), Fault> {
    let mut statement = view.prepare("pragma integrity_check")?;
    let lines = statement.query_map([], |row| row.get::<_, String>(0))?;
    for line in lines {
        let line = line?;
        if line != "ok" {
            report.fault(line);
        }
    }
    Ok(())
}

fn events(
    view: &Connection,
    noted: Option<&Digest>,
    named: &mut BTreeSet<Digest>,
    report: &mut Report,
) -> Result<(), Fault> {
    let mut statement =
        view.prepare("select row, wire, chain, id, device, seq from event order by row")?;
    let mut rows = statement.query([])?;
    let mut fits = true;
    loop {
        // While it fits, the worked out link stands for all events up to here.
        if fits && noted == Some(&report.head) {
            let (events, since) = (report.events, 0);
            report.noted = Some(Noted::Held { events, since });
        }
        let Some(row) = rows.next()? else {
            return Ok(());
        };
        report.events += 1;
        if let Some(Noted::Held { since, .. }) = &mut report.noted {
            *since += 1;
        }
        let number: i64 = row.get(0)?;
        let wire = row.get_ref(1)?.as_bytes().unwrap_or_default();
        report.head = chain::next(&report.head, wire);
        if fits && report.head.0 != row.get::<_, [u8; 32]>(2)? {
            fits = false;
            report.fault(format!(
                "event row {number}: from here on the chain no longer fits; this event was \
                 changed, or one was changed, taken out or put in just before it"
            ));
        }
        match event(row, wire, named) {
            Ok(true) => {}
            Ok(false) => report.fault(format!(
                "event row {number}: its id, device or number was changed"
            )),
            Err(why) => report.fault(format!("event row {number}: {why}")),
        }
    }
}

/// Reads a row's event, notes which documents it names, and returns whether the row's columns say
/// the same as it does; or why it is no event.
fn event(row: &Row<'_>, wire: &[u8], named: &mut BTreeSet<Digest>) -> Result<bool, String> {
    let text = str::from_utf8(wire).map_err(|_| "it is not text (UTF-8)".to_owned())?;
    let event = Event::read(text).map_err(|why| why.to_string())?;
    // By their looks, so that kinds which this build does not know are seen through too.
    named.extend(
        text.split('"')
            .filter_map(|part| part.parse::<Digest>().ok()),
    );
    let columns = || Ok((row.get(3)?, row.get(4)?, row.get(5)?));
    let found: Result<([u8; 16], String, i64), rusqlite::Error> = columns();
    let (id, device, seq) = found.map_err(|why| why.to_string())?;
    Ok(id == event.id.0.into_bytes()
        && device == event.device
        && u64::try_from(seq) == Ok(event.seq))
}

/// Looks over the documents, and strikes off those named that are there.
fn documents(
    view: &Connection,
    named: &mut BTreeSet<Digest>,
    report: &mut Report,
) -> Result<(), Fault> {
    let mut statement =
        view.prepare("select rowid, digest, octet_length(bytes) from document order by digest")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (rowid, digest) = (row.get(0)?, Digest(row.get(1)?));
        let size = row.get::<_, i64>(2)?.cast_unsigned();
        report.documents += 1;
        report.bytes += size;
        named.remove(&digest);
        match document::digest_in(view, rowid, size) {
            Ok(found) if found == digest => {}
            Ok(_) => report.fault(format!(
                "document {digest}: its bytes do not match its digest"
            )),
            Err(why) => report.fault(format!("document {digest}: {why}")),
        }
    }
    Ok(())
}
