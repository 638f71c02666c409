//! The job as a file: made whole or not at all, opened only when it is one, copied safely.

use std::fs::{self, File};
use std::io;
use std::path::Path;
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::types::ToSqlOutput;
use rusqlite::{Connection, OpenFlags, TransactionBehavior, params};
use tempfile::{NamedTempFile, TempDir, TempPath};

use crate::document::{self, MAX_DOCUMENT};
use crate::error::Fault;
use crate::job::JobId;
use crate::schema;

/// How long one process waits for another's write.
const PATIENCE: Duration = Duration::from_secs(10);
/// The longest value that SQLite may hand us; a bigger one in a file is somebody's trap.
const MAX_VALUE: i32 = MAX_DOCUMENT as i32 + 1024 * 1024;

/// Makes a job file. It appears under its name only when it is whole and on disk.
pub(crate) fn create(path: &Path, id: JobId) -> Result<(), Fault> {
    appear(path, |file| {
        let mut connection = Connection::open(file)?;
        connection.pragma_update(None, "application_id", schema::APPLICATION_ID)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction)?;
        transaction.execute(
            "insert into job (one, id) values (1, ?1)",
            [id.0.as_bytes()],
        )?;
        transaction.commit()?;
        finish(connection)
    })
}

/// Copies an open job to a new file, without what belongs to this copy alone.
pub(crate) fn copy(connection: &Connection, path: &Path) -> Result<(), Fault> {
    appear(path, |file| {
        let name = file
            .to_str()
            .ok_or_else(|| Fault::NotWritable("its name is not Unicode".to_owned()))?;
        connection.execute("vacuum into ?1", [name])?;
        let copy = Connection::open(file)?;
        // The code and the tokens must not be found in the free pages either.
        copy.pragma_update(None, "secure_delete", true)?;
        copy.execute_batch(
            "begin; delete from local; delete from device; delete from derived; commit;",
        )?;
        finish(copy)
    })
}

/// Copies what of an open job copies share to a new file: the same bytes whenever log and documents are the same. The
/// file is not yet on disk when this returns; it is for a place that goes again.
pub(crate) fn copy_shared(from: &Connection, id: JobId, path: &Path) -> Result<(), Fault> {
    let from = from.unchecked_transaction()?;
    let mut copy = Connection::open(path)?;
    // No journal: what is not finished is thrown away.
    let journal = copy.pragma_update_and_check(None, "journal_mode", "off", |_| Ok(()));
    journal?;
    copy.pragma_update(None, "synchronous", "off")?;
    copy.pragma_update(None, "application_id", schema::APPLICATION_ID)?;
    let to = copy.transaction()?;
    schema::migrate(&to)?;
    to.execute(
        "insert into job (one, id) values (1, ?1)",
        [id.0.as_bytes()],
    )?;
    copy_events(&from, &to)?;
    copy_documents(&from, &to)?;
    to.commit()?;
    // As jobs are opened.
    copy.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(()))?;
    copy.close().map_err(|(_, error)| error.into())
}

fn copy_events(from: &Connection, to: &Connection) -> Result<(), Fault> {
    let mut rows =
        from.prepare("select row, id, device, seq, wire, chain from event order by row")?;
    let mut rows = rows.query([])?;
    let mut insert = to.prepare(
        "insert into event (row, id, device, seq, wire, chain) values (?1, ?2, ?3, ?4, ?5, ?6)",
    )?;
    while let Some(row) = rows.next()? {
        for column in 0..6 {
            let value = ToSqlOutput::Borrowed(row.get_ref(column)?);
            insert.raw_bind_parameter(column + 1, value)?;
        }
        insert.raw_execute()?;
    }
    Ok(())
}

fn copy_documents(from: &Connection, to: &Connection) -> Result<(), Fault> {
    let mut rows = from.prepare("select rowid, digest from document order by digest")?;
    let mut rows = rows.query([])?;
    let mut insert = to.prepare("insert into document (digest, bytes) values (?1, ?2)")?;
    while let Some(row) = rows.next()? {
        let digest: [u8; 32] = row.get(1)?;
        insert.execute(params![digest, document::bytes_in(from, row.get(0)?)?])?;
    }
    Ok(())
}

/// Opens a job file for reading, be it one that others write to now, or one where nothing can be written.
pub(crate) fn open_to_read(path: &Path) -> Result<Connection, Fault> {
    there(path)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags)?;
    match read_only(&connection) {
        // Without a place for SQLite's own files beside it. Where one of them holds something, it would be passed over.
        Err(Fault::NotWritable(_))
            if !has_beside(path, "-wal") && !has_beside(path, "-journal") =>
        {
            open_untouched(path)
        }
        result => result.map(|()| connection),
    }
}

/// Opens a file that nobody writes to, as it is.
pub(crate) fn open_untouched(path: &Path) -> Result<Connection, Fault> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_URI;
    let connection = Connection::open_with_flags(as_uri(path)?, flags)?;
    read_only(&connection)?;
    Ok(connection)
}

fn read_only(connection: &Connection) -> Result<(), Fault> {
    guard(connection)?;
    match schema::recognise(connection)? < schema::KNOWN {
        true => Err(Fault::Earlier),
        false => Ok(()),
    }
}

