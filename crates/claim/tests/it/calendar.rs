//! The calendar file: its text by RFC 5545 (from memory), and read by a parser that
//! is not ours. Two more parsers read it in `tests/calendar/run`.

use claim::{Act, Agreed, Binds, Calendar, CalendarFile, Done, Facts, RuleSets, Start, Term, due};
use icalendar::{CalendarComponent, Component, DatePerhapsTime};

use crate::due::{day, facts};

const SHIPMENT: &str = "2; bows, rails\\ends and Bögen – 弓";

fn calendar(sequence: u64) -> Calendar<'static> {
    Calendar {
        job: "osprey-1",
        made_at: 1_795_608_000_123,
        sequence,
    }
}

fn delivered(on: &str) -> Facts {
    facts(&["us-motor", "ucc"], &[(Start::Delivery, on)])
}

fn file(facts: &Facts, agreed: &[Agreed], today: &str) -> CalendarFile {
    let all = due(RuleSets::built_in(), facts, agreed, day(today));
    calendar(42).file(&[(SHIPMENT, all)]).unwrap()
}

fn events(text: &str) -> Vec<icalendar::Event> {
    let calendar: icalendar::Calendar = text.parse().unwrap();
    let events = calendar.components.into_iter().map(|c| match c {
        CalendarComponent::Event(event) => event,
        other => panic!("{other:?}"),
    });
    events.collect()
}

fn find<'a>(events: &'a [icalendar::Event], rule: &str) -> &'a icalendar::Event {
    let end = format!(".{rule}@tallyard.invalid");
    let found: Vec<_> = events
        .iter()
        .filter(|e| e.get_uid().unwrap().ends_with(&end))
        .collect();
    assert_eq!(found.len(), 1, "{rule}");
    found[0]
}

#[test]
fn another_parser_reads_the_days_the_words_and_the_alarms() {
    let file = file(&delivered("2026-11-25"), &[], "2026-11-25");
    let events = events(&file.text);
    assert_eq!(events.len(), 5);
    let event = find(&events, "us-motor.hidden-harm.0");
    // The fifth business day after Wed 2026-11-25: computed with the PyPI package `holidays` 0.109 (D).
    assert_eq!(
        event.get_start(),
        Some(DatePerhapsTime::Date(
            chrono::NaiveDate::from_ymd_opt(2026, 12, 3).unwrap()
        ))
    );
    assert_eq!(
        event.get_summary().unwrap(),
        format!(
            "Last day: Tell the carrier of harm that could not be seen at delivery, and ask for an inspection (shipment \
             {SHIPMENT})"
        )
    );
    let description = event.get_description().unwrap();
    assert!(
        description.contains("Source: NMFC item 300135"),
        "{description}"
    );
    assert!(description.ends_with(claim::NO_ADVICE), "{description}");
    assert!(
        !description.contains("days left"),
        "it would be wrong tomorrow"
    );
    assert_eq!(event.property_value("SEQUENCE"), Some("42"));
    assert_eq!(event.property_value("DTSTAMP"), Some("20261125T120000Z"));
    assert_eq!(
        triggers(event),
        ["-P6DT15H", "-PT15H"],
        "09:00 a week and a day before"
    );
    let claim = find(&events, "us-motor.claim.0");
    assert_eq!(
        triggers(claim),
        ["-P29DT15H", "-P6DT15H", "-PT15H"],
        "and thirty days before"
    );
}

fn triggers(event: &icalendar::Event) -> Vec<&str> {
    let alarms = event.components().iter();
    alarms
        .map(|a| a.property_value("TRIGGER").unwrap())
        .collect()
}

#[test]
fn what_the_carrier_owes_rings_the_day_after() {
    let facts = facts(&["us-motor"], &[(Start::ClaimReceived, "2026-12-01")]);
    let events = events(&file(&facts, &[], "2026-12-02").text);
    let event = find(&events, "us-motor.acknowledgement.0");
    assert!(
        event
            .get_summary()
            .unwrap()
            .starts_with("The carrier's last day: ")
    );
    assert_eq!(triggers(event), ["P1DT9H"]);
}

#[test]
fn every_line_keeps_to_75_octets_and_ends_in_crlf() {
    let text = file(&delivered("2026-11-25"), &[], "2026-11-25").text;
    let lines: Vec<&str> = text.strip_suffix("\r\n").unwrap().split("\r\n").collect();
    assert!(
        lines
            .iter()
            .all(|l| l.len() <= 75 && !l.contains(['\r', '\n']))
    );
    assert!(lines.iter().any(|l| l.len() == 75) && lines.iter().any(|l| l.starts_with(' ')));
    assert_eq!(
        lines[..3],
        [
            "BEGIN:VCALENDAR",
            "VERSION:2.0",
            "PRODID:-//Tallyard//claim dates//EN"
        ]
    );
    // RFC 5545, 3.3.11: these are escaped, a colon is not.
    let whole = text.replace("\r\n ", "");
    assert!(whole.contains("(shipment 2\\; bows\\, rails\\\\ends and Bögen – 弓)"));
    let uid = "UID:osprey-1.2_3b_20bows_2c_20rails_5cends_20and_20B_c3_b6gen_20_e2_80_93_20_e5_bc_93.us-motor.claim.0@";
    assert!(whole.contains(uid));
}

