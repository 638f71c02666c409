//! An open job.

use std::fmt;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior};
use tempfile::TempDir;
use uuid::Uuid;

use crate::error::{Fault, StoreError};
use crate::{bundle_read, derived, file, local};

/// Identifies a job: one order on one site. Made with the job and kept through every copy, so
/// that only copies of one job are merged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(pub Uuid);

impl fmt::Display for JobId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// An open job file. Several processes may have the same one open.
#[derive(Debug)]
pub struct Job {
    path: PathBuf,
    id: JobId,
    pub(crate) connection: Connection,
    for_reading: bool,
    /// The copy that is read, which goes when the connection has gone.
    place: Option<TempDir>,
}

impl Job {
    /// Makes a new job at `path`, which must be free, and opens it.
    pub fn create(path: &Path) -> Result<Self, StoreError> {
        Self::create_as(path, JobId(Uuid::now_v7()))
    }

    /// Makes a new job under a given id, and opens it.
    pub fn create_as(path: &Path, id: JobId) -> Result<Self, StoreError> {
        file::create(path, id).map_err(|fault| fault.at(path))?;
        Self::open(path)
    }

    /// Opens a job. Should the file be a copy made by other means than [`Job::copy_to`], the join
    /// code, the phones and the thumbnails of the original are forgotten first: they are not this
    /// copy's, and no device may write under one name in two copies.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Self::opened(path).map_err(|fault| fault.at(path))
    }

    /// Opens a copy of the job as it stands now, in a place that goes with it; the log and the documents in it can only be
    /// read. The job may be a job file, also one that cannot be written, or a bundle.
    pub fn open_to_read(path: &Path) -> Result<Self, StoreError> {
        let open = || {
            let place = file::place()?;
            let copy = place.path().join("job.tallyard");
            if bundle_read::is_one(path) {
                bundle_read::take_job_out(path, &copy)?;
            } else {
                let there = file::open_to_read(path)?;
                file::copy_shared(&there, id_in(&there)?, &copy)?;
            }
            let job = Self::opened(&copy)?;
            Ok(Self {
                path: path.to_owned(),
                for_reading: true,
                place: Some(place),
                ..job
            })
        };
        open().map_err(|fault: Fault| fault.at(path))
    }

    /// Opens a file that nobody else knows of, as it is: nothing at all is written to it. Faults name `path`.
    pub(crate) fn untouched(path: &Path, copy: &Path) -> Result<Self, Fault> {
        Self::read_by(file::open_untouched(copy)?, path)
    }

    /// A job that is read by this connection and never written. Faults name `path`.
    fn read_by(connection: Connection, path: &Path) -> Result<Self, Fault> {
        Ok(Self {
            path: path.to_owned(),
            id: id_in(&connection)?,
            connection,
            for_reading: true,
            place: None,
        })
    }

    /// Opens a job file for reading where it lies, as it is, though nothing can be written there.
    pub fn open_where_it_lies(path: &Path) -> Result<Self, StoreError> {
        let open = || Self::read_by(file::open_to_read(path)?, path);
        open().map_err(|fault: Fault| fault.at(path))
    }

    /// Opens the same file once more, for long work beside the first; a copy for reading stays as long as the first is
    /// open.
    pub fn beside(&self) -> Result<Self, StoreError> {
        let Some(place) = &self.place else {
            return Self::open(&self.path);
        };
        let copy = Self::opened(&place.path().join("job.tallyard"));
        let copy = copy.map_err(|fault| fault.at(&self.path))?;
        Ok(Self {
            path: self.path.clone(),
            for_reading: true,
            ..copy
        })
    }

    /// Whether this is a copy for reading.
    pub fn is_for_reading(&self) -> bool {
        self.for_reading
    }

    /// Writes a copy of the job, as it stands now, to `path`, which must be free. The copy has no
    /// join code and knows no phones.
    pub fn copy_to(&self, path: &Path) -> Result<(), StoreError> {
        file::copy(&self.connection, path).map_err(|fault| fault.at(path))
    }

    /// Returns the job's id.
    pub fn id(&self) -> JobId {
        self.id
    }

    /// Returns where the file lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    pub(crate) fn opened(path: &Path) -> Result<Self, Fault> {
        let mut connection = file::open(path)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let id = id_in(&transaction)?;
        let before = writer(&transaction)?;
        local::settle(&transaction, &file::birth(path)?)?;
        if writer(&transaction)? != before {
            derived::forget(&transaction)?;
        }
        transaction.commit()?;
        Ok(Self {
            path: path.to_owned(),
            id,
            connection,
            for_reading: false,
            place: None,
        })
    }

    /// Runs `work` as [`Job::write`] does, on what copies share: not in a copy for reading.
    pub(crate) fn write_shared<T>(
        &mut self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Fault>,
    ) -> Result<T, StoreError> {
        match self.for_reading {
            true => Err(Fault::ForReading.at(&self.path)),
            false => self.write(work),
        }
    }

    /// Runs `work` in one transaction that is on disk when this returns, or undone. It is
    /// exclusive from its start, so what it reads stays true until it writes.
    pub(crate) fn write<T>(
        &mut self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Fault>,
    ) -> Result<T, StoreError> {
        let Self {
            path, connection, ..
        } = self;
        let run = || {
            let transaction =
                connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let output = work(&transaction)?;
            transaction.commit()?;
            Ok(output)
        };
        run().map_err(|fault: Fault| fault.at(path))
    }

    /// Runs `work` on one unchanging view of the job.
    pub(crate) fn read<T>(
        &self,
        work: impl FnOnce(&Connection) -> Result<T, Fault>,
    ) -> Result<T, StoreError> {
        let run = || {
            let view = self.connection.unchecked_transaction()?;
            work(&view)
        };
        run().map_err(|fault: Fault| fault.at(&self.path))
    }
}

/// Returns the id of the job in a file.
fn id_in(connection: &Connection) -> Result<JobId, Fault> {
    let id: [u8; 16] = connection.query_one("select id from job", [], |row| row.get(0))?;
    Ok(JobId(Uuid::from_bytes(id)))
}

/// Returns the name that this copy writes under: another copy's is another.
fn writer(connection: &Connection) -> Result<Option<String>, Fault> {
    let mut statement = connection.prepare("select value from local where key = 'writer'")?;
    Ok(statement.query_one([], |row| row.get(0)).optional()?)
}
