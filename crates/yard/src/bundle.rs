//! The bundle of a job with all its papers, of one moment.

use std::io::Write;
use std::path::Path;

use paper::{PaperError, Sheet};
use store::{Bundled, BundledPaper, Job, StoreError};
use tally::{Digest, Known, Standing};

use crate::desk::document;
use crate::papers::{PAPER_KINDS, PaperOf};

/// Why there is no bundle.
#[derive(Debug, thiserror::Error)]
pub enum BundleError {
    /// The job file, or where the bundle goes.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A paper cannot be set.
    #[error("the paper {0}: {1}")]
    Paper(&'static str, Box<PaperError>),
}

/// Writes the bundle of a job as it stands now. What it needs on the way lies in `folder` for that long; `said` is told
/// in words what is being done.
pub fn bundle(
    job: &Job,
    sheet: Sheet,
    folder: &Path,
    to: impl Write,
    said: &mut dyn FnMut(&str),
) -> Result<Bundled, BundleError> {
    said("the job is copied as it stands");
    let snapshot = job.snapshot(folder)?;
    let job = snapshot.job();
    let log = job.events()?;
    let standing = Standing::of(&log.events, |it| document(job, it), &mut Known::default());
    let of = PaperOf {
        standing: &standing,
        job: Some(job),
        log_head: job.head()?,
        sheet,
        told: false,
        made: store::now(),
    };
    let mut papers = Vec::new();
    for (n, kind) in PAPER_KINDS.iter().enumerate() {
        said(&format!("paper {} of {}", n + 1, PAPER_KINDS.len()));
        for (name, pdf) in kind.make(&of) {
            let pdf = pdf.map_err(|why| BundleError::Paper(kind.name, Box::new(why)))?;
            papers.push(BundledPaper { name, pdf });
        }
    }
    Ok(store::write_bundle(&snapshot, &papers, ending, to, said)?)
}

/// The end of a picture's name, by its bytes.
fn ending(bytes: &[u8]) -> &'static str {
    photo::look(bytes).map_or("bin", |picture| picture.kind.extension())
}

/// About how many bytes the bundle of these documents takes: they are in it as files and in the job file.
pub(crate) fn about(documents: &[(Digest, u64)]) -> u64 {
    /// Papers, log, and the tables of the job file.
    const REST: u64 = 1_000_000;
    let bytes: u64 = documents.iter().map(|(_, bytes)| bytes).sum();
    bytes.saturating_mul(2).saturating_add(REST)
}
