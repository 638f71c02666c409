//! `tallyard verify`: what it says of a whole job, of one that was changed, and of a noted head.

use std::fs;

use rusqlite::Connection;
use serde_json::{Value, json};

use crate::program::{Place, Ran};
use crate::schema;

const JOB: &str = "demo.tallyard";

/// Runs SQL on the job as somebody would who takes the triggers off first and puts them back.
fn tamper(place: &Place, sql: &str) {
    let connection = Connection::open(place.path(JOB)).unwrap();
    let triggers: Vec<(String, String)> = connection
        .prepare("select name, sql from sqlite_schema where type = 'trigger'")
        .unwrap()
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    for (name, _) in &triggers {
        let drop = format!("drop trigger {name}");
        connection.execute_batch(&drop).unwrap();
    }
    connection.execute_batch(sql).unwrap();
    for (_, trigger) in &triggers {
        connection.execute_batch(trigger).unwrap();
    }
}

fn head(place: &Place) -> String {
    let verified = place.json(&["verify", JOB, "--json"]);
    verified["head"].as_str().unwrap().to_owned()
}

/// Runs the command on a job with which not all is well; returns its JSON.
fn wrong(place: &Place, arguments: &[&str]) -> Value {
    let Ran { status, out, err } = place.run(arguments);
    assert_eq!(status, Some(1), "{out}");
    assert_eq!(
        err,
        "tallyard: demo.tallyard: not all is well with this job\n"
    );
    let verified = serde_json::from_str(&out).unwrap();
    schema::check("verify", &verified);
    verified
}

#[test]
fn a_whole_job_is_said_to_be_whole() {
    let place = Place::with_demo_job();
    let verified = place.json(&["verify", JOB, "--json"]);
    schema::check("verify", &verified);
    let head = head(&place);
    // The demo's 19 events, and its packing list as a document.
    let bytes = fs::metadata(place.path("packing-list.xlsx")).unwrap().len();
    let expected = json!({
        "well": true, "events": 19, "documents": 1, "bytes": bytes, "head": head,
        "noted": null, "absent": [], "faults": 0, "wrong": []
    });
    assert_eq!(verified, expected);
    assert_eq!(
        place.ok(&["verify", JOB]),
        format!(
            "19 events and 1 document of {bytes} bytes read.\n\
             The chain of events fits, and each document its digest.\n\
             Head of the log: {head}\n"
        )
    );
}

/// As a head is typed from a paper: in groups, in capitals.
#[test]
fn the_log_goes_on_from_a_noted_head() {
    let place = Place::with_demo_job();
    let noted = head(&place).to_uppercase();
    let (left, right) = noted.split_at(32);
    let typed = format!("{left} {right}");
    let said = place.ok(&["verify", JOB, "--head", &typed]);
    let line = "The noted head is in this log: the 19 events it was noted for are unchanged, and none came after.\n";
    assert!(said.contains(line), "{said}");

    let mut job = store::Job::open(&place.path(JOB)).unwrap();
    let device = job.writer().unwrap();
    let what = tally::What::Noted {
        mark: None,
        words: "the ferry left at noon".into(),
    };
    let (id, at, who) = (store::fresh_id(), 1, "Noor".to_owned());
    job.append(tally::Draft {
        id,
        device,
        at,
        who,
        what,
    })
    .unwrap();
    drop(job);
    let verified = place.json(&["verify", JOB, "--head", &typed, "--json"]);
    schema::check("verify", &verified);
    let expected = json!({"head": noted.to_lowercase(), "held": true, "events": 19, "since": 1});
    assert_eq!(verified["noted"], expected);

    tamper(&place, "delete from event where row > 12");
    place.ok(&["verify", JOB]);
    let verified = wrong(&place, &["verify", JOB, "--head", &typed, "--json"]);
    assert_eq!(verified["noted"]["held"], false);
    assert_eq!(
        (&verified["well"], &verified["faults"]),
        (&json!(false), &json!(0))
    );
    let said = place.run(&["verify", JOB, "--head", &typed]).out;
    assert!(
        said.contains("WRONG: the noted head is not in this log"),
        "{said}"
    );
}

#[test]
fn what_was_changed_is_named() {
    let place = Place::with_demo_job();
    tamper(
        &place,
        r#"update event set wire = replace(wire, '"quantity":13', '"quantity":15');
           update document set bytes = cast('nothing' as blob)"#,
    );
    let verified = wrong(&place, &["verify", JOB, "--json"]);
    // The order of the demo's log: its ninth event counts 13 of R1.
    let expected = "event row 9: from here on the chain no longer fits";
    let first = verified["wrong"][0].as_str().unwrap();
    assert!(first.starts_with(expected), "{first}");
    let said = place.run(&["verify", JOB]).out;
    assert!(
        said.contains("\nWRONG, 2 faults:\n  event row 9: ")
            && said.contains("its bytes do not match its digest\n"),
        "{said}"
    );
}

#[test]
fn a_document_that_is_not_there_is_said_and_is_no_fault() {
    let place = Place::with_demo_job();
    tamper(&place, "delete from document");
    let list = tally::Digest::of(&fs::read(place.path("packing-list.xlsx")).unwrap());
    let verified = place.json(&["verify", JOB, "--json"]);
    schema::check("verify", &verified);
    assert_eq!(verified["absent"], json!([list.to_string()]));
    let said = place.ok(&["verify", JOB]);
    let line = format!("Not in this copy, though an event names it: document {list}\n");
    assert!(said.contains(&line), "{said}");
}

#[test]
fn a_head_that_is_none_is_wrong_use() {
    let place = Place::with_demo_job();
    for head in ["", "abc", &"g".repeat(64), &"a".repeat(65)] {
        let ran = place.run(&["verify", JOB, "--head", head]);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{head}");
        assert!(
            ran.err.contains("a head is 64 hexadecimal digits"),
            "{}",
            ran.err
        );
    }
    place.refuses(
        &["verify", "order.toml"],
        "order.toml: this is not a job file: it has another form altogether",
    );
}
