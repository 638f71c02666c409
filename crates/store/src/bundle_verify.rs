//! Looking over a whole bundle: the zip to the byte, every file against the manifest, log and documents against the job
//! file inside, and that job file itself.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::Write;
use std::path::Path;

use sha2::{Digest as _, Sha256};
use tally::Digest;
use tempfile::TempDir;

use crate::bundle_form::{self, line, misfit, shown};
use crate::bundle_names::{self as names, JOB, LOG, MANIFEST, README};
use crate::bundle_read::{self, Opened};
use crate::error::{Fault, StoreError};
use crate::job::Job;
use crate::verify::{Report, Wrong};
use crate::{bundle_log, file};

/// The biggest manifest that is read, in bytes.
const MAX_MANIFEST: usize = 4 * 1024 * 1024;

/// What looking over a whole bundle found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BundleReport {
    /// The SHA-256 of the whole file.
    pub digest: Digest,
    /// Its size in bytes.
    pub bytes: u64,
    /// Files in it.
    pub files: u64,
    /// How many faults the bundle itself has; those of the job inside are in its own report.
    pub faults: usize,
    /// The faults in words, the first thousand of them.
    pub wrong: Vec<String>,
    /// What looking over the job file inside found; `None` where there is none that can be read.
    pub job: Option<Report>,
}

impl BundleReport {
    /// Whether nothing is wrong, with the bundle or with the job inside.
    pub fn is_well(&self) -> bool {
        self.faults == 0 && self.job.as_ref().is_some_and(Report::is_well)
    }
}

/// A file of the bundle as it was read.
struct Found {
    name: String,
    digest: Digest,
}

/// Looks over a whole bundle, and for a head of its log that was noted earlier. Writes nothing; the job file inside is
/// taken out to a place that goes again.
pub fn verify_bundle(path: &Path, noted: Option<&Digest>) -> Result<BundleReport, StoreError> {
    look_over(path, noted).map_err(|fault| fault.at(path))
}

fn look_over(path: &Path, noted: Option<&Digest>) -> Result<BundleReport, Fault> {
    let (digest, bytes) = whole(path)?;
    let mut wrong = Wrong::default();
    let mut files = 0;
    let mut report = None;
    match bundle_read::open(path) {
        Err(why) => wrong.add(why.to_string()),
        Ok(mut opened) => {
            files = opened.archive.len() as u64;
            form(path, &mut opened, &mut wrong)?;
            let place = file::place()?;
            let found = content(&mut opened, &place, &mut wrong)?;
            let job = job_inside(&place, &found, &mut wrong);
            if let Some(job) = &job {
                report = inside(job, noted, &found, &mut wrong)?;
            }
        }
    }
    Ok(BundleReport {
        digest,
        bytes,
        files,
        faults: wrong.faults,
        wrong: wrong.words,
        job: report,
    })
}

/// The digest and the size of the file as it lies there.
fn whole(path: &Path) -> Result<(Digest, u64), Fault> {
    let (mut hash, mut bytes) = (Sha256::new(), 0);
    bundle_form::pieces(&mut File::open(path)?, |piece| {
        hash.update(piece);
        bytes += piece.len() as u64;
        Ok(())
    })?;
    Ok((Digest(hash.finalize().into()), bytes))
}

/// Holds every byte that is no content against what it must be.
fn form(path: &Path, opened: &mut Opened, wrong: &mut Wrong) -> Result<(), Fault> {
    if opened.archive.has_duplicate_names() {
        wrong.add("two files in it have one name".to_owned());
    }
    let told = opened.told()?;
    if let Some(why) = misfit(&mut File::open(path)?, &told)? {
        wrong.add(why);
    }
    Ok(())
}

