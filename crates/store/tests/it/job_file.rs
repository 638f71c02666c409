//! Which files are jobs, and what is said of the others.

use std::fs;
use std::path::Path;

use rusqlite::Connection;
use store::{Fault, Job, JobId, StoreError};
use uuid::Uuid;

use crate::samples::{Folder, count};

fn refused(path: &Path) -> Fault {
    let StoreError { path: named, fault } = Job::open(path).unwrap_err();
    assert_eq!(named, path);
    fault
}

#[test]
fn other_files_are_not_jobs_and_stay_as_they_are() {
    let folder = Folder::new();
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.path(name);
        fs::write(&path, bytes).unwrap();
        path
    };
    let database = folder.path("other.sqlite");
    Connection::open(&database)
        .unwrap()
        .execute_batch("create table event (wire)")
        .unwrap();
    for path in [
        write("empty", b""),
        write("short", b"SQLite format 3\0"),
        write("list.csv", "mark,quantity\nB1,26\n".repeat(500).as_bytes()),
        write("zeros", &[0; 8192]),
        database,
    ] {
        let before = fs::read(&path).unwrap();
        let fault = refused(&path);
        assert!(
            matches!(fault, Fault::NotAJob(_)),
            "{}: {fault}",
            path.display()
        );
        assert_eq!(fs::read(&path).unwrap(), before, "{}", path.display());
    }
    assert!(matches!(refused(&folder.path("")), Fault::NotAJob(_)));
    assert!(matches!(refused(&folder.path("none.job")), Fault::Missing));
    assert!(!folder.path("none.job").exists());
}

#[test]
fn a_newer_form_is_refused_and_left_alone() {
    let folder = Folder::new();
    let path = folder.path("garden.job");
    drop(folder.create("garden.job"));
    Connection::open(&path)
        .unwrap()
        .pragma_update(None, "user_version", 3)
        .unwrap();
    let before = fs::read(&path).unwrap();
    let fault = refused(&path);
    assert!(matches!(fault, Fault::Newer { found: 3, known: 2 }));
    assert_eq!(
        fault.to_string(),
        "a newer version of this program wrote the job (its form is 3, this one reads up to 2); \
         the file is left as it is"
    );
    assert_eq!(fs::read(&path).unwrap(), before);
    for version in [0, -1] {
        Connection::open(&path)
            .unwrap()
            .pragma_update(None, "user_version", version)
            .unwrap();
        assert!(matches!(refused(&path), Fault::NotAJob(_)));
    }
}

#[test]
fn the_mark_alone_makes_no_job_nor_does_a_job_without_it() {
    let folder = Folder::new();
    let mark = |name: &str, mark: u32| {
        let path = folder.path(name);
        Connection::open(&path)
            .unwrap()
            .pragma_update(None, "application_id", mark)
            .unwrap();
        path
    };
    let hollow = mark("hollow.job", u32::from_be_bytes(*b"TlyJ"));
    assert!(matches!(refused(&hollow), Fault::NotAJob(_)));
    drop(folder.create("garden.job"));
    assert!(matches!(refused(&mark("garden.job", 0)), Fault::NotAJob(_)));
}

/// A job that comes by mail with a schema of somebody's own would act in our name.
#[test]
fn an_altered_schema_is_refused() {
    let folder = Folder::new();
    for (place, sql) in [
        "create trigger t after insert on event begin delete from local; end",
        "create view v as select 1",
        "drop trigger event_stays",
        "drop index event_slot",
        "alter table event add column more text",
        "drop table device; create view device as select '' as id, zeroblob(32) as token",
    ]
    .into_iter()
    .enumerate()
    {
        let name = format!("{place}.job");
        drop(folder.create(&name));
        Connection::open(folder.path(&name))
            .unwrap()
            .execute_batch(sql)
            .unwrap();
        let fault = refused(&folder.path(&name));
        assert!(matches!(fault, Fault::NotAJob(_)), "{sql}: {fault}");
    }
    drop(folder.create("noted.job"));
    let sql = "create table somebodys_notes (text)";
    Connection::open(folder.path("noted.job"))
        .unwrap()
        .execute_batch(sql)
        .unwrap();
    Job::open(&folder.path("noted.job")).unwrap();
}

#[test]
fn a_new_job_never_takes_the_place_of_a_file() {
    let folder = Folder::new();
    let path = folder.path("garden.job");
    fs::write(&path, "dear to somebody").unwrap();
    assert!(matches!(
        Job::create(&path).unwrap_err().fault,
        Fault::Exists
    ));
    let job = folder.create("other.job");
    assert!(matches!(
        job.copy_to(&path).unwrap_err().fault,
        Fault::Exists
    ));
    assert_eq!(fs::read_to_string(&path).unwrap(), "dear to somebody");
    let nowhere = folder.path("no folder/garden.job");
    assert!(matches!(
        Job::create(&nowhere).unwrap_err().fault,
        Fault::NotWritable(_)
    ));
}

/// Header fields at their places in the file: "Database File Format", sqlite.org/fileformat2.html
/// section 1.3 (from memory, M): bytes 18 and 19 are 2 for WAL, 60 is the user version, 68 the
/// application id, both big-endian.
#[test]
fn the_file_says_what_it_is() {
    let folder = Folder::new();
    let id = JobId(Uuid::from_u128(42));
    let mut job = Job::create_as(&folder.path("garden.job"), id).unwrap();
    count(&mut job, 1, "phone-1");
    assert_eq!(job.id(), id);
    drop(job);
    let bytes = fs::read(folder.path("garden.job")).unwrap();
    assert_eq!(&bytes[..16], b"SQLite format 3\0");
    assert_eq!(bytes[18..20], [2, 2]);
    assert_eq!(bytes[60..64], 2_u32.to_be_bytes());
    assert_eq!(&bytes[68..72], b"TlyJ");
    // Nothing is left beside it, so the one file can be mailed.
    let names: Vec<_> = fs::read_dir(folder.path(""))
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    assert_eq!(names, ["garden.job"]);
    assert_eq!(Job::open(&folder.path("garden.job")).unwrap().id(), id);
}

/// The form on disk. If this fails, an old step was changed: add a step instead.
#[test]
fn the_steps_are_frozen() {
    let digests = [
        include_bytes!("../../migrations/1.sql").as_slice(),
        include_bytes!("../../migrations/2.sql"),
    ]
    .map(|step| tally::Digest::of(step).to_string());
    let frozen = [
        "934e7e2d090f8814a12b28de2cce32d7dc5048118471f0655b6403bb6697c0ad",
        "d729a64b23c13c3344d824d602322d7a27833bc5f4f4e013637ca841513f0308",
    ];
    assert_eq!(digests, frozen);
}

#[test]
fn events_and_documents_cannot_be_changed_or_removed() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    count(&mut job, 1, "phone-1");
    job.put_document(b"abc").unwrap();
    let connection = Connection::open(job.path()).unwrap();
    for sql in [
        "delete from event",
        "update event set wire = ''",
        "delete from document",
        "update document set bytes = x''",
    ] {
        assert!(
            connection
                .execute(sql, [])
                .unwrap_err()
                .to_string()
                .contains("never"),
            "{sql}"
        );
    }
}
