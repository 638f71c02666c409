//! What can go wrong with a job file.

use std::io;
use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;
use tally::{Digest, EventId, MAX_SEQ, Refusal};

use crate::derived::MAX_THUMBNAIL;
use crate::document::MAX_DOCUMENT;
use crate::job::JobId;

/// A fault, with the job file that it befell.
#[derive(Debug, thiserror::Error)]
#[error("{}: {fault}", path.display())]
pub struct StoreError {
    /// The job file.
    pub path: PathBuf,
    /// What went wrong.
    pub fault: Fault,
}

/// What went wrong.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// There is no such file.
    #[error("there is no such file")]
    Missing,
    /// A new job must not take the place of a file.
    #[error("there is a file of this name already")]
    Exists,
    /// The file is something else.
    #[error("this is not a job file: {0}")]
    NotAJob(String),
    /// A newer build wrote it.
    #[error(
        "a newer version of this program wrote the job (its form is {found}, this one reads up to {known}); the file is left as it is"
    )]
    Newer {
        /// The form found.
        found: i64,
        /// The newest form known here.
        known: i64,
    },
    /// The file or its folder cannot be written.
    #[error("the file and its folder must be writable ({0}); copy the job to a folder of your own")]
    NotWritable(String),
    /// Another process held the file for too long.
    #[error("another program is writing to the job and does not let go")]
    Busy,
    /// The disk is full.
    #[error("the disk is full; nothing was written")]
    DiskFull,
    /// The file is damaged.
    #[error("the file is damaged ({0})")]
    Damaged(String),
    /// The operating system refused.
    #[error(transparent)]
    Io(#[from] io::Error),
    /// An event that cannot stand in the log.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// An event that is in the log already says something else.
    #[error("event {0} is in the log already and says something else")]
    IdTaken(EventId),
    /// The log has no number left.
    #[error("the log is full: it has reached number {MAX_SEQ}")]
    LogFull,
    /// Two jobs are not copies of one another.
    #[error("job {there} is another job than {here}; only copies of one job can be merged")]
    AnotherJob {
        /// This job.
        here: JobId,
        /// The other.
        there: JobId,
    },
    /// A merge met a fault in the copy that it read from.
    #[error("in the other copy: {0}")]
    InOther(Box<Fault>),
    /// A document that is too big.
    #[error("the document takes {0} bytes; at most {MAX_DOCUMENT} fit")]
    DocumentTooBig(u64),
    /// A thumbnail that is too big.
    #[error("the thumbnail takes {0} bytes; at most {MAX_THUMBNAIL} fit")]
    ThumbnailTooBig(usize),
    /// There is no such document.
    #[error("the job has no document {0}")]
    NoDocument(Digest),
    /// A stored document no longer is what it was.
    #[error("document {0} was changed in the file; its bytes no longer match its digest")]
    DocumentChanged(Digest),
    /// The job was opened for reading.
    #[error("this is a copy for reading; what is new goes into the job itself")]
    ForReading,
    /// A job that only a build that may write to it can bring up to today's form.
    #[error(
        "an earlier version of this program wrote the job; open it once where it can be written"
    )]
    Earlier,
    /// The file is neither a bundle nor anything that holds a job.
    #[error("this is not a bundle of a job: {0}")]
    NotABundle(String),
    /// A bundle that would be, or is, too big.
    #[error("the bundle is too big: {0}")]
    BundleTooBig(String),
    /// A device name or join code that cannot be kept.
    #[error("{0}")]
    Setting(String),
    /// Anything else that SQLite says.
    #[error("SQLite: {0}")]
    Sqlite(rusqlite::Error),
}

impl Fault {
    pub(crate) fn at(self, path: &Path) -> StoreError {
        StoreError {
            path: path.to_owned(),
            fault: self,
        }
    }
}

impl From<rusqlite::Error> for Fault {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::NotADatabase) => {
                Self::NotAJob("it has another form altogether".to_owned())
            }
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            Some(ErrorCode::DiskFull) => Self::DiskFull,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::TooBig) => {
                Self::Damaged(error.to_string())
            }
            Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                Self::NotWritable(error.to_string())
            }
            _ => Self::Sqlite(error),
        }
    }
}