/// Reads every file, and holds it against the manifest. The job file is taken out on the way.
fn content(opened: &mut Opened, place: &TempDir, wrong: &mut Wrong) -> Result<Vec<Found>, Fault> {
    let (mut found, mut manifest) = (Vec::new(), Vec::new());
    for (index, told) in opened.told()?.into_iter().enumerate() {
        let name = told.name;
        let mut out = match name == JOB {
            true => Some(File::create(place.path().join(JOB))?),
            false => None,
        };
        let mut hash = Sha256::new();
        let read = opened.read(index, |piece| {
            hash.update(piece);
            if name == MANIFEST && manifest.len() < MAX_MANIFEST {
                manifest.extend_from_slice(piece);
            }
            out.as_mut().map_or(Ok(()), |out| out.write_all(piece))?;
            Ok(())
        });
        let digest = Digest(hash.finalize().into());
        match read {
            Ok(()) => found.push(Found { name, digest }),
            Err(why) => wrong.add(format!("{} cannot be read whole: {why}", shown(&name))),
        }
    }
    against_manifest(&found, &String::from_utf8_lossy(&manifest), wrong);
    Ok(found)
}

/// Whether the manifest is, to the byte, the one that these files make.
fn against_manifest(found: &[Found], manifest: &str, wrong: &mut Wrong) {
    let others = || found.iter().filter(|file| file.name != MANIFEST);
    let expected: String = others()
        .map(|file| line(&file.digest, &file.name))
        .collect();
    if expected == manifest {
        return;
    }
    let before = wrong.faults;
    let listed = |text: &str| {
        text.split_once("  ")
            .map(|(a, b)| (b.to_owned(), a.to_owned()))
    };
    let mut listed: BTreeMap<String, String> = manifest.lines().filter_map(listed).collect();
    for file in others() {
        match listed.remove(&file.name) {
            None => wrong.add(format!("{} is not in {MANIFEST}", shown(&file.name))),
            Some(digest) if digest != file.digest.to_string() => {
                wrong.add(format!(
                    "{} is not the file that was packed",
                    shown(&file.name)
                ));
            }
            Some(_) => {}
        }
    }
    for name in listed.keys() {
        wrong.add(format!(
            "{} is in {MANIFEST} and cannot be read in the zip",
            shown(name)
        ));
    }
    if wrong.faults == before {
        wrong.add(format!("{MANIFEST} is not written as it was packed"));
    }
}

/// Opens the job file that was taken out, unless it was not read whole.
fn job_inside(place: &TempDir, found: &[Found], wrong: &mut Wrong) -> Option<Job> {
    if !found.iter().any(|file| file.name == JOB) {
        wrong.add(format!("there is no `{JOB}` in it that can be read"));
        return None;
    }
    let path = place.path().join(JOB);
    let job = match Job::untouched(&path, &path) {
        // The copy is ours, and may be brought up to today's form.
        Err(Fault::Earlier) => Job::opened(&path),
        job => job,
    };
    match job {
        Ok(job) => Some(job),
        Err(why) => {
            wrong.add(format!("`{JOB}`: {why}"));
            None
        }
    }
}

/// Looks over the job inside, and holds the bundle's log and documents against it.
fn inside(
    job: &Job,
    noted: Option<&Digest>,
    found: &[Found],
    wrong: &mut Wrong,
) -> Result<Option<Report>, Fault> {
    let report = job.verify(noted).map_err(|error| error.fault)?;
    if report.faults > 0 {
        // What does not hold by itself is nothing to hold others against.
        return Ok(Some(report));
    }
    let log = found.iter().find(|file| file.name == LOG);
    if log.map(|file| file.digest) != Some(bundle_log::digest(job)?) {
        wrong.add(format!("`{LOG}` is not the log of the job file"));
    }
    let documents = job.documents().map_err(|error| error.fault)?;
    let mut left: BTreeMap<Digest, u64> = documents.into_iter().collect();
    for file in found {
        let name = shown(&file.name);
        let known = [README, LOG, JOB, MANIFEST].contains(&file.name.as_str());
        match names::document_of(&file.name) {
            Some(digest) if digest != file.digest => {
                wrong.add(format!("{name} has the name of another document"));
            }
            Some(digest) if left.remove(&digest).is_none() => {
                wrong.add(format!(
                    "{name} is no document of the job, or stands there twice"
                ));
            }
            None if !known && !names::is_paper(&file.name) => {
                wrong.add(format!("{name} is no file of a bundle"));
            }
            _ => {}
        }
    }
    for digest in left.keys() {
        wrong.add(format!(
            "document {digest} is in the job file and not beside it"
        ));
    }
    Ok(Some(report))
}
