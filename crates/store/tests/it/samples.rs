//! Invented jobs for the tests.

use std::path::{Path, PathBuf};

use rusqlite::Connection;
use store::Job;
use tally::{Digest, Draft, EventId, What};
use tempfile::TempDir;
use uuid::Uuid;

/// A folder that goes when the test ends.
pub struct Folder(TempDir);

impl Folder {
    pub fn new() -> Self {
        Self(tempfile::tempdir().expect("a place for temporary files"))
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn create(&self, name: &str) -> Job {
        Job::create(&self.path(name)).expect("a new job")
    }

    /// Copies a job and opens the copy.
    pub fn copy(&self, job: &Job, name: &str) -> Job {
        job.copy_to(&self.path(name)).expect("a copy");
        Job::open(&self.path(name)).expect("the copy is a job")
    }
}

pub fn id(number: u128) -> EventId {
    EventId(Uuid::from_u128(number))
}

pub fn counted(quantity: i64) -> What {
    What::Counted {
        mark: "B1".into(),
        pile: None,
        quantity,
        replaces: vec![],
        how: tally::How::Piece,
    }
}

pub fn draft(number: u128, device: &str, what: What) -> Draft {
    Draft {
        id: id(number),
        device: device.into(),
        at: 1_000,
        who: "Ines".into(),
        what,
    }
}

/// Appends a count of one.
pub fn count(job: &mut Job, number: u128, device: &str) {
    job.append(draft(number, device, counted(1)))
        .expect("a good event");
}

/// What of a job is shared: the events to the byte, sorted, and the documents.
pub fn shared(job: &Job) -> (Vec<String>, Vec<(Digest, Vec<u8>)>) {
    let listed = job.documents().expect("the digests");
    let bytes = |digest: &Digest| {
        job.document(digest)
            .expect("it reads")
            .expect("it is there")
    };
    let documents = listed
        .iter()
        .map(|(digest, _)| (*digest, bytes(digest)))
        .collect();
    (wires(job.path()), documents)
}

/// The wire texts in a file, sorted, past our own reading.
pub fn wires(path: &Path) -> Vec<String> {
    let connection = Connection::open(path).expect("the file opens");
    let mut statement = connection
        .prepare("select wire from event order by wire")
        .expect("the table of events");
    let rows = statement.query_map([], |row| row.get(0)).expect("the rows");
    rows.collect::<Result<_, _>>().expect("texts")
}

/// What is wrong with a job, in words.
pub fn wrong(job: &Job) -> Vec<String> {
    let report = job.verify(None).expect("it is looked over");
    assert_eq!(report.is_well(), report.wrong.is_empty());
    report.wrong
}

/// Puts a text into the log past our own checks, and out of the chain.
pub fn forge(job: &Job, number: u128, device: &str, seq: i64, wire: &str) {
    let connection = Connection::open(job.path()).expect("the file opens");
    let id = id(number);
    let forged = rusqlite::params![id.0.as_bytes(), device, seq, wire];
    connection
        .execute(
            "insert into event (id, device, seq, wire, chain)
             values (?1, ?2, ?3, ?4, zeroblob(32))",
            forged,
        )
        .expect("a forged row");
}

/// Runs SQL on the file as somebody would who takes the triggers off first and puts them back.
pub fn tamper(path: &Path, sql: &str) {
    let connection = Connection::open(path).expect("the file opens");
    let mut statement = connection
        .prepare("select name, sql from sqlite_schema where type = 'trigger'")
        .expect("the schema");
    let triggers: Vec<(String, String)> = statement
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .expect("the triggers")
        .collect::<Result<_, _>>()
        .expect("texts");
    for (name, _) in &triggers {
        connection
            .execute_batch(&format!("drop trigger {name}"))
            .expect("dropped");
    }
    connection.execute_batch(sql).expect("the SQL runs");
    for (_, trigger) in &triggers {
        connection.execute_batch(trigger).expect("put back");
    }
}