/// The address of a file that never changes (https://www.sqlite.org/uri.html, from memory).
fn as_uri(path: &Path) -> Result<String, Fault> {
    let name = path
        .to_str()
        .ok_or_else(|| Fault::NotWritable("its name is not Unicode".to_owned()))?;
    let plain = |b: u8| b.is_ascii_alphanumeric() || b"/._-~".contains(&b);
    let escaped = |b: u8| match plain(b) {
        true => char::from(b).to_string(),
        false => format!("%{b:02X}"),
    };
    let name: String = name.bytes().map(escaped).collect();
    Ok(format!("file:{name}?immutable=1"))
}

/// Whether SQLite keeps something beside a file.
fn has_beside(path: &Path, ending: &str) -> bool {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    fs::metadata(name).is_ok_and(|file| file.len() > 0)
}

/// Makes a place for files that are not to outlive their use; no other user can look into it.
pub(crate) fn place() -> Result<TempDir, Fault> {
    place_in(&std::env::temp_dir())
}

/// The same within a folder.
pub(crate) fn place_in(folder: &Path) -> Result<TempDir, Fault> {
    let mut place = tempfile::Builder::new();
    place.prefix(".tallyard-");
    #[cfg(unix)]
    place.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o700));
    Ok(place.tempdir_in(folder)?)
}

/// Opens a job file for reading and writing, once it is known to be one.
pub(crate) fn open(path: &Path) -> Result<Connection, Fault> {
    there(path)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut connection = Connection::open_with_flags(path, flags)?;
    guard(&connection)?;
    let version = schema::recognise(&connection)?;
    durable(&connection)?;
    if version < schema::KNOWN {
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction)?;
        transaction.commit()?;
    }
    Ok(connection)
}

/// Whether there is a file.
fn there(path: &Path) -> Result<(), Fault> {
    let file = fs::metadata(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => Fault::Missing,
        io::ErrorKind::PermissionDenied => Fault::NotWritable(error.to_string()),
        _ => Fault::Io(error),
    })?;
    match file.is_file() {
        true => Ok(()),
        false => Err(Fault::NotAJob("it is a folder or a device".to_owned())),
    }
}

/// Returns what tells this file from a copy of it: the moment it was made, which a move within a
/// disk keeps and a copy does not. Where the file system has none, its place must do.
pub(crate) fn birth(path: &Path) -> Result<String, Fault> {
    let created = fs::metadata(path)?.created();
    let since = created
        .ok()
        .and_then(|at| at.duration_since(std::time::UNIX_EPOCH).ok());
    match since {
        Some(since) => Ok(format!("made {}", since.as_nanos())),
        None => Ok(format!("at {}", fs::canonicalize(path)?.display())),
    }
}

/// Sets a connection up against hostile files, before anything is read.
fn guard(connection: &Connection) -> Result<(), Fault> {
    connection.busy_timeout(PATIENCE)?;
    connection.set_limit(Limit::SQLITE_LIMIT_LENGTH, MAX_VALUE)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    Ok(())
}

/// Sets a connection up so that a commit returns only when it is on disk.
fn durable(connection: &Connection) -> Result<(), Fault> {
    let mode: String =
        connection.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
    if mode != "wal" {
        return Err(Fault::NotWritable(format!(
            "the file system allows only `{mode}` journals"
        )));
    }
    connection.pragma_update(None, "synchronous", "full")?;
    // Without these, macOS calls a write done when the drive has it in its cache.
    connection.pragma_update(None, "fullfsync", true)?;
    connection.pragma_update(None, "checkpoint_fullfsync", true)?;
    Ok(())
}

/// Leaves a new file in the state in which jobs are opened.
fn finish(connection: Connection) -> Result<(), Fault> {
    durable(&connection)?;
    connection.close().map_err(|(_, error)| error.into())
}

/// Lets `make` fill a nameless file beside `path`, then gives it its name, which must be free.
/// When this returns, file and name are on disk.
fn appear(path: &Path, make: impl FnOnce(&Path) -> Result<(), Fault>) -> Result<(), Fault> {
    if path.symlink_metadata().is_ok() {
        return Err(Fault::Exists);
    }
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    let file = NamedTempFile::with_prefix_in(".new-job-", folder)
        .map_err(|error| Fault::NotWritable(error.to_string()))?;
    // Closed before SQLite opens it: a second handle would drop SQLite's locks when it closes.
    let file: TempPath = file.into_temp_path();
    make(&file)?;
    File::options().write(true).open(&file)?.sync_all()?;
    file.persist_noclobber(path)
        .map_err(|failed| match failed.error.kind() {
            io::ErrorKind::AlreadyExists => Fault::Exists,
            _ => Fault::Io(failed.error),
        })?;
    sync_folder(folder)
}

/// Only Unix lets a folder be opened and synced; elsewhere the file system must see to it.
fn sync_folder(folder: &Path) -> Result<(), Fault> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A commit is on disk when it returns only if these hold on the very connection in use.
    #[test]
    fn an_open_job_commits_to_the_disk() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garden.job");
        create(&path, JobId(uuid::Uuid::from_u128(1))).unwrap();
        let connection = open(&path).unwrap();
        let pragma = |name: &str| -> rusqlite::types::Value {
            connection
                .pragma_query_value(None, name, |row| row.get(0))
                .unwrap()
        };
        assert_eq!(pragma("journal_mode"), "wal".to_owned().into());
        // 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous (from memory, M).
        for (name, value) in [
            ("synchronous", 2),
            ("fullfsync", 1),
            ("checkpoint_fullfsync", 1),
        ] {
            assert_eq!(pragma(name), value.into(), "{name}");
        }
    }
}
