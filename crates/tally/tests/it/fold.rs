//! The fold: a function of the set of events.

use proptest::prelude::*;
use tally::{Agreement, Arrival, Digest, Event, Fate, Shipment, State, What};

use crate::samples::{any_log, corrected, counted, event, id};

proptest! {
    /// Any order of arrival and any repetition give the same state.
    #[test]
    fn order_and_repetition_do_not_matter(
        (log, mixed) in any_log().prop_flat_map(|log| {
            let twice: Vec<Event> = log.iter().chain(&log).cloned().collect();
            (Just(log), Just(twice).prop_shuffle())
        }),
        cut in 0_usize..30,
    ) {
        let once = State::fold(&log);
        prop_assert_eq!(&once, &State::fold(&mixed));
        // All of the log and some of it again.
        let again: Vec<Event> = mixed.iter().take(cut).chain(&log).cloned().collect();
        prop_assert_eq!(&once, &State::fold(&again));
    }

    /// The fates against their definition, by brute force: an event is void when one that stands
    /// and comes later names it, or counts anew what a count that had taken its place counted.
    #[test]
    fn fates_are_as_defined(log in any_log()) {
        let state = State::fold(&log);
        let stands = |event: &Event| state.fate(event.id) == Some(Fate::Stands);
        for event in &log {
            let later = log.iter().filter(|other| {
                (other.seq, other.id) > (event.seq, event.id)
            });
            let void = later.filter(|other| stands(other)).any(|other| takes_out(&log, other, event));
            prop_assert_eq!(stands(event), !void);
        }
    }

    /// Counts that stand, added up by hand, are what is on hand; a second look adds nothing.
    #[test]
    fn nothing_is_lost_between_log_and_sum(log in any_log()) {
        let state = State::fold(&log);
        for mark in ["B1", "B2", "H4"] {
            let sum: i64 = log
                .iter()
                .filter(|event| state.fate(event.id) == Some(Fate::Stands))
                .filter_map(|event| match &event.what {
                    What::Counted { mark: of, quantity, .. } if of == mark => Some(*quantity),
                    _ => None,
                })
                .sum();
            let piles = state.marks.get(mark).map(|seen| seen.piles()).unwrap_or_default();
            prop_assert_eq!(state.on_hand(mark).counted, piles.iter().map(|pile| pile.stands).sum::<i64>());
            let agreed = piles.iter().any(|pile| pile.agreement == Agreement::Agreed);
            prop_assert!(agreed || state.on_hand(mark).counted == sum);
        }
    }
}

/// By the words of the definition, one step after the other.
fn takes_out(log: &[Event], by: &Event, event: &Event) -> bool {
    if event.order() >= by.order() {
        return false;
    }
    match &by.what {
        What::Corrected { of, .. } => of.contains(&event.id),
        What::Counted { replaces, .. } => {
            let between = (log.iter()).filter(|between| replaces.contains(&between.id));
            replaces.contains(&event.id)
                || between
                    .filter(|between| between.order() < by.order())
                    .filter(|between| matches!(between.what, What::Counted { .. }))
                    .any(|between| takes_out(log, between, event))
        }
        _ => false,
    }
}

/// A forger's two events under one id: still one state.
#[test]
fn one_id_with_two_contents_is_still_one_state() {
    let (one, mut two) = (
        event(1, counted("B1", 3, &[])),
        event(2, counted("B1", 8, &[])),
    );
    two.id = one.id;
    let log = [one.clone(), two.clone()];
    assert_eq!(State::fold(&log), State::fold(&[two, one]));
}

#[test]
fn the_last_order_stands() {
    let order = |toml: &str| What::OrderSet {
        toml: toml.into(),
        family: None,
    };
    let log = [
        event(2, order("two")),
        event(1, order("one")),
        event(3, corrected(&[2])),
    ];
    assert_eq!(State::fold(&log[..2]).order.unwrap().toml, "two");
    assert_eq!(State::fold(&log).order.unwrap().toml, "one");
}

#[test]
fn lists_come_and_go() {
    let digest = Digest::of(b"a list");
    let added = |name: &str| What::ListAdded {
        digest,
        name: name.into(),
        shipment: Some("first ferry".into()),
    };
    let log = [
        event(1, added("load 1.xlsx")),
        event(2, added("load 1 (again).xlsx")),
        event(3, What::ListDropped { digest }),
        event(4, corrected(&[3])),
        event(5, What::ListDropped { digest }),
        event(6, added("load 1.xlsx")),
    ];
    let names = |count: usize| -> Vec<String> {
        State::fold(&log[..count])
            .lists
            .into_iter()
            .map(|list| list.name)
            .collect()
    };
    assert_eq!(names(1), ["load 1.xlsx"]);
    assert_eq!(names(2), ["load 1 (again).xlsx"]);
    assert!(names(3).is_empty());
    assert_eq!(names(4), ["load 1 (again).xlsx"]);
    assert!(names(5).is_empty());
    assert_eq!(names(6), ["load 1.xlsx"]);
}

#[test]
fn the_last_word_on_a_row_stands() {
    let list = Digest::of(b"a list");
    let word = |mark: Option<&str>| What::Overruled {
        list,
        row: "Sheet1!12".into(),
        mark: mark.map(str::to_owned),
        words: None,
    };
    let log = [
        event(1, word(Some("R2"))),
        event(2, word(None)),
        event(3, corrected(&[2])),
    ];
    let said = |count: usize| {
        State::fold(&log[..count]).overrulings[&(list, "Sheet1!12".into())]
            .mark
            .clone()
    };
    assert_eq!(
        [said(1), said(2), said(3)],
        [Some("R2".into()), None, Some("R2".into())]
    );
}

#[test]
fn shipments_are_expected_and_arrive() {
    let named = |due: &str| What::ShipmentNamed {
        shipment: "second ferry".into(),
        due: Some(due.into()),
    };
    let arrived = || What::ShipmentArrived {
        shipment: "second ferry".into(),
    };
    let log = [
        event(1, named("2026-04-02")),
        event(2, named("2026-04-09")),
        event(3, arrived()),
        event(4, arrived()),
        event(5, corrected(&[3])),
    ];
    let shipment = |count: usize| State::fold(&log[..count]).shipments["second ferry"].clone();
    let arrival = |number: u64| {
        Some(Arrival {
            event: id(number.into()),
            at: number as i64,
            who: "Ines".into(),
        })
    };
    let due = |due: &str| Some(due.to_owned());
    assert_eq!(
        shipment(1),
        Shipment {
            due: due("2026-04-02"),
            arrived: None
        }
    );
    assert_eq!(
        shipment(2),
        Shipment {
            due: due("2026-04-09"),
            arrived: None
        }
    );
    assert_eq!(
        shipment(4),
        Shipment {
            due: due("2026-04-09"),
            arrived: arrival(3)
        }
    );
    assert_eq!(
        shipment(5),
        Shipment {
            due: due("2026-04-09"),
            arrived: arrival(4)
        }
    );
}

#[test]
fn what_a_newer_build_wrote_changes_nothing() {
    let log = [
        event(1, counted("B1", 3, &[])),
        event(
            2,
            What::Other {
                v: 2,
                kind: "weighed".into(),
                body: r#"{"kg":4}"#.into(),
            },
        ),
    ];
    let state = State::fold(&log);
    assert_eq!((state.unknown, state.on_hand("B1").good()), (1, 3));
}
