//! The tables of a job file, and whether a file really has them.

use rusqlite::{Connection, Transaction};

use crate::chain;
use crate::error::Fault;

/// Marks a SQLite file as one of ours ("TlyJ"), in its header at byte 68.
pub(crate) const APPLICATION_ID: i64 = 0x546C_794A;

/// One step from a form to the next.
struct Step {
    sql: &'static str,
    /// What SQL alone cannot do; it comes after the SQL.
    then: fn(&Connection) -> Result<(), Fault>,
}

/// The steps that lead from an empty file to today's form. Only ever added to: a step that has
/// been released is never changed, since files stand at every one of them.
const MIGRATIONS: &[Step] = &[
    Step {
        sql: include_str!("../migrations/1.sql"),
        then: |_| Ok(()),
    },
    Step {
        sql: include_str!("../migrations/2.sql"),
        then: chain::begin,
    },
];

impl Step {
    fn take(&self, connection: &Connection) -> Result<(), Fault> {
        connection.execute_batch(self.sql)?;
        (self.then)(connection)
    }
}

/// The form that this build writes.
pub(crate) const KNOWN: i64 = MIGRATIONS.len() as i64;

/// An object of the schema: its type, name and SQL.
type Object = (String, String, String);

/// Takes the steps that the file has not seen yet.
pub(crate) fn migrate(transaction: &Transaction<'_>) -> Result<(), Fault> {
    let done = usize::try_from(version(transaction)?).unwrap_or(MIGRATIONS.len());
    for step in MIGRATIONS.iter().skip(done) {
        step.take(transaction)?;
    }
    transaction.pragma_update(None, "user_version", KNOWN)?;
    Ok(())
}

/// Returns the form of the file, from 1, or why it is not a job file that this build can read.
/// Only reads, so another program's file is left as it is.
pub(crate) fn recognise(connection: &Connection) -> Result<i64, Fault> {
    let application: i64 = pragma(connection, "application_id")?;
    if application != APPLICATION_ID {
        return Err(Fault::NotAJob(
            "it is empty, or another program's database".to_owned(),
        ));
    }
    let version = version(connection)?;
    if version > KNOWN {
        return Err(Fault::Newer {
            found: version,
            known: KNOWN,
        });
    }
    let steps = usize::try_from(version).ok().filter(|steps| *steps > 0);
    let Some(steps) = steps else {
        return Err(Fault::NotAJob(format!("its form is {version}")));
    };
    same_schema(connection, &MIGRATIONS[..steps])?;
    Ok(version)
}

/// Compares the file's schema with the one that the steps make. Job files come by mail, and a
/// table that is really a view, or a trigger of somebody's own, would act in our name.
fn same_schema(connection: &Connection, steps: &[Step]) -> Result<(), Fault> {
    let fresh = Connection::open_in_memory()?;
    for step in steps {
        step.take(&fresh)?;
    }
    let (ours, found) = (objects(&fresh)?, objects(connection)?);
    if let Some((kind, name, _)) = ours.iter().find(|object| !found.contains(object)) {
        return Err(Fault::NotAJob(format!(
            "its {kind} `{name}` is missing or altered"
        )));
    }
    let foreign = found
        .iter()
        .find(|object| !ours.contains(object) && acts(&object.0));
    if let Some((kind, name, _)) = foreign {
        return Err(Fault::NotAJob(format!(
            "it holds a {kind} `{name}` that is not ours"
        )));
    }
    Ok(())
}

/// Tables and indexes that another tool left behind lie still; these do not.
fn acts(kind: &str) -> bool {
    matches!(kind, "trigger" | "view")
}

fn objects(connection: &Connection) -> Result<Vec<Object>, Fault> {
    let mut statement = connection.prepare(
        "select type, name, sql from sqlite_schema where sql is not null order by type, name",
    )?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

fn version(connection: &Connection) -> Result<i64, Fault> {
    pragma(connection, "user_version")
}

fn pragma(connection: &Connection, name: &str) -> Result<i64, Fault> {
    Ok(connection.pragma_query_value(None, name, |row| row.get(0))?)
}
