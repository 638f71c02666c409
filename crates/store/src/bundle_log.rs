//! The log of a bundle: text that any program can read line by line, and hold against the chain.
//!
//! The first line names the form and the job. Each event is one line: its link in the chain, the length of its wire text
//! in bytes, and the text itself, to the byte.

use std::io::{self, BufWriter, Write};

use rusqlite::Connection;
use sha2::{Digest as _, Sha256};
use tally::Digest;

use crate::error::Fault;
use crate::job::Job;

/// Writes the log of a job.
pub(crate) fn write(job: &Job, to: &mut impl Write) -> Result<(), Fault> {
    let mut to = BufWriter::new(to);
    writeln!(to, "tallyard log 1, job {}", job.id())?;
    let write = |view: &Connection| lines(view, &mut to);
    job.read(write).map_err(|error| error.fault)?;
    Ok(to.flush()?)
}

fn lines(view: &Connection, to: &mut impl Write) -> Result<(), Fault> {
    let mut statement = view.prepare("select chain, wire from event order by row")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let link = Digest(row.get(0)?);
        let wire = row.get_ref(1)?.as_bytes().unwrap_or_default();
        write!(to, "{link} {} ", wire.len())?;
        to.write_all(wire)?;
        to.write_all(b"\n")?;
    }
    Ok(())
}

/// Returns the digest of the log of a job.
pub(crate) fn digest(job: &Job) -> Result<Digest, Fault> {
    let mut hash = Hash(Sha256::new());
    write(job, &mut hash)?;
    Ok(Digest(hash.0.finalize().into()))
}

struct Hash(Sha256);

impl Write for Hash {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
