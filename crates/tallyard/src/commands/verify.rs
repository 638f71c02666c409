//! `tallyard verify`: whether a job file, or a bundle, still holds what was put into it.

use std::io::{Write, stdout};
use std::path::PathBuf;

use clap::Args;
use serde::Serialize;
use store::{BundleReport, Fault, Job, Noted, Report};
use tally::Digest;

use crate::failure::Failure;
use crate::json;

/// Look over a whole job file or bundle: was anything in it changed since it was put there?
#[derive(Args)]
#[command(
    after_help = "What this proves, and what it cannot: docs/verify.md\n\nExamples:\n  tallyard verify garden.tallyard\n  tallyard verify garden.zip"
)]
pub struct Verify {
    /// The job file, or a bundle of it
    job: PathBuf,
    /// A head of the log noted earlier (64 hexadecimal digits); says whether the log goes on from it
    #[arg(long, value_name = "HEX", value_parser = noted)]
    head: Option<Digest>,
    /// The SHA-256 of a whole bundle noted earlier; says whether this is that very file
    #[arg(long, value_name = "HEX", value_parser = noted)]
    digest: Option<Digest>,
    /// Print JSON (docs/schema/verify.json)
    #[arg(long)]
    json: bool,
}

/// Reads a head as it stands on a paper: gaps and capitals do not matter.
fn noted(text: &str) -> Result<Digest, String> {
    let digits: String = text.split_whitespace().collect();
    let read = digits.to_ascii_lowercase().parse();
    read.map_err(|_| {
        "a head is 64 hexadecimal digits, as is a SHA-256; gaps between them do not matter".into()
    })
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
    #[serde(skip_serializing_if = "Option::is_none")]
    bundle: Option<VerifiedBundle>,
}

#[derive(Serialize)]
struct VerifiedBundle {
    digest: String,
    same: Option<bool>,
    bytes: u64,
    files: u64,
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
        match store::is_bundle(&self.job) {
            true => self.run_on_bundle(),
            false => self.run_on_job(),
        }
    }

    fn run_on_job(&self) -> Result<(), Failure> {
        if self.digest.is_some() {
            let says = "a digest is noted of a bundle, and this is none; a job file goes on, and has --head";
            return Err(Failure::refused(&self.job, says));
        }
        let report = self.open()?.verify(self.head.as_ref())?;
        match self.json {
            true => json::print(&self.verified(&report))?,
            false => self.say(&report)?,
        }
        match report.is_well() {
            true => Ok(()),
            false => Err(Failure::refused(&self.job, "not all is well with this job")),
        }
    }

    /// What is evidence may lie where nothing can be written.
    fn open(&self) -> Result<Job, Failure> {
        Job::open(&self.job).or_else(|error| match error.fault {
            Fault::NotWritable(_) => Job::open_where_it_lies(&self.job).map_err(|_| error.into()),
            _ => Err(error.into()),
        })
    }

    fn run_on_bundle(&self) -> Result<(), Failure> {
        let report = store::verify_bundle(&self.job, self.head.as_ref())?;
        let same = self.digest.map(|noted| noted == report.digest);
        match (self.json, &report.job) {
            (false, _) => self.say_bundle(&report, same)?,
            (true, Some(inside)) => {
                let mut verified = self.verified(inside);
                verified.well = report.is_well() && same != Some(false);
                verified.bundle = Some(VerifiedBundle::of(&report, same));
                json::print(&verified)?;
            }
            (true, None) => return Err(Failure::refused(&self.job, report.wrong.join("; "))),
        }
        match report.is_well() && same != Some(false) {
            true => Ok(()),
            false => Err(Failure::refused(
                &self.job,
                "not all is well with this bundle",
            )),
        }
    }

    fn say_bundle(&self, report: &BundleReport, same: Option<bool>) -> Result<(), Failure> {
        let mut out = stdout().lock();
        let files = count(report.files, "file");
        writeln!(out, "A bundle of {files} and {} bytes read.", report.bytes)?;
        match report.faults {
            0 => writeln!(
                out,
                "Every byte is as it was packed: the files fit their sums, the log and the photos the job inside."
            )?,
            n => writeln!(out, "WRONG with the bundle, {}:", count(n as u64, "fault"))?,
        }
        for fault in &report.wrong {
            writeln!(out, "  {fault}")?;
        }
        writeln!(out, "SHA-256 of the bundle: {}", report.digest)?;
        match same {
            None => {}
            Some(true) => writeln!(out, "It is the very file of which that SHA-256 was noted.")?,
            Some(false) => writeln!(
                out,
                "WRONG: it is not the file of which that SHA-256 was noted."
            )?,
        }
        drop(out);
        match &report.job {
            Some(inside) => self.say(inside),
            None => Ok(()),
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
            bundle: None,
        }
    }
}

impl VerifiedBundle {
    fn of(report: &BundleReport, same: Option<bool>) -> Self {
        Self {
            digest: report.digest.to_string(),
            same,
            bytes: report.bytes,
            files: report.files,
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
