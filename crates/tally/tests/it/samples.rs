//! Invented events for the tests.

use proptest::collection::vec;
use proptest::prelude::*;
use tally::{Condition, Digest, Draft, Event, EventId, How, What};
use uuid::Uuid;

/// An id that sorts by its number.
pub fn id(number: u128) -> EventId {
    EventId(Uuid::from_u128(number))
}

/// An event whose id, number and time are all `seq`.
pub fn event(seq: u64, what: What) -> Event {
    let draft = Draft {
        id: id(seq.into()),
        device: "phone-1".into(),
        at: seq as i64,
        who: "Ines".into(),
        what,
    };
    draft.numbered(seq).expect("a sample within the limits")
}

pub fn counted(mark: &str, quantity: i64, replaces: &[u128]) -> What {
    What::Counted {
        mark: mark.into(),
        pile: None,
        quantity,
        replaces: replaces.iter().copied().map(id).collect(),
        how: How::Piece,
    }
}

pub fn corrected(of: &[u128]) -> What {
    What::Corrected {
        of: of.iter().copied().map(id).collect(),
        why: "slip".into(),
    }
}

/// Any log: few ids, marks and names, so that events meet; references point anywhere, also to
/// themselves, to later events and to none.
pub fn any_log() -> impl Strategy<Value = Vec<Event>> {
    vec((1..12_u64, 0..3_usize, any_what()), 0..14).prop_map(|drafts| {
        let mut log = Vec::new();
        for (place, (seq, device, what)) in drafts.into_iter().enumerate() {
            let device = ["phone-1", "phone-2", "bench"][device].to_owned();
            let id = id(place as u128);
            log.push(Event {
                id,
                device,
                seq,
                at: seq as i64,
                who: "Ines".into(),
                what,
            });
        }
        log
    })
}

fn any_what() -> impl Strategy<Value = What> {
    let mark = prop::sample::select(vec!["B1", "B2", "H4"]).prop_map(str::to_owned);
    let pile = prop::option::of(prop::sample::select(vec!["A", "C"]).prop_map(str::to_owned));
    let ids = vec((0..16_u128).prop_map(id), 1..4);
    let digest = prop::sample::select(vec![
        Digest::of(b"one"),
        Digest::of(b"two"),
        Digest::of(b"three"),
    ]);
    let shipment = prop::sample::select(vec!["1", "2"]).prop_map(str::to_owned);
    let condition = prop::sample::select(vec![
        Condition::Damaged,
        Condition::Bent,
        Condition::Wet,
        Condition::Wrong,
    ]);
    prop_oneof![
        4 => (mark.clone(), pile.clone(), 0..50_i64, prop::option::of(ids.clone())).prop_map(
            |(mark, pile, quantity, replaces)| {
                let replaces = replaces.unwrap_or_default();
                What::Counted { mark, pile, quantity, replaces, how: How::Piece }
            }
        ),
        2 => (mark.clone(), pile, 0..50_i64, ids.clone()).prop_map(|(mark, pile, quantity, checks)| {
            What::CountedAgain { mark, pile, quantity, checks, how: How::Piece }
        }),
        4 => ids.prop_map(|of| What::Corrected { of, why: String::new() }),
        2 => (mark.clone(), 1..9_i64, condition).prop_map(|(mark, quantity, condition)| {
            What::Conditioned { mark, quantity, condition, words: String::new() }
        }),
        1 => "[a-z]{1,8}".prop_map(|toml| What::OrderSet { toml, family: None }),
        1 => digest.clone().prop_map(|digest| What::ListAdded {
            digest,
            name: "list.csv".into(),
            shipment: None
        }),
        3 => (digest.clone(), digest.clone()).prop_map(|(old, digest)| What::ListCorrected {
            old,
            digest,
            name: "again.csv".into(),
        }),
        1 => digest.clone().prop_map(|list| What::ListSentBy { list, sender: "The office".into() }),
        1 => digest.clone().prop_map(|digest| What::CodesTaken { digest, name: "codes.csv".into() }),
        1 => digest.clone().prop_map(|digest| What::ListDropped { digest }),
        1 => (digest, prop::option::of(mark.clone())).prop_map(|(list, mark)| {
            What::Overruled { list, row: "7".into(), mark, words: None }
        }),
        1 => mark.clone().prop_map(|mark| What::Noted { mark: Some(mark), words: "seen".into() }),
        1 => shipment.clone().prop_map(|shipment| What::ShipmentArrived { shipment }),
        1 => shipment.clone().prop_map(|shipment| What::ShipmentNamed { shipment, due: None }),
        2 => (mark.clone(), 1..9_i64, prop::option::of(shipment.clone())).prop_map(|(mark, quantity, shipment)| {
            let answer = tally::Answer::Sends { quantity, on: None, shipment };
            let point = tally::Point::of(tally::About::Short, &mark);
            What::Answered(tally::Answered { point, answer, words: String::new() })
        }),
        1 => mark.clone().prop_map(|mark| {
            let point = tally::Point::of(tally::About::Short, &mark);
            What::PointClosed(tally::PointClosed { point, pieces: None, words: String::new() })
        }),
        1 => prop::option::of(1..9_i64).prop_map(|days| What::Agreed(tally::Agreed {
            rule: "a rule".into(),
            shipment: None,
            by: days.map(tally::By::Days),
            starts: None,
            words: String::new(),
        })),
        2 => (0..3_i64, prop::option::of(1..90_i64)).prop_map(|(people, minutes)| match minutes {
            None => What::CrewDay(tally::CrewDay {
                day: "2026-04-11".into(),
                people,
                minutes: 480,
                called: false,
                words: String::new(),
            }),
            Some(minutes) => What::Worked(tally::Worked {
                stage: "posts".into(),
                person_minutes: (minutes > 9).then_some(minutes),
                done: people > 1,
            }),
        }),
        1 => Just(What::Other { v: 2, kind: "weighed".into(), body: "{\"n\": 1.50}".into() }),
    ]
}
