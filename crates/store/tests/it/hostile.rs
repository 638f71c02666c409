//! Copies made by somebody who means harm: reported, kept out, never a panic.

use rusqlite::Connection;
use store::{Fault, MAX_DOCUMENT, MAX_PROBLEMS, Problem};
use tally::{Digest, MAX_WIRE};

use crate::samples::{Folder, count, forge, id, tamper, wrong};

fn wire(number: u128, seq: u64, quantity: &str) -> String {
    format!(
        r#"{{"v":1,"id":"{}","device":"x","seq":{seq},"at":5,"who":"Ben","kind":"counted","body":{{"mark":"B1","pile":null,"quantity":{quantity},"replaces":[]}}}}"#,
        id(number)
    )
}

#[test]
fn bad_events_are_kept_out_and_the_rest_comes_in() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let there = folder.copy(&here, "there.job");
    let big = wire(3, 3, "1").replacen("Ben", &"B".repeat(MAX_WIRE), 1);
    let deep = wire(6, 6, &"[".repeat(100_000));
    let far = 1_u64 << 50;
    let bad = [
        (1, "{".to_owned()),
        (2, wire(2, 2, "-4")),
        (3, big),
        (4, String::new()),
        (5, "\u{0}".to_owned()),
        (6, deep),
        (7, wire(7, far, "1")),
        (8, wire(8, u64::MAX, "1")),
    ];
    for (number, text) in &bad {
        forge(&there, *number, "x", *number as i64, text);
    }
    forge(&there, 9, "x", 9, &wire(9, 9, "2"));
    tamper(
        there.path(),
        "update event set wire = cast(x'22ff22' as text) where row = 4",
    );
    let merged = here.merge(&there).unwrap();
    assert_eq!((merged.events, merged.kept_out), (1, bad.len()));
    let rows: Vec<i64> = merged
        .problems
        .iter()
        .filter_map(|problem| match problem {
            Problem::Unreadable { row, .. } => Some(*row),
            _ => None,
        })
        .collect();
    assert_eq!(rows, [1, 2, 3, 4, 5, 6, 8]);
    assert!(merged.problems.contains(&Problem::FarAhead {
        id: id(7),
        seq: far,
        events: 9
    }));
    let messages: Vec<String> = merged.problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        messages[1],
        "row 2 of the other copy: quantity is -4; it must be from 0 to 1000000"
    );
    assert_eq!(
        messages[2],
        "row 3 of the other copy: it is bigger than 524288 bytes"
    );
    // The copy itself can still be read, but for these, and written to. Its log holds a number
    // far ahead in the text alone, so the next one is near.
    assert_eq!(there.events().unwrap().unread.len(), 7);
    assert_eq!(wrong(&here), Vec::<String>::new());
}

#[test]
fn one_id_with_two_texts_is_reported() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    count(&mut here, 1, "phone-1");
    let there = folder.copy(&here, "there.job");
    tamper(
        there.path(),
        r#"update event set wire = replace(wire, '"quantity":1', '"quantity":9')"#,
    );
    let merged = here.merge(&there).unwrap();
    assert_eq!(
        (merged.events, merged.problems),
        (0, vec![Problem::Differs(id(1))])
    );
}

#[test]
fn false_and_enormous_documents_are_kept_out() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let mut there = folder.copy(&here, "there.job");
    let good = there.put_document(b"a list").unwrap();
    let (false_one, huge) = (Digest([1; 32]), Digest([2; 32]));
    let size = 70 * 1024 * 1024;
    let connection = Connection::open(there.path()).unwrap();
    let insert = "insert into document (digest, bytes) values (?1, zeroblob(?2))";
    connection
        .execute(insert, rusqlite::params![false_one.0, 8])
        .unwrap();
    connection
        .execute(insert, rusqlite::params![huge.0, size])
        .unwrap();
    let merged = here.merge(&there).unwrap();
    assert_eq!((merged.documents, merged.kept_out), (1, 2));
    let expected = [
        Problem::DocumentChanged(false_one),
        Problem::DocumentTooBig { digest: huge, size },
    ];
    assert_eq!(merged.problems, expected);
    assert_eq!(here.documents().unwrap(), [(good, 6)]);
    // In its own copy it is not even read into memory.
    let fault = there.document(&huge).unwrap_err().fault;
    assert!(
        matches!(fault, Fault::DocumentTooBig(found) if found == size as u64),
        "{fault}"
    );
    let expected = [
        format!("document {false_one}: its bytes do not match its digest"),
        format!("document {huge}: the document takes {size} bytes; at most {MAX_DOCUMENT} fit"),
    ];
    assert_eq!(wrong(&there), expected);
}

#[test]
fn a_flood_of_bad_events_is_counted_but_not_listed_for_ever() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let there = folder.copy(&here, "there.job");
    Connection::open(there.path())
        .unwrap()
        .execute_batch(
            "with recursive n(i) as (select 1 union all select i + 1 from n where i < 3000)
             insert into event (id, device, seq, wire, chain)
             select randomblob(16), 'x', i, 'x', zeroblob(32) from n",
        )
        .unwrap();
    let merged = here.merge(&there).unwrap();
    assert_eq!(
        (merged.kept_out, merged.problems.len()),
        (3_000, MAX_PROBLEMS)
    );
}
