//! What belongs to this copy alone: its writer's name, its join code, its phones.

use rusqlite::{Connection, OptionalExtension, params};
use uuid::Uuid;

use crate::error::{Fault, StoreError};
use crate::job::Job;

const BIRTH: &str = "birth";
const WRITER: &str = "writer";
const JOIN_CODE: &str = "join code";
/// The longest name, code or device id, in characters; as in the tally, whose device this is.
const MAX_NAME: usize = tally::MAX_NAME;

/// A phone, or another browser, that has joined.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// Its id: the `device` of its events.
    pub id: String,
    /// The SHA-256 of the secret that it shows; the secret itself is not kept.
    pub token: [u8; 32],
    /// What people call it.
    pub name: String,
    /// Whether it may no longer write.
    pub revoked: bool,
}

impl Job {
    /// Returns the name under which this copy writes what no phone does. Each copy has its own.
    pub fn writer(&self) -> Result<String, StoreError> {
        let writer = self.read(|view| get(view, WRITER))?;
        writer.ok_or_else(|| Fault::Damaged("it has no writer".to_owned()).at(self.path()))
    }

    /// Returns the code that lets phones join.
    pub fn join_code(&self) -> Result<Option<String>, StoreError> {
        self.read(|view| get(view, JOIN_CODE))
    }

    /// Sets the code that lets phones join.
    pub fn set_join_code(&mut self, code: &str) -> Result<(), StoreError> {
        self.write(|transaction| {
            named("join code", code)?;
            set(transaction, JOIN_CODE, code)
        })
    }

    /// Lets a device in. Its id and its token must be new.
    pub fn add_device(&mut self, device: &Device) -> Result<(), StoreError> {
        self.write(|transaction| {
            named("device id", &device.id)?;
            named("device name", &device.name)?;
            let Device {
                id,
                token,
                name,
                revoked,
            } = device;
            let added = transaction.execute(
                "insert into device (id, token, name, revoked) values (?1, ?2, ?3, ?4)
                 on conflict do nothing",
                params![id, token, name, revoked],
            )?;
            match added {
                0 => Err(Fault::Setting(format!(
                    "device `{id}` or its token is there already"
                ))),
                _ => Ok(()),
            }
        })
    }

    /// Returns the device that shows this token, revoked or not.
    pub fn device_by_token(&self, token: &[u8; 32]) -> Result<Option<Device>, StoreError> {
        self.read(|view| {
            let mut statement = view
                .prepare_cached("select id, token, name, revoked from device where token = ?1")?;
            Ok(statement.query_one([token], device).optional()?)
        })
    }

    /// Returns all devices, by id.
    pub fn devices(&self) -> Result<Vec<Device>, StoreError> {
        self.read(|view| {
            let mut statement =
                view.prepare_cached("select id, token, name, revoked from device order by id")?;
            Ok(statement.query_map([], device)?.collect::<Result<_, _>>()?)
        })
    }

    /// Shuts a device out, or lets it in again; returns whether there is such a one. Its events stay.
    pub fn revoke_device(&mut self, id: &str, revoked: bool) -> Result<bool, StoreError> {
        self.write(|transaction| {
            let changed = transaction.execute(
                "update device set revoked = ?2 where id = ?1",
                params![id, revoked],
            )?;
            Ok(changed == 1)
        })
    }

    /// Gives a device another name; returns whether there is such a one. Its events keep the name they were
    /// written under.
    pub fn rename_device(&mut self, id: &str, name: &str) -> Result<bool, StoreError> {
        self.write(|transaction| {
            named("device name", name)?;
            let changed = transaction.execute(
                "update device set name = ?2 where id = ?1",
                params![id, name],
            )?;
            Ok(changed == 1)
        })
    }
}

/// Makes sure that what is kept here is this copy's own: a file of another birth is a copy, which
/// begins anew.
pub(crate) fn settle(connection: &Connection, birth: &str) -> Result<(), Fault> {
    if get(connection, BIRTH)?.as_deref() == Some(birth) {
        return Ok(());
    }
    connection.execute_batch("delete from local; delete from device;")?;
    set(connection, BIRTH, birth)?;
    set(connection, WRITER, &Uuid::now_v7().to_string())
}

fn device(row: &rusqlite::Row<'_>) -> Result<Device, rusqlite::Error> {
    Ok(Device {
        id: row.get(0)?,
        token: row.get(1)?,
        name: row.get(2)?,
        revoked: row.get(3)?,
    })
}

fn get(connection: &Connection, key: &str) -> Result<Option<String>, Fault> {
    let mut statement = connection.prepare_cached("select value from local where key = ?1")?;
    Ok(statement.query_one([key], |row| row.get(0)).optional()?)
}

fn set(connection: &Connection, key: &str, value: &str) -> Result<(), Fault> {
    connection.execute(
        "insert into local (key, value) values (?1, ?2)
         on conflict (key) do update set value = excluded.value",
        [key, value],
    )?;
    Ok(())
}

fn named(what: &str, text: &str) -> Result<(), Fault> {
    let fits = !text.trim().is_empty()
        && text.chars().count() <= MAX_NAME
        && !text.chars().any(char::is_control);
    match fits {
        true => Ok(()),
        false => Err(Fault::Setting(format!(
            "the {what} must be one line of 1 to {MAX_NAME} characters"
        ))),
    }
}
