//! The wire form: frozen, read back, and hardened.

use proptest::prelude::*;
use tally::{Condition, Digest, Event, EventId, MAX_TOML, MAX_WIRE, Refusal, Unread, What};

use crate::samples::{any_log, corrected, counted, event};

/// The id and its moment are the example of RFC 9562, appendix A.6 (from memory, M):
/// 017F22E2-79B0-7CC3-98C4-DC0C0C07398F is 2022-02-22T19:22:22Z, 1645557742000 ms.
const ID: &str = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";

fn id() -> EventId {
    ID.parse().expect("the example is a UUID")
}

fn framed(what: What) -> Event {
    let (device, who) = ("phone-1".into(), "Ines".into());
    Event {
        id: id(),
        device,
        seq: 12,
        at: 1_645_557_742_000,
        who,
        what,
    }
}

/// SHA-256 of nothing (from memory, as in FIPS 180-4's examples).
const EMPTY: &str = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

/// The form on disk. If this fails, jobs of yesterday stop loading: add a version instead.
#[test]
fn frozen_bytes() {
    let digest = Digest::of(b"abc");
    let hex = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    let mark = || "B1".to_owned();
    let shipment = || "first ferry".to_owned();
    for (what, kind, body) in [
        (
            What::OrderSet {
                toml: "a = \"b\"\n".into(),
                family: None,
            },
            "order_set",
            r#"{"toml":"a = \"b\"\n"}"#.to_owned(),
        ),
        (
            What::ListAdded {
                digest,
                name: "load 1.xlsx".into(),
                shipment: Some(shipment()),
            },
            "list_added",
            format!(r#"{{"digest":"{hex}","name":"load 1.xlsx","shipment":"first ferry"}}"#),
        ),
        (
            What::ListCorrected {
                old: digest,
                digest: Digest::of(b""),
                name: "load 1 (2).xlsx".into(),
            },
            "list_corrected",
            format!(r#"{{"old":"{hex}","digest":"{EMPTY}","name":"load 1 (2).xlsx"}}"#),
        ),
        (
            What::ListSentBy {
                list: digest,
                sender: "the office".into(),
            },
            "list_sent_by",
            format!(r#"{{"list":"{hex}","sender":"the office"}}"#),
        ),
        (
            What::CodesTaken {
                digest,
                name: "codes.csv".into(),
            },
            "codes_taken",
            format!(r#"{{"digest":"{hex}","name":"codes.csv"}}"#),
        ),
        (
            What::Overruled {
                list: digest,
                row: "12".into(),
                mark: Some("B1".into()),
                words: Some("GS-60 stake".into()),
            },
            "overruled",
            format!(r#"{{"list":"{hex}","row":"12","mark":"B1","words":"GS-60 stake"}}"#),
        ),
        (
            What::ListDropped { digest },
            "list_dropped",
            format!(r#"{{"digest":"{hex}"}}"#),
        ),
        (
            What::Overruled {
                list: digest,
                row: "12".into(),
                mark: None,
                words: None,
            },
            "overruled",
            format!(r#"{{"list":"{hex}","row":"12","mark":null}}"#),
        ),
        (
            What::Counted {
                mark: mark(),
                pile: Some("C".into()),
                quantity: 26,
                replaces: vec![id()],
                how: tally::How::Piece,
            },
            "counted",
            format!(r#"{{"mark":"B1","pile":"C","quantity":26,"replaces":["{ID}"]}}"#),
        ),
        (
            What::Conditioned {
                mark: mark(),
                quantity: 2,
                condition: Condition::Bent,
                words: "½ in. off".into(),
            },
            "conditioned",
            r#"{"mark":"B1","quantity":2,"condition":"bent","words":"½ in. off"}"#.to_owned(),
        ),
        (
            What::Noted {
                mark: None,
                words: "gate is locked".into(),
            },
            "noted",
            r#"{"mark":null,"words":"gate is locked"}"#.to_owned(),
        ),
        (
            What::ShipmentArrived {
                shipment: shipment(),
            },
            "shipment_arrived",
            r#"{"shipment":"first ferry"}"#.to_owned(),
        ),
        (
            What::ShipmentNamed {
                shipment: shipment(),
                due: Some("2026-04-02".into()),
            },
            "shipment_named",
            r#"{"shipment":"first ferry","due":"2026-04-02"}"#.to_owned(),
        ),
        (
            What::Corrected {
                of: vec![id()],
                why: "slip".into(),
            },
            "corrected",
            format!(r#"{{"of":["{ID}"],"why":"slip"}}"#),
        ),
    ] {
        let event = framed(what);
        let text = format!(
            r#"{{"v":1,"id":"{ID}","device":"phone-1","seq":12,"at":1645557742000,"who":"Ines","kind":"{kind}","body":{body}}}"#
        );
        assert_eq!(event.write().unwrap(), text);
        assert_eq!(Event::read(&text).unwrap(), event);
    }
    let words = [
        Condition::Damaged,
        Condition::Bent,
        Condition::Wet,
        Condition::Wrong,
    ];
    let words = serde_json::to_string(&words).unwrap();
    assert_eq!(words, r#"["damaged","bent","wet","wrong"]"#);
}

/// A kind from the future, with a spelling that a parser would tidy away.
#[test]
fn a_newer_kind_is_kept_to_the_byte() {
    let text = format!(
        r#"{{"v":1,"id":"{ID}","device":"phone-1","seq":12,"at":1645557742000,"who":"Ines","kind":"weighed","body":{{"z":1.50,"a":[1e3,  "\u00fc"],"a":18446744073709551616}}}}"#
    );
    let event = Event::read(&text).unwrap();
    assert!(matches!(&event.what, What::Other { v: 1, kind, .. } if kind == "weighed"));
    assert_eq!(event.write().unwrap(), text);
}

/// A known kind in a version from the future may mean something else, so it counts for nothing.
#[test]
fn a_newer_version_is_kept_to_the_byte() {
    let text = framed(counted("B1", 3, &[]))
        .write()
        .unwrap()
        .replacen("\"v\":1", "\"v\":2", 1);
    let event = Event::read(&text).unwrap();
    assert!(matches!(&event.what, What::Other { v: 2, kind, .. } if kind == "counted"));
    assert_eq!(event.write().unwrap(), text);
}

/// A field that was added later, inside or outside the body, does not stop the reading.
#[test]
fn added_fields_are_passed_over() {
    let text = framed(counted("B1", 3, &[])).write().unwrap();
    let text = text.replacen("{\"v\"", "{\"chain\":[1],\"v\"", 1);
    let text = text.replacen("\"mark\"", "\"photo\":{\"x\":1},\"mark\"", 1);
    assert_eq!(Event::read(&text).unwrap(), framed(counted("B1", 3, &[])));
}

#[test]
fn hostile_texts_are_refused() {
    let good = event(1, counted("B1", 3, &[])).write().unwrap();
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let swapped = |from: &str, to: &str| {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "the sample holds {from}");
        text
    };
    for text in [
        String::new(),
        "null".into(),
        "{}".into(),
        "\u{feff}{}".into(),
        good[..good.len() - 1].to_owned(),
        format!("{good}{good}"),
        deep.clone(),
        swapped("\"seq\":1", "\"seq\":0"),
        swapped("\"seq\":1", "\"seq\":-1"),
        swapped("\"seq\":1", "\"seq\":1.0"),
        swapped("\"seq\":1", "\"seq\":18446744073709551615"),
        swapped("\"seq\":1", "\"seq\":1,\"seq\":2"),
        swapped("\"at\":1", "\"at\":-1"),
        swapped("Ines", ""),
        swapped("Ines", "In\\u0000es"),
        swapped("\"quantity\":3", "\"quantity\":-3"),
        swapped("\"quantity\":3", "\"quantity\":1e400"),
        swapped("\"quantity\":3", "\"quantity\":\"3\""),
        swapped("\"quantity\":3,", ""),
        swapped("\"mark\":\"B1\"", "\"mark\":\"\""),
        swapped("\"mark\":\"B1\"", &format!("\"mark\":{deep}")),
        swapped("\"replaces\":[]", "\"replaces\":[\"x\"]"),
        swapped("00000000-0000", "zzzzzzzz-0000"),
        swapped("\"v\":1", "\"v\":-1"),
        swapped(
            "\"kind\":\"counted\"",
            &format!("\"kind\":\"{}\"", "k".repeat(81)),
        ),
    ] {
        assert!(
            Event::read(&text).is_err(),
            "{}",
            &text[..text.len().min(300)]
        );
    }
    let big = swapped("Ines", &"I".repeat(MAX_WIRE));
    assert!(matches!(
        Event::read(&big),
        Err(Unread::Refused(Refusal::TooBig(_)))
    ));
}

/// The biggest order fits, even when JSON has to escape each of its bytes.
#[test]
fn the_biggest_order_fits_on_the_wire() {
    let mut toml = "\u{1}".repeat(MAX_TOML);
    let order = |toml: &str| {
        framed(What::OrderSet {
            toml: toml.into(),
            family: None,
        })
    };
    let text = order(&toml).write().unwrap();
    assert_eq!(Event::read(&text).unwrap(), order(&toml));
    toml.push('x');
    assert!(order(&toml).write().is_err());
}

#[test]
fn too_many_references_are_refused() {
    let many: Vec<u128> = (0..1_001).collect();
    assert!(framed(corrected(&many[..1_000])).write().is_ok());
    assert!(framed(corrected(&many)).write().is_err());
    assert!(framed(corrected(&[])).write().is_err());
}

proptest! {
    #[test]
    fn what_is_written_is_read_back(log in any_log()) {
        for event in log {
            prop_assert_eq!(Event::read(&event.write().unwrap()).unwrap(), event);
        }
    }

    #[test]
    fn reading_never_panics(text in any::<String>()) {
        let _ = Event::read(&text);
    }

    /// A good event with one byte changed or cut: read or refused; what is read is written again.
    #[test]
    fn a_mangled_event_never_panics(at in 0_usize..200, byte in any::<u8>(), cut in any::<bool>()) {
        let mut bytes = event(1, counted("B1", 3, &[7])).write().unwrap().into_bytes();
        let at = at % bytes.len();
        if cut { bytes.truncate(at) } else { bytes[at] = byte }
        if let Ok(text) = String::from_utf8(bytes)
            && let Ok(event) = Event::read(&text)
        {
            event.write().unwrap();
        }
    }
}
