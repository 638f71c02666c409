//! Documents: packing lists, photos and papers, found by the digest of their bytes.

use rusqlite::{Connection, OptionalExtension, params};
use tally::Digest;

use crate::error::{Fault, StoreError};
use crate::job::Job;

/// The biggest document, in bytes.
pub const MAX_DOCUMENT: usize = 64 * 1024 * 1024;

impl Job {
    /// Keeps a document and returns its digest. When this returns, it is on disk. One that is
    /// there already is not kept twice.
    pub fn put_document(&mut self, bytes: &[u8]) -> Result<Digest, StoreError> {
        let digest = Digest::of(bytes);
        self.write(|transaction| {
            if bytes.len() > MAX_DOCUMENT {
                return Err(Fault::DocumentTooBig(bytes.len() as u64));
            }
            insert(transaction, &digest, bytes)?;
            Ok(digest)
        })
    }

    /// Returns a document, checked against its digest; `None` if the job has none such.
    pub fn document(&self, digest: &Digest) -> Result<Option<Vec<u8>>, StoreError> {
        let bytes = self.read(|view| {
            let mut statement =
                view.prepare_cached("select bytes from document where digest = ?1")?;
            let bytes: Option<Vec<u8>> = statement
                .query_one([digest.0], |row| row.get(0))
                .optional()?;
            match bytes {
                Some(bytes) if Digest::of(&bytes) != *digest => {
                    Err(Fault::DocumentChanged(*digest))
                }
                bytes => Ok(bytes),
            }
        })?;
        Ok(bytes)
    }

    /// Returns the digests of all documents, in order.
    pub fn documents(&self) -> Result<Vec<Digest>, StoreError> {
        self.read(|view| {
            let mut statement =
                view.prepare_cached("select digest from document order by digest")?;
            let digests = statement.query_map([], |row| row.get(0).map(Digest))?;
            Ok(digests.collect::<Result<_, _>>()?)
        })
    }
}

/// Keeps a document; returns whether it is new.
pub(crate) fn insert(
    connection: &Connection,
    digest: &Digest,
    bytes: &[u8],
) -> Result<bool, Fault> {
    let mut statement = connection.prepare_cached(
        "insert into document (digest, bytes) values (?1, ?2) on conflict (digest) do nothing",
    )?;
    Ok(statement.execute(params![digest.0, bytes])? == 1)
}
