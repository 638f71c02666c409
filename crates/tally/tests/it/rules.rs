//! What is refused, with the words a person would read.

use tally::{
    Condition, Draft, Event, How, MAX_AT, MAX_SEQ, MAX_WORDS, What, condition, count, note,
};

use crate::samples::{counted, event, id};

fn refusal<T: std::fmt::Debug>(result: Result<T, tally::Refusal>) -> String {
    result.expect_err("this is to be refused").to_string()
}

#[test]
fn nonsense_is_refused_with_the_field() {
    let long = "x".repeat(81);
    for (refused, why) in [
        (
            count("B1", None, -1, How::Piece),
            "quantity is -1; it must be from 0 to 1000000",
        ),
        (
            count("B1", None, 1_000_001, How::Piece),
            "quantity is 1000001; it must be from 0 to 1000000",
        ),
        (count(" ", None, 1, How::Piece), "mark is empty"),
        (count("B1", Some(""), 1, How::Piece), "pile is empty"),
        (
            count(&long, None, 1, How::Piece),
            "mark is 81 long; at most 80 fit",
        ),
        (
            count("B1\n", None, 1, How::Piece),
            "mark holds a line break or another control character",
        ),
        (
            condition("B1", 0, Condition::Bent, ""),
            "quantity is 0; it must be from 1 to 1000000",
        ),
        (note(None, ""), "words is empty"),
        (
            note(None, &"ö".repeat(MAX_WORDS + 1)),
            "words is 2001 long; at most 2000 fit",
        ),
    ] {
        assert_eq!(refusal(refused), why);
    }
}

#[test]
fn the_limits_themselves_are_allowed() {
    count(&"ß".repeat(80), Some("A"), 0, How::Piece).unwrap();
    count("B1", None, 1_000_000, How::Piece).unwrap();
    note(None, &"ö".repeat(MAX_WORDS)).unwrap();
    note(Some("B1"), "two lines\nare fine in a note").unwrap();
}

#[test]
fn an_event_needs_a_person_a_device_and_a_sane_number() {
    let draft = |who: &str, device: &str, at: i64| Draft {
        id: id(1),
        device: device.into(),
        at,
        who: who.into(),
        what: counted("B1", 1, &[]),
    };
    assert_eq!(refusal(draft("", "phone-1", 0).numbered(1)), "who is empty");
    assert_eq!(refusal(draft("Ines", "", 0).numbered(1)), "device is empty");
    let at = |at: i64| draft("Ines", "phone-1", at).numbered(1);
    assert_eq!(
        refusal(at(-1)),
        "at is -1; it must be from 0 to 253402300799999"
    );
    assert!(at(MAX_AT).is_ok() && at(i64::MAX).is_err());
    let numbered = |seq: u64| draft("Ines", "phone-1", 0).numbered(seq);
    assert!(numbered(0).is_err() && numbered(MAX_SEQ).is_ok() && numbered(u64::MAX).is_err());
}

/// The days against the Gregorian calendar's rule (ISO 8601; common knowledge): 2000 and 2024
/// were leap years, 1900 and 2026 not.
#[test]
fn days_are_days_of_the_calendar() {
    let due = |day: &str| {
        let due = Some(day.to_owned());
        let what = What::ShipmentNamed {
            shipment: "second ferry".into(),
            due,
        };
        let event = Event {
            what,
            ..event(1, counted("B1", 1, &[]))
        };
        event.write().map(drop)
    };
    for day in [
        "2026-03-31",
        "2024-02-29",
        "2000-02-29",
        "2026-12-31",
        "0001-01-01",
    ] {
        due(day).unwrap();
    }
    for day in [
        "",
        "2026-02-29",
        "1900-02-29",
        "2026-04-31",
        "2026-13-01",
        "2026-00-10",
        "2026-01-00",
        "2026-1-1",
        "26-01-01",
        "2026/01/01",
        "31-03-2026",
        "2026-01-01T00:00",
        "+026-01-01",
        "२०२६-01-01",
    ] {
        let why = format!("due is `{day}`; a day is written as 2026-03-31");
        assert_eq!(refusal(due(day)), why);
    }
}
