//! `tallyard verify`: whether a job file still holds what was put into it.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use serde::Serialize;
use store::{Job, Noted, Report};
use tally::Digest;

use crate::failure::Failure;
use crate::json;

/// Look over a whole job file: was anything in it changed since it was put there?
#[derive(Args)]
#[command(
    after_help = "What this proves, and what it cannot: docs/verify.md\n\nExample:\n  tallyard verify garden.tallyard"
)]
pub struct Verify {
    /// The job file
    job: PathBuf,
    /// A head of the log noted earlier (64 hexadecimal digits); says whether the log goes on from it
    #[arg(long, value_name = "HEX", value_parser = noted)]
    head: Option<Digest>,
    /// Print JSON (docs/schema/verify.json)
    #[arg(long)]
    json: bool,
}

/// Reads a head as it stands on a paper: gaps and capitals do not matter.
fn noted(text: &str) -> Result<Digest, String> {
    let digits: String = text.split_whitespace().collect();
    let read = digits.to_ascii_lowercase().parse();
    read.map_err(|_| "a head is 64 hexadecimal digits; gaps between them do not matter".into())
}

#[derive(Serialize)]
struct Verified {
    well: bool,
    events: u64,
    documents: u64,
    bytes: u64,
    head: String,
    noted: Option<NotedHead>,
    absent: Vec<String>,
    faults: usize,
    wrong: Vec<String>,
}

#[derive(Serialize)]
struct NotedHead {
    head: String,
    held: bool,
    events: Option<u64>,
    since: Option<u64>,
}

impl Verify {
    pub fn run(&self) -> Result<(), Failure> {
        let report = Job::open(&self.job)?.verify(self.head.as_ref())?;
        match self.json {
            true => json::print(&self.verified(&report))?,
            false => self.say(&report)?,
        }
        match report.is_well() {
            true => Ok(()),
            false => Err(Failure::refused(&self.job, "not all is well with this job")),
        }
    }

    fn say(&self, report: &Report) -> Result<(), Failure> {
        let mut out = stdout().lock();
        let photos = match report.documents {
            0 => "no documents".to_owned(),
            n => format!("{} of {} bytes", count(n, "document"), report.bytes),
        };
        writeln!(out, "{} and {photos} read.", count(report.events, "event"))?;
        match report.faults {
            0 => writeln!(
                out,
                "The chain of events fits, and each document its digest."
            )?,
            n => writeln!(out, "WRONG, {}:", count(n as u64, "fault"))?,
        }
        for fault in &report.wrong {
            writeln!(out, "  {fault}")?;
        }
        if report.wrong.len() < report.faults {
            writeln!(out, "  and {} more", report.faults - report.wrong.len())?;
        }
        for digest in &report.absent {
            writeln!(
                out,
                "Not in this copy, though an event names it: document {digest}"
            )?;
        }
        match report.noted {
            None => {}
            Some(Noted::Held { events, since }) => writeln!(
                out,
                "The noted head is in this log: the {} it was noted for are unchanged, and {} came after.",
                count(events, "event"),
                match since {
                    0 => "none".to_owned(),
                    n => n.to_string(),
                }
            )?,
            Some(Noted::Missing) => writeln!(
                out,
                "WRONG: the noted head is not in this log: events were changed or taken out since, or it was noted from another copy."
            )?,
        }
        writeln!(out, "Head of the log: {}", report.head)?;
        Ok(())
    }

    fn verified(&self, report: &Report) -> Verified {
        let place = |noted| match noted {
            Noted::Held { events, since } => Some((events, since)),
            Noted::Missing => None,
        };
        let noted = self.head.zip(report.noted).map(|(head, noted)| NotedHead {
            head: head.to_string(),
            held: place(noted).is_some(),
            events: place(noted).map(|(events, _)| events),
            since: place(noted).map(|(_, since)| since),
        });
        Verified {
            well: report.is_well(),
            events: report.events,
            documents: report.documents,
            bytes: report.bytes,
            head: report.head.to_string(),
            noted,
            absent: report.absent.iter().map(Digest::to_string).collect(),
            faults: report.faults,
            wrong: report.wrong.clone(),
        }
    }
}

fn count(n: u64, what: &str) -> String {
    match n {
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    }
}