#[test]
fn no_line_is_folded_inside_a_character_wherever_it_falls() {
    let facts = delivered("2026-11-25");
    let all = due(RuleSets::built_in(), &facts, &[], day("2026-11-25"));
    for pad in 0..80 {
        let shipment = format!("{}{}", "x".repeat(pad), "弓".repeat(60));
        let text = calendar(1).file(&[(&shipment, all.clone())]).unwrap().text;
        assert!(text.split("\r\n").all(|l| l.len() <= 75), "{pad}");
        assert!(
            text.replace("\r\n ", "")
                .contains(&format!("(shipment {shipment})")),
            "{pad}"
        );
    }
}

#[test]
fn the_same_act_keeps_its_uid_when_its_day_changes_and_no_two_share_one() {
    let uids = |text: &str| -> Vec<String> {
        let mut uids: Vec<String> = events(text)
            .iter()
            .map(|e| e.get_uid().unwrap().to_owned())
            .collect();
        uids.sort();
        uids
    };
    let before = uids(&file(&delivered("2026-11-25"), &[], "2026-11-25").text);
    let after = uids(&file(&delivered("2026-11-30"), &[], "2026-12-01").text);
    assert_eq!(before, after);
    let mut once = before.clone();
    once.dedup();
    assert_eq!(once, before);
    // Names that would run into each other if odd characters were dropped.
    let uid = |job: &'static str, shipment: &'static str| {
        let facts = delivered("2026-11-25");
        let all = due(RuleSets::built_in(), &facts, &[], day("2026-11-25"));
        let calendar = Calendar { job, ..calendar(1) };
        uids(&calendar.file(&[(shipment, all.clone())]).unwrap().text)[0].clone()
    };
    let different = [
        uid("a", "1 2"),
        uid("a", "1_2"),
        uid("a", "12"),
        uid("a.1", "2"),
        uid("a", "1.2"),
        uid("a", "1_202"),
    ];
    for (at, one) in different.iter().enumerate() {
        assert!(!different[at + 1..].contains(one), "{one}");
    }
}

#[test]
fn what_is_done_has_no_alarm_and_what_has_no_day_is_left_out_and_named() {
    let mut facts = delivered("2026-11-25");
    facts.done = vec![Done {
        act: Act::NoteOnReceipt,
        day: day("2026-11-25"),
    }];
    let own = [Agreed {
        rule: "ucc.reject".into(),
        term: Term::Day(day("2026-11-30")),
        starts: None,
        binds: Binds::OwnTarget,
        words: "before the crew goes home".into(),
    }];
    let file = file(&facts, &own, "2026-11-26");
    let events = events(&file.text);
    let done = find(&events, "us-motor.note-on-receipt.0");
    assert!(done.get_summary().unwrap().starts_with("Done: "));
    assert!(done.components().is_empty());
    let own = find(&events, "ucc.reject.0.own");
    assert!(own.get_summary().unwrap().starts_with("Your own target: "));
    assert!(
        own.get_description()
            .unwrap()
            .starts_with("You set Mon 30 Nov 2026 yourself; it binds nobody.\n")
    );
    assert!(file.left_out.contains(&format!(
        "Tell the seller what is short, over, harmed or wrong (shipment {SHIPMENT})"
    )));
    assert!(
        !file
            .left_out
            .iter()
            .any(|t| t.starts_with("Say that you do not take goods"))
    );
}

#[test]
fn hostile_names_stay_text() {
    let facts = delivered("2026-11-25");
    let all = due(RuleSets::built_in(), &facts, &[], day("2026-11-25"));
    let calendar = Calendar {
        job: "",
        made_at: 0,
        sequence: u64::MAX,
    };
    let shipment = "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\u{0}\u{7}\rATTACH:file:///etc/passwd\u{2028}";
    let of = [(shipment, all)];
    let text = calendar.file(&of).unwrap().text;
    assert!(!text.contains("\r\nEND:VEVENT\r\nBEGIN:VEVENT\u{0}") && !text.contains("\r\nATTACH"));
    let events = events(&text);
    assert_eq!(events.len(), 5);
    assert!(
        events[0]
            .get_summary()
            .unwrap()
            .ends_with("(shipment x\nEND:VEVENT\nBEGIN:VEVENT\nATTACH:file:///etc/passwd\u{2028})")
    );
    assert_eq!(events[0].property_value("SEQUENCE"), Some("2147483647"));
    assert!(
        Calendar {
            made_at: i64::MAX,
            ..calendar
        }
        .file(&of)
        .is_err()
    );
}

#[test]
fn the_same_days_give_the_same_bytes() {
    let facts = delivered("2026-11-25");
    assert_eq!(
        file(&facts, &[], "2026-11-25"),
        file(&facts, &[], "2026-11-25")
    );
}

/// Several shipments are one calendar, with as many entries as each has by itself.
#[test]
fn several_shipments_stand_in_one_file() {
    let facts = delivered("2026-11-25");
    let all = due(RuleSets::built_in(), &facts, &[], day("2026-11-25"));
    let file = |of: &[(&str, Vec<claim::Due<'_>>)]| calendar(1).file(of).unwrap();
    let one = file(&[("Load 1", all.clone())]);
    let both = file(&[("Load 1", all.clone()), ("Load 2", all)]);
    assert_eq!(events(&one.text).len(), one.entries);
    assert_eq!(
        (events(&both.text).len(), both.entries),
        (2 * one.entries, 2 * one.entries)
    );
    assert_eq!(both.text.matches("BEGIN:VCALENDAR").count(), 1);
    assert_eq!(both.left_out.len(), 2 * one.left_out.len());
    let events = events(&both.text);
    let mut named: Vec<&str> = events.iter().map(|e| e.get_uid().unwrap()).collect();
    named.sort_unstable();
    named.dedup();
    assert_eq!(named.len(), both.entries);
    assert_eq!(file(&[]).entries, 0);
}
