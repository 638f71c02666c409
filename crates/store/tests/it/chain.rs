//! The chain over the log, worked out anew by another program: coreutils' `sha256sum`, over rows
//! read past the store. What was changed in the file shows.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use proptest::prelude::*;
use rusqlite::Connection;
use store::{Job, Noted};
use tally::{Digest, What};

use crate::samples::{Folder, count, counted, draft, tamper, wrong};

/// SHA-256 by `sha256sum`, in hexadecimal digits.
fn sha256sum(parts: &[&[u8]]) -> String {
    let mut child = Command::new("sha256sum")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("coreutils are on this machine");
    let mut input = child.stdin.take().expect("it was piped");
    parts
        .iter()
        .for_each(|part| input.write_all(part).expect("it reads"));
    drop(input);
    let output = child.wait_with_output().expect("it ends").stdout;
    String::from_utf8(output).expect("text")[..64].to_owned()
}

fn bytes(hex: &str) -> Vec<u8> {
    let pair = |at| u8::from_str_radix(&hex[at..at + 2], 16).expect("hexadecimal");
    (0..64).step_by(2).map(pair).collect()
}

/// Each link that stands in the file, and each as `sha256sum` has it; the first is the job's.
fn links(path: &Path) -> (Vec<String>, Vec<String>) {
    let connection = Connection::open(path).unwrap();
    let job: Vec<u8> = connection
        .query_row("select id from job", [], |row| row.get(0))
        .unwrap();
    let first = sha256sum(&[&job]);
    let (mut stored, mut worked_out) = (vec![first.clone()], vec![first]);
    let mut statement = connection
        .prepare("select cast(wire as blob), lower(hex(chain)) from event order by row")
        .unwrap();
    let mut rows = statement.query([]).unwrap();
    while let Some(row) = rows.next().unwrap() {
        let (wire, link): (Vec<u8>, String) = (row.get(0).unwrap(), row.get(1).unwrap());
        let before = bytes(worked_out.last().unwrap());
        let length = (wire.len() as u64).to_be_bytes();
        worked_out.push(sha256sum(&[&before, &length, &wire]));
        stored.push(link);
    }
    (stored, worked_out)
}

/// "abc", from FIPS 180-4's examples (from memory, M): the outside tool itself is right.
#[test]
fn the_outside_tool_is_right() {
    assert_eq!(
        sha256sum(&[b"a", b"bc"]),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
}

#[test]
fn each_link_is_as_another_program_has_it() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let empty = job.head().unwrap();
    assert_eq!([empty.to_string()], *links(job.path()).0);
    (1..=5).for_each(|number| count(&mut job, number, "phone-1"));
    let mut other = folder.copy(&job, "other.job");
    count(&mut job, 6, "phone-1");
    (7..=9).for_each(|number| count(&mut other, number, "phone-2"));
    let words = "ü—\u{1F69C}".to_owned();
    other
        .append(draft(10, "phone-2", What::Noted { mark: None, words }))
        .unwrap();
    job.merge(&other).unwrap();
    other.merge(&job).unwrap();
    for job in [&job, &other] {
        let (stored, worked_out) = links(job.path());
        assert_eq!(stored, worked_out);
        assert_eq!(stored.len(), 11);
        let report = job.verify(None).unwrap();
        assert!(report.is_well(), "{report:?}");
        assert_eq!(report.events, 10);
        assert_eq!(report.head, job.head().unwrap());
        assert_eq!(report.head.to_string(), *stored.last().unwrap());
    }
    // The same events in another order, another head.
    assert_ne!(job.head().unwrap(), other.head().unwrap());
}

