//! An open job.

use std::fmt;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior};
use uuid::Uuid;

use crate::error::{Fault, StoreError};
use crate::{derived, file, local};

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

    fn opened(path: &Path) -> Result<Self, Fault> {
        let mut connection = file::open(path)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let id: [u8; 16] = transaction.query_one("select id from job", [], |row| row.get(0))?;
        let before = writer(&transaction)?;
        local::settle(&transaction, &file::birth(path)?)?;
        if writer(&transaction)? != before {
            derived::forget(&transaction)?;
        }
        transaction.commit()?;
        Ok(Self {
            path: path.to_owned(),
            id: JobId(Uuid::from_bytes(id)),
            connection,
        })
    }

    /// Runs `work` in one transaction that is on disk when this returns, or undone. It is
    /// exclusive from its start, so what it reads stays true until it writes.
    pub(crate) fn write<T>(
        &mut self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Fault>,
    ) -> Result<T, StoreError> {
        let Self {
            path,
            connection,
            id: _,
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

/// Returns the name that this copy writes under: another copy's is another.
fn writer(connection: &Connection) -> Result<Option<String>, Fault> {
    let mut statement = connection.prepare("select value from local where key = 'writer'")?;
    Ok(statement.query_one([], |row| row.get(0)).optional()?)
}
