//! Corrections, and corrections of corrections.

use tally::{Event, Fate, Knew, Refusal, State, What, correct, recount};

use crate::samples::{corrected, counted, event, id};

fn good(events: &[Event]) -> i64 {
    State::fold(events).on_hand("B1").good()
}

#[test]
fn undo_and_undo_of_undo() {
    let mut log = vec![event(1, counted("B1", 26, &[]))];
    assert_eq!(good(&log), 26);
    log.push(event(2, corrected(&[1])));
    assert_eq!(good(&log), 0);
    assert!(!State::fold(&log).on_hand("B1").is_counted());
    log.push(event(3, corrected(&[2])));
    assert_eq!(good(&log), 26);
    log.push(event(4, corrected(&[3])));
    assert_eq!(good(&log), 0);
}

#[test]
fn taking_back_a_recount_brings_back_the_first_count() {
    let mut log = vec![
        event(1, counted("B1", 26, &[])),
        event(2, counted("B1", 24, &[1])),
    ];
    assert_eq!(good(&log), 24);
    log.push(event(3, corrected(&[2])));
    assert_eq!(good(&log), 26);
}

/// Whoever counts a third time counts what the first and the second counted.
#[test]
fn a_second_recount_takes_the_place_of_all_before() {
    let mut log = vec![
        event(1, counted("B1", 26, &[])),
        event(2, counted("B1", 2, &[1])),
        event(3, counted("B1", 24, &[2])),
        event(4, counted("B1", 25, &[3])),
    ];
    assert_eq!(good(&log[..3]), 24);
    assert_eq!(good(&log), 25);
    // One in between taken back, and the last still stands for all.
    log.push(event(5, corrected(&[2])));
    assert_eq!(good(&log), 25);
    log.push(event(6, corrected(&[4])));
    assert_eq!(good(&log), 24);
    log.push(event(7, corrected(&[3])));
    assert_eq!(good(&log), 26);
}

#[test]
fn two_who_take_back_the_same_must_both_be_taken_back() {
    let mut log = vec![
        event(1, counted("B1", 26, &[])),
        event(2, corrected(&[1])),
        event(3, corrected(&[1])),
        event(4, corrected(&[3])),
    ];
    assert_eq!(good(&log), 0);
    assert_eq!(
        State::fold(&log).fate(id(1)),
        Some(Fate::Void { by: id(2) })
    );
    log.push(event(5, corrected(&[2])));
    assert_eq!(good(&log), 26);
}

#[test]
fn no_event_reaches_into_the_future_or_itself() {
    let circle = [
        event(1, counted("B1", 3, &[2])),
        event(2, counted("B1", 4, &[1])),
    ];
    assert_eq!(good(&circle), 4);
    assert_eq!(good(&[event(1, counted("B1", 3, &[1]))]), 3);
    assert_eq!(good(&[event(1, counted("B1", 3, &[77]))]), 3);
}

/// Two phones hold the same number; the id settles who came later, the same on each.
#[test]
fn one_number_twice_is_settled_by_the_id() {
    let first = event(1, counted("B1", 3, &[]));
    let mut second = event(2, counted("B1", 5, &[1]));
    second.seq = 1;
    second.device = "phone-2".into();
    assert!(first.order() < second.order());
    assert_eq!(good(&[first.clone(), second.clone()]), 5);
    assert_eq!(good(&[second, first]), 5);
}

#[test]
fn recount_replaces_its_own_pile_only() {
    let pile = |pile: &str, quantity| What::Counted {
        mark: "B1".into(),
        pile: Some(pile.into()),
        quantity,
        replaces: vec![],
        how: tally::How::Piece,
    };
    let mut log = vec![
        event(1, pile("A", 5)),
        event(2, pile("A", 2)),
        event(3, pile("C", 4)),
    ];
    let knew = Knew {
        upto: 3,
        device: "desk",
    };
    let again = recount(
        &State::fold(&log),
        knew,
        "B1",
        Some("A"),
        6,
        tally::How::Piece,
    )
    .unwrap();
    let expected = What::Counted {
        mark: "B1".into(),
        pile: Some("A".into()),
        quantity: 6,
        replaces: vec![id(1), id(2)],
        how: tally::How::Piece,
    };
    assert_eq!(again, expected);
    log.push(event(4, again));
    assert_eq!(good(&log), 10);
}

/// Someone out of reach counts a pile anew: what another phone counted there meanwhile was not in what they saw.
#[test]
fn recount_leaves_what_the_person_could_not_know() {
    let more = |seq, device: &str| Event {
        device: device.into(),
        ..event(seq, counted("B1", 5, &[]))
    };
    let log = [
        more(1, "theirs"),
        more(2, "mine"),
        more(3, "theirs"),
        more(4, "mine"),
    ];
    let replaced = |upto, device| {
        let knew = Knew { upto, device };
        match recount(&State::fold(&log), knew, "B1", None, 20, tally::How::Piece).unwrap() {
            What::Counted { replaces, .. } => replaces,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(replaced(2, "mine"), [id(1), id(2), id(4)]);
    assert_eq!(replaced(0, "mine"), [id(2), id(4)]);
    assert_eq!(replaced(2, "another"), [id(1), id(2)]);
    assert_eq!(replaced(4, "another"), [id(1), id(2), id(3), id(4)]);
}

#[test]
fn only_what_stands_can_be_taken_back() {
    let log = [event(1, counted("B1", 26, &[])), event(2, corrected(&[1]))];
    let state = State::fold(&log);
    assert_eq!(correct(&state, id(1), ""), Err(Refusal::Void(id(1))));
    assert_eq!(correct(&state, id(9), ""), Err(Refusal::Unknown(id(9))));
    let undo = What::Corrected {
        of: vec![id(2)],
        why: "it was right".into(),
    };
    assert_eq!(correct(&state, id(2), "it was right"), Ok(undo));
}