#[test]
fn a_noted_head_is_found_in_what_came_after_it() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let mut heads = vec![job.head().unwrap()];
    for number in 1..=4 {
        count(&mut job, number, "phone-1");
        heads.push(job.head().unwrap());
    }
    // A copy goes on from where it was taken.
    for job in [&folder.copy(&job, "copy.job"), &job] {
        for (events, head) in (0..).zip(&heads) {
            let noted = job.verify(Some(head)).unwrap().noted;
            let since = 4 - events;
            assert_eq!(noted, Some(Noted::Held { events, since }));
        }
    }
    let elsewhere = folder.create("other.job").head().unwrap();
    let report = job.verify(Some(&elsewhere)).unwrap();
    assert_eq!(report.noted, Some(Noted::Missing));
    assert!(!report.is_well() && report.wrong.is_empty());
}

/// A job of six events, with an SQL statement run on it.
fn tampered(sql: &str) -> (Folder, Job, Digest) {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    (1..=6).for_each(|number| count(&mut job, number, "phone-1"));
    let head = job.head().unwrap();
    tamper(job.path(), sql);
    (folder, job, head)
}

#[test]
fn what_was_changed_in_the_middle_is_named_by_its_row() {
    for (sql, row) in [
        ("delete from event where row = 3", 4),
        ("delete from event where row = 1", 2),
        (
            r#"update event set wire = replace(wire, '"quantity":1', '"quantity":9') where row = 3"#,
            3,
        ),
        ("update event set chain = zeroblob(32) where row = 5", 5),
        (
            "update event set row = 99 where row = 2; update event set row = 2 where row = 3;
             update event set row = 3 where row = 99",
            2,
        ),
        (
            "update event set row = row + 100; update event set row = row - 99;
             insert into event select 1, x'00000000000000000000000000000063', 'x', 9,
             replace(wire, '000001', '000063'), chain from event where row = 2",
            1,
        ),
    ] {
        let (_folder, job, head) = tampered(sql);
        let report = job.verify(Some(&head)).unwrap();
        let expected = format!("event row {row}: from here on the chain no longer fits");
        let told = |line: &&String| line.contains("chain");
        let lines: Vec<_> = report.wrong.iter().filter(told).collect();
        assert!(
            lines.len() == 1 && lines[0].starts_with(&expected),
            "{sql}: {lines:?}"
        );
        assert_eq!(report.noted, Some(Noted::Missing), "{sql}");
    }
}

/// What the chain alone cannot show, and a head that was noted elsewhere does.
#[test]
fn a_cut_off_end_and_a_chain_made_anew_show_against_a_noted_head() {
    let (_folder, job, head) = tampered("delete from event where row > 4");
    assert_eq!(wrong(&job), Vec::<String>::new());
    assert_eq!(job.verify(Some(&head)).unwrap().noted, Some(Noted::Missing));

    let (_folder, job, head) = tampered(
        r#"update event set wire = replace(wire, '"quantity":1', '"quantity":9') where row = 3"#,
    );
    for (row, link) in (0..).zip(links(job.path()).1) {
        tamper(
            job.path(),
            &format!("update event set chain = x'{link}' where row = {row}"),
        );
    }
    assert_eq!(wrong(&job), Vec::<String>::new());
    assert_eq!(job.verify(Some(&head)).unwrap().noted, Some(Noted::Missing));
}

/// A text that no event can be, too big to be read at all: said, and what lies before it counts.
#[test]
fn what_cannot_be_read_is_said_and_the_rest_is_looked_at() {
    let (_folder, mut job, head) = tampered("select 1");
    count(&mut job, 7, "phone-1");
    tamper(
        job.path(),
        "update event set wire = cast(zeroblob(70000000) as text) where row = 7;
         insert into document (digest, bytes) values (zeroblob(32), x'00')",
    );
    let report = job.verify(Some(&head)).unwrap();
    assert!(
        report.wrong[0].starts_with("the events cannot be read to their end: "),
        "{report:?}"
    );
    assert!(report.wrong[1].ends_with("its bytes do not match its digest"));
    let (events, since) = (6, 0);
    assert_eq!(report.noted, Some(Noted::Held { events, since }));
}

