//! Looking over a whole job file.

use rusqlite::{Connection, params};
use tally::{Digest, Event, MAX_WIRE};

use crate::error::{Fault, StoreError};
use crate::job::Job;
use crate::log;

impl Job {
    /// Looks over the whole file: its pages, each event, each document. Returns what is wrong in
    /// words, nothing when all is well. Reads everything, so it takes its time with many photos.
    pub fn check(&self) -> Result<Vec<String>, StoreError> {
        self.read(|view| {
            let mut wrong = pages(view)?;
            events(view, &mut wrong)?;
            documents(view, &mut wrong)?;
            Ok(wrong)
        })
    }
}

fn pages(view: &Connection) -> Result<Vec<String>, Fault> {
    let mut statement = view.prepare("pragma integrity_check")?;
    let lines = statement.query_map([], |row| row.get::<_, String>(0))?;
    let lines: Vec<String> = lines.collect::<Result<_, _>>()?;
    Ok(lines.into_iter().filter(|line| line != "ok").collect())
}

fn events(view: &Connection, wrong: &mut Vec<String>) -> Result<(), Fault> {
    let mut columns = view.prepare("select id, device, seq from event where row = ?1")?;
    let mut statement = view.prepare(log::WIRES_SINCE)?;
    let mut rows = statement.query(params![0, MAX_WIRE as i64])?;
    while let Some(row) = rows.next()? {
        let number: i64 = row.get(0)?;
        let read = log::wire(row)?.and_then(|text| Event::read(text).map_err(|e| e.to_string()));
        let event = match read {
            Ok(event) => event,
            Err(why) => {
                wrong.push(format!("event row {number}: {why}"));
                continue;
            }
        };
        let found: ([u8; 16], String, i64) =
            columns.query_one([number], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
        let told = (
            event.id.0.into_bytes(),
            event.device,
            i64::try_from(event.seq),
        );
        if (found.0, found.1, Ok(found.2)) != told {
            wrong.push(format!(
                "event row {number}: its id, device or number was changed"
            ));
        }
    }
    Ok(())
}

fn documents(view: &Connection, wrong: &mut Vec<String>) -> Result<(), Fault> {
    let mut statement = view.prepare("select digest, bytes from document order by digest")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let digest = Digest(row.get(0)?);
        if Digest::of(row.get_ref(1)?.as_bytes().unwrap_or_default()) != digest {
            wrong.push(format!(
                "document {digest}: its bytes do not match its digest"
            ));
        }
    }
    Ok(())
}
