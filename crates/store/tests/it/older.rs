//! A job of form 1, as the build before the chain wrote it: `form-1.tallyard` was made by the
//! program at commit 009d69c with `tallyard demo --lay form-1.tallyard` (15 events, one packing
//! list as a document).

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use rusqlite::Connection;
use store::{Fault, Job};

use crate::samples::{Folder, wires, wrong};

const FORM_1: &[u8] = include_bytes!("../form-1.tallyard");

fn lay(folder: &Folder) -> std::path::PathBuf {
    let path = folder.path("old.job");
    fs::write(&path, FORM_1).expect("written");
    path
}

/// Rows with their texts, read past the store.
fn rows(path: &Path) -> Vec<(i64, Vec<u8>, String, i64, String)> {
    let connection = Connection::open(path).expect("the file opens");
    let mut statement = connection
        .prepare("select row, id, device, seq, wire from event order by row")
        .expect("the table of events");
    let row = |row: &rusqlite::Row<'_>| {
        let (number, id, device) = (row.get(0)?, row.get(1)?, row.get(2)?);
        Ok((number, id, device, row.get(3)?, row.get(4)?))
    };
    let rows = statement.query_map([], row).expect("the rows");
    rows.collect::<Result<_, _>>()
        .expect("rows as they were written")
}

#[test]
fn an_old_job_is_brought_up_and_says_the_same() {
    let folder = Folder::new();
    let path = lay(&folder);
    let before = rows(&path);
    let mut job = Job::open(&path).unwrap();
    assert_eq!(rows(&path), before);
    let report = job.verify(None).unwrap();
    assert!(report.is_well() && report.absent.is_empty(), "{report:?}");
    assert_eq!((report.events, report.documents), (15, 1));
    assert_eq!(job.events().unwrap().events.len(), 15);
    // It goes on, and merges with what a copy of the old file became.
    crate::samples::count(&mut job, 1, "phone-1");
    let other = folder.path("other.job");
    fs::write(&other, FORM_1).unwrap();
    let mut other = Job::open(&other).unwrap();
    assert_eq!(other.merge(&job).unwrap().events, 1);
    assert_eq!(wires(other.path()), wires(job.path()));
    assert_eq!(other.head().unwrap(), job.head().unwrap());
}

/// A form-1 schema that is not quite ours is refused as it always was, and left alone.
#[test]
fn an_altered_old_job_is_refused_and_left_alone() {
    let folder = Folder::new();
    let path = lay(&folder);
    let sql = "drop trigger event_stays; delete from event where row = 3";
    Connection::open(&path).unwrap().execute_batch(sql).unwrap();
    let fault = Job::open(&path).unwrap_err().fault;
    assert!(matches!(fault, Fault::NotAJob(_)), "{fault}");
    assert_eq!(rows(&path).len(), 14);
}

/// An older build that has the file open meanwhile cannot put an event beside the chain.
#[test]
fn an_older_writer_is_refused_by_the_table() {
    let folder = Folder::new();
    let path = lay(&folder);
    let old = Connection::open(&path).unwrap();
    let insert = "insert into event (id, device, seq, wire) values (randomblob(16), 'x', 99, '')";
    let mut statement = old.prepare(insert).unwrap();
    let job = Job::open(&path).unwrap();
    let refused = statement.execute([]).unwrap_err().to_string();
    assert!(refused.contains("event.chain"), "{refused}");
    assert_eq!(wrong(&job), Vec::<String>::new());
}

/// The main file and the write-ahead log just after an old job was opened.
fn opened() -> &'static (Vec<u8>, Vec<u8>) {
    static FILES: std::sync::OnceLock<(Vec<u8>, Vec<u8>)> = std::sync::OnceLock::new();
    FILES.get_or_init(|| {
        let folder = Folder::new();
        let path = lay(&folder);
        let job = Job::open(&path).expect("it opens");
        let wal = fs::read(folder.path("old.job-wal")).expect("an open job has one");
        let main = fs::read(&path).expect("the file");
        drop(job);
        assert!(
            main == FORM_1 && wal.len() > 20_000,
            "the step is in the log"
        );
        (main, wal)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Power lost at any byte of the step: the job is old or new, and whole.
    #[test]
    fn a_cut_during_the_step_loses_nothing(cut in any::<prop::sample::Index>()) {
        let (main, wal) = opened();
        let folder = Folder::new();
        let path = folder.path("old.job");
        fs::write(&path, main).unwrap();
        fs::write(folder.path("old.job-wal"), &wal[..cut.index(wal.len())]).unwrap();
        let job = Job::open(&path).unwrap();
        prop_assert_eq!(wrong(&job), Vec::<String>::new());
        prop_assert_eq!(job.events().unwrap().events.len(), 15);
    }
}
