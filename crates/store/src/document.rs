//! Documents: packing lists, photos and papers, found by the digest of their bytes.

use rusqlite::blob::Blob;
use rusqlite::{Connection, MAIN_DB, OptionalExtension, params};
use sha2::{Digest as _, Sha256};
use tally::Digest;

use crate::error::{Fault, StoreError};
use crate::job::Job;

/// The biggest document, in bytes.
pub const MAX_DOCUMENT: usize = 64 * 1024 * 1024;

/// How many bytes of a document are read at once where it need not be in memory.
const PIECE: usize = 64 * 1024;

impl Job {
    /// Keeps a document and returns its digest. When this returns, it is on disk. One that is
    /// there already is not kept twice.
    pub fn put_document(&mut self, bytes: &[u8]) -> Result<Digest, StoreError> {
        let digest = digest_of(bytes).map_err(|fault| fault.at(self.path()))?;
        self.write_shared(|transaction| {
            insert(transaction, &digest, bytes)?;
            Ok(digest)
        })
    }

    /// Returns a document, checked against its digest; `None` if the job has none such.
    pub fn document(&self, digest: &Digest) -> Result<Option<Vec<u8>>, StoreError> {
        self.read(|view| {
            let mut statement = view.prepare_cached(
                "select rowid, octet_length(bytes) from document where digest = ?1",
            )?;
            let found: Option<(i64, i64)> = statement
                .query_one([digest.0], |row| Ok((row.get(0)?, row.get(1)?)))
                .optional()?;
            let Some((rowid, size)) = found else {
                return Ok(None);
            };
            fits(size.cast_unsigned())?;
            let bytes = bytes_in(view, rowid)?;
            match Digest::of(&bytes) == *digest {
                true => Ok(Some(bytes)),
                false => Err(Fault::DocumentChanged(*digest)),
            }
        })
    }

    /// Returns a document's size in bytes, without reading it; `None` if the job has none such.
    pub fn document_size(&self, digest: &Digest) -> Result<Option<u64>, StoreError> {
        self.read(|view| size(view, digest))
    }

    /// Returns the digests and sizes in bytes of all documents, by digest, without reading them.
    pub fn documents(&self) -> Result<Vec<(Digest, u64)>, StoreError> {
        self.read(|view| {
            let mut statement = view.prepare_cached(
                "select digest, octet_length(bytes) from document order by digest",
            )?;
            let rows = statement.query_map([], |row| {
                Ok((Digest(row.get(0)?), row.get::<_, i64>(1)?.cast_unsigned()))
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}

/// Returns the digest of a document that is to be kept, unless it is too big.
pub(crate) fn digest_of(bytes: &[u8]) -> Result<Digest, Fault> {
    fits(bytes.len() as u64)?;
    Ok(Digest::of(bytes))
}

fn fits(size: u64) -> Result<(), Fault> {
    match size > MAX_DOCUMENT as u64 {
        true => Err(Fault::DocumentTooBig(size)),
        false => Ok(()),
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

/// Returns a document's size in bytes.
pub(crate) fn size(connection: &Connection, digest: &Digest) -> Result<Option<u64>, Fault> {
    let mut statement =
        connection.prepare_cached("select octet_length(bytes) from document where digest = ?1")?;
    let size: Option<i64> = statement
        .query_one([digest.0], |row| row.get(0))
        .optional()?;
    Ok(size.map(i64::cast_unsigned))
}

/// Returns the bytes of the document in a row. Read this way they are in memory once; as a column
/// of a query they would be there twice, and take twice as long.
pub(crate) fn bytes_in(connection: &Connection, rowid: i64) -> Result<Vec<u8>, rusqlite::Error> {
    let stored = open(connection, rowid)?;
    let mut bytes = vec![0; stored.len()];
    stored.read_at_exact(&mut bytes, 0)?;
    Ok(bytes)
}

/// Works out the digest of the document in a row, piece by piece.
pub(crate) fn digest_in(connection: &Connection, rowid: i64, size: u64) -> Result<Digest, Fault> {
    fits(size)?;
    let stored = open(connection, rowid)?;
    let (mut hash, mut piece, mut at) = (Sha256::new(), vec![0; PIECE], 0);
    loop {
        let read = stored.read_at(&mut piece, at)?;
        if read == 0 {
            return Ok(Digest(hash.finalize().into()));
        }
        hash.update(&piece[..read]);
        at += read;
    }
}

fn open(connection: &Connection, rowid: i64) -> Result<Blob<'_>, rusqlite::Error> {
    connection.blob_open(MAIN_DB, c"document", c"bytes", rowid, true)
}
