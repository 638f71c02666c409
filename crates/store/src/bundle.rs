//! The bundle: one zip with all that a job has to show, for whoever it is handed to.
//!
//! It is made of a [`Snapshot`], so that papers, photos, log and job file tell of the same moment, though phones go on
//! counting. The same log and documents make the same bytes, but for what the papers say of when they were made.

use std::fs::File;
use std::io::{Seek, Write};
use std::path::{Path, PathBuf};

use tally::Digest;
use tempfile::TempDir;

use crate::bundle_form::Zip;
use crate::bundle_log;
use crate::bundle_names::{self as names, JOB, LOG, PAPERS, README};
use crate::error::{Fault, StoreError};
use crate::file;
use crate::job::Job;

/// A copy of a job as it stood at one moment, in a place that goes with it. Nothing can be written to it, and what
/// belongs to one copy alone (join code, phones, thumbnails) is not in it.
#[derive(Debug)]
pub struct Snapshot {
    job: Job,
    file: PathBuf,
    place: TempDir,
}

impl Job {
    /// Copies the job as it stands now to a place within `folder`. The same log and documents make the same file.
    pub fn snapshot(&self, folder: &Path) -> Result<Snapshot, StoreError> {
        let copy = || {
            let place = file::place_in(folder)?;
            let file = place.path().join(JOB);
            file::copy_shared(&self.connection, self.id(), &file)?;
            let job = Job::untouched(self.path(), &file)?;
            Ok(Snapshot { job, file, place })
        };
        copy().map_err(|fault: Fault| fault.at(self.path()))
    }
}

impl Snapshot {
    /// The job as it stood.
    pub fn job(&self) -> &Job {
        &self.job
    }
}

/// A paper that goes into a bundle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BundledPaper {
    /// Its name without an ending: small letters, figures and hyphens.
    pub name: String,
    /// The PDF.
    pub pdf: Vec<u8>,
}

/// A bundle that was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bundled {
    /// The SHA-256 of the whole bundle.
    pub digest: Digest,
    /// Its size in bytes.
    pub bytes: u64,
    /// The head of the log in it.
    pub head: Digest,
    /// Documents in it: photos, lists, others.
    pub documents: usize,
}

/// Writes the bundle of a job. `ending` is the end of a photo's name by its bytes; `said` is told in words what is being
/// done. A document whose bytes are not those of its digest stops it: [`Job::verify`] says more.
pub fn write_bundle(
    snapshot: &Snapshot,
    papers: &[BundledPaper],
    ending: impl Fn(&[u8]) -> &'static str,
    to: impl Write,
    said: &mut dyn FnMut(&str),
) -> Result<Bundled, StoreError> {
    let job = &snapshot.job;
    let placed = names::placed(job)?;
    let head = job.head()?;
    let events = job.events()?.events.len();
    let write = || {
        let mut zip = Zip::new(to);
        let about = readme(job, &head, events, placed.len(), papers.len());
        zip.put(README, about.as_bytes())?;
        for paper in papers {
            if !names::is_word(&paper.name) {
                let name = &paper.name;
                return Err(Fault::Setting(format!(
                    "the paper's name `{name}` must be of small letters, figures and hyphens"
                )));
            }
            zip.put(&format!("{PAPERS}/{}.pdf", paper.name), &paper.pdf)?;
        }
        for (n, document) in placed.iter().enumerate() {
            said(&format!("document {} of {}", n + 1, placed.len()));
            let digest = &document.digest;
            let bytes = job.document(digest).map_err(|error| error.fault)?;
            let bytes = bytes.ok_or(Fault::NoDocument(*digest))?;
            let ending = document.ending.unwrap_or_else(|| ending(&bytes));
            // It was held against its digest when it was read.
            zip.put_known(&document.name(ending), &bytes, digest)?;
        }
        said("the log and the job file");
        let mut log = tempfile::tempfile_in(snapshot.place.path())?;
        bundle_log::write(job, &mut log)?;
        log.rewind()?;
        zip.put_file(LOG, &mut log)?;
        zip.put_file(JOB, &mut File::open(&snapshot.file)?)?;
        zip.finish()
    };
    let (digest, bytes) = write().map_err(|fault| fault.at(job.path()))?;
    Ok(Bundled {
        digest,
        bytes,
        head,
        documents: placed.len(),
    })
}

/// What the bundle is, for whoever unpacks it.
fn readme(job: &Job, head: &Digest, events: usize, documents: usize, papers: usize) -> String {
    let id = job.id();
    let counts = format!("events {events}, documents {documents}, papers {papers}");
    format!(
        include_str!("bundle_readme.txt"),
        id = id,
        counts = counts,
        head = head
    )
}
