//! The files that trust rests on: whole or not there, and for nobody else of this computer to read.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

use tempfile::NamedTempFile;

use crate::trust::TrustError;

/// Far more than any of them holds.
const MOST: u64 = 64 * 1024;

/// What a new file may take the place of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Over {
    Nothing,
    Anything,
}

/// Whether a file was written.
pub(crate) enum Written {
    Now,
    /// There was one already; this is what it holds.
    Before(String),
}

/// What a file holds, if it is there.
pub(crate) fn read(path: &Path) -> Result<Option<String>, TrustError> {
    let mut text = String::new();
    let read = File::open(path).and_then(|file| file.take(MOST).read_to_string(&mut text));
    match read {
        Ok(_) => Ok(Some(text)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(at(path, error)),
    }
}

/// Writes a file whole, in a folder that is made if need be.
pub(crate) fn write(path: &Path, text: &str, over: Over) -> Result<Written, TrustError> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let wrote = || -> io::Result<bool> {
        make_private(folder)?;
        // A temporary file is its owner's alone to read (mode 0600) and stays so under its new name.
        let mut file = NamedTempFile::new_in(folder)?;
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        let persisted = match over {
            Over::Nothing => file.persist_noclobber(path),
            Over::Anything => file.persist(path),
        };
        match persisted {
            Ok(_) => Ok(true),
            Err(e) if over == Over::Nothing && e.error.kind() == ErrorKind::AlreadyExists => {
                Ok(false)
            }
            Err(e) => Err(e.error),
        }
    };
    if wrote().map_err(|error| at(path, error))? {
        return Ok(Written::Now);
    }
    Ok(Written::Before(read(path)?.unwrap_or_default()))
}

#[cfg(unix)]
fn make_private(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true).mode(0o700).create(folder)
}

#[cfg(not(unix))]
fn make_private(folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)
}

fn at(path: &Path, error: io::Error) -> TrustError {
    TrustError::File {
        path: path.into(),
        error,
    }
}
