//! Small things made from documents: thumbnails. They are this copy's own, may be thrown away and
//! made anew, and bear no witness to anything.

use rusqlite::{Connection, OptionalExtension, params};
use tally::Digest;

use crate::document;
use crate::error::{Fault, StoreError};
use crate::job::Job;

/// The biggest thumbnail, in bytes.
pub const MAX_THUMBNAIL: usize = 256 * 1024;

const THUMBNAIL: &str = "thumbnail";

impl Job {
    /// Keeps a photo with its thumbnail, in one go, and returns the photo's digest. When this
    /// returns, both are on disk.
    pub fn put_photo(&mut self, photo: &[u8], thumbnail: &[u8]) -> Result<Digest, StoreError> {
        let digest = document::digest_of(photo).map_err(|fault| fault.at(self.path()))?;
        self.write_shared(|transaction| {
            document::insert(transaction, &digest, photo)?;
            put(transaction, &digest, thumbnail)?;
            Ok(digest)
        })
    }

    /// Keeps the thumbnail of a document that the job has, in place of an earlier one.
    pub fn put_thumbnail(&mut self, of: &Digest, thumbnail: &[u8]) -> Result<(), StoreError> {
        self.write(|transaction| {
            if document::size(transaction, of)?.is_none() {
                return Err(Fault::NoDocument(*of));
            }
            put(transaction, of, thumbnail)
        })
    }

    /// Returns the thumbnail of a document; `None` if this copy has none (yet).
    pub fn thumbnail(&self, of: &Digest) -> Result<Option<Vec<u8>>, StoreError> {
        self.read(|view| {
            let mut statement =
                view.prepare_cached("select bytes from derived where digest = ?1 and kind = ?2")?;
            let key = params![of.0, THUMBNAIL];
            Ok(statement.query_one(key, |row| row.get(0)).optional()?)
        })
    }
}

fn put(connection: &Connection, of: &Digest, thumbnail: &[u8]) -> Result<(), Fault> {
    if thumbnail.len() > MAX_THUMBNAIL {
        return Err(Fault::ThumbnailTooBig(thumbnail.len()));
    }
    let mut statement = connection.prepare_cached(
        "insert into derived (digest, kind, bytes) values (?1, ?2, ?3)
         on conflict (digest, kind) do update set bytes = excluded.bytes",
    )?;
    statement.execute(params![of.0, THUMBNAIL, thumbnail])?;
    Ok(())
}

/// Throws all of it away. A file that came from elsewhere may show a thumbnail that is none of its
/// photo, and nothing would tell.
pub(crate) fn forget(connection: &Connection) -> Result<(), Fault> {
    connection.execute("delete from derived", [])?;
    Ok(())
}