#[test]
fn documents_that_events_name_are_missed() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let (kept, lost) = (job.put_document(b"a list").unwrap(), Digest::of(b"a photo"));
    for (number, digest) in [(1, kept), (2, lost)] {
        let (name, shipment) = ("list.csv".to_owned(), None);
        let what = What::ListAdded {
            digest,
            name,
            shipment,
        };
        job.append(draft(number, "phone-1", what)).unwrap();
    }
    let report = job.verify(None).unwrap();
    assert!(report.is_well(), "{report:?}");
    assert_eq!(report.absent, [lost]);
    assert_eq!((report.documents, report.bytes), (1, 6));
    job.put_document(b"a photo").unwrap();
    assert_eq!(job.verify(None).unwrap().absent, []);
}

/// What somebody does to one of two copies.
#[derive(Debug, Clone)]
enum Act {
    Count(bool),
    Photo(bool, u8),
    Merge(bool),
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        4 => any::<bool>().prop_map(Act::Count),
        1 => (any::<bool>(), any::<u8>()).prop_map(|(first, byte)| Act::Photo(first, byte)),
        1 => any::<bool>().prop_map(Act::Merge),
    ];
    prop::collection::vec(act, 1..25)
}

/// Does `acts` to two copies and returns the first, which has at least one event and one photo.
fn played(folder: &Folder, acts: &[Act]) -> Job {
    let mut first = folder.create("first.job");
    let mut second = folder.copy(&first, "second.job");
    count(&mut first, 1, "phone-1");
    first.put_document(b"bows").expect("kept");
    for (number, act) in (2..).zip(acts) {
        let (&here, mut pair) = match act {
            Act::Count(here) | Act::Photo(here, _) | Act::Merge(here) => {
                (here, (&mut first, &mut second))
            }
        };
        if !here {
            pair = (pair.1, pair.0);
        }
        let (job, device) = (pair.0, if here { "phone-1" } else { "phone-2" });
        match act {
            Act::Count(_) => {
                job.append(draft(number, device, counted(3)))
                    .expect("a good event");
            }
            Act::Photo(_, byte) => {
                job.put_document(&[*byte; 9_000]).expect("kept");
            }
            Act::Merge(_) => assert_eq!(job.merge(pair.1).expect("merged").kept_out, 0),
        }
    }
    first
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Counts, photos and merges in any order: the chain fits. Then one byte of one wire text or
    /// of one document is changed: it is found, and named.
    #[test]
    fn one_changed_byte_is_found(
        acts in acts(), place in any::<prop::sample::Index>(), byte in any::<prop::sample::Index>(),
        flip in 1..=255_u8
    ) {
        let folder = Folder::new();
        let job = played(&folder, &acts);
        let report = job.verify(None).unwrap();
        prop_assert!(report.is_well(), "{:?}", report);
        let (stored, worked_out) = links(job.path());
        prop_assert_eq!(stored, worked_out);

        let (events, documents) = (report.events as usize, report.documents as usize);
        let place = place.index(events + documents);
        let (table, column, kind, offset) = match place < events {
            true => ("event", "wire", "text", place),
            false => ("document", "bytes", "blob", place - events),
        };
        let connection = Connection::open(job.path()).unwrap();
        let (row, mut changed): (i64, Vec<u8>) = connection
            .query_row(
                &format!(
                    "select rowid, cast({column} as blob) from {table} order by rowid \
                     limit 1 offset {offset}"
                ),
                [],
                |row| Ok((row.get(0)?, row.get(1)?)),
            )
            .unwrap();
        let byte = byte.index(changed.len());
        changed[byte] ^= flip;
        let hex: String = changed.iter().map(|byte| format!("{byte:02x}")).collect();
        tamper(job.path(), &format!(
            "update {table} set {column} = cast(x'{hex}' as {kind}) where rowid = {row}"
        ));
        let told = wrong(&job);
        match table {
            "event" => {
                let expected = format!("event row {row}: from here on the chain no longer fits");
                prop_assert!(told[0].starts_with(&expected), "{:?}", told);
            }
            _ => {
                prop_assert_eq!(told.len(), 1);
                prop_assert!(told[0].ends_with("its bytes do not match its digest"), "{:?}", told);
            }
        }
    }
}
