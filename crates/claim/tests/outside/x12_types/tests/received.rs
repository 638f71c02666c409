//! x12-types (crates.io) knows the segments of an 861 of version 005010, their order and most of their codes. Run by
//! hand: `cargo test` in this folder. Last run: see README.md beside the folder.

#[path = "../../../it/received_job.rs"]
#[allow(dead_code)]
mod received_job;

use claim::received::Received;
use claim::x12::{self, Envelope};
use received_job::{awkward, demo, ninety_seven, only};
use tally::Condition;
use x12_types::util::Parser;
use x12_types::v005010::{_861, Transmission};

fn envelope() -> Envelope {
    Envelope {
        from: "OSPREYSCHOOL".into(),
        to: "KITWORKS".into(),
        control: 41,
        trial: true,
    }
}

fn write(received: &Received) -> String {
    x12::write(received, &envelope()).unwrap()
}

fn segments(text: &str) -> Vec<Vec<&str>> {
    let all = text.strip_suffix('~').expect("the last segment is closed");
    all.split('~').map(|s| s.split('*').collect()).collect()
}

fn of<'a>(segments: &'a [Vec<&'a str>], name: &str) -> Vec<&'a [&'a str]> {
    let those = segments.iter().filter(|s| s[0] == name);
    those.map(|s| &s[1..]).collect()
}

/// Documents of every kind.
fn samples() -> Vec<Received> {
    let mut worse = demo();
    worse.counts("Q9", 4);
    for condition in [Condition::Damaged, Condition::Wrong, Condition::Wet] {
        worse.finds("B1", 3, condition);
        worse.finds("W1", 1, condition);
    }
    vec![
        demo().received(),
        worse.received(),
        awkward(),
        only(vec![ninety_seven()]),
    ]
}

/// The reader knows the order of segments in an 861 (005010): what stands out of order, it does not take.
#[test]
fn another_reader_takes_it_whole() {
    for received in samples() {
        let text = write(&received);
        let (rest, read) = Transmission::<_861>::parse(text.as_str()).unwrap();
        assert_eq!(rest, "");
        let read = &read.functional_group[0].segments[0];
        let all = segments(&text);
        assert_eq!(read.loop_rcd.len(), of(&all, "RCD").len());
        for detail in &read.loop_rcd {
            assert_eq!(detail.lin.len(), 1);
            assert!(!detail.pid.is_empty());
        }
        assert_eq!(read.r#ref.len(), of(&all, "REF").len());
        assert_eq!(read.dtm.len(), of(&all, "DTM").len());
        assert_eq!(read.loop_n1.len(), of(&all, "N1").len());
    }
    // The check can fail: DTM before REF.
    let text = write(&demo().received());
    let date = "DTM*050*20260306~";
    let moved = text
        .replace(date, "")
        .replace("REF*VN", &format!("{date}REF*VN"));
    assert_ne!(moved, text);
    let taken = Transmission::<_861>::parse(moved.as_str());
    assert!(taken.is_err() || !taken.unwrap().0.is_empty());
}
