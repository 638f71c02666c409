//! A second and a third look at a pile: held against the first, never averaged.

use proptest::prelude::*;
use tally::{
    Agreement, Event, How, Knew, OnHand, PileSeen, State, What, count, count_again, recount,
};

use crate::samples::{corrected, event, id};

/// All that is in these logs.
const KNEW: Knew<'static> = Knew {
    upto: 99,
    device: "another",
};

fn again(quantity: i64, checks: &[u128]) -> What {
    What::CountedAgain {
        mark: "B1".into(),
        pile: Some("A".into()),
        quantity,
        checks: checks.iter().copied().map(id).collect(),
        how: How::Piece,
    }
}

fn first(quantity: i64) -> What {
    count("B1", Some("A"), quantity, How::Piece).expect("a count within the limits")
}

/// Everybody looks once.
fn state(whats: Vec<What>) -> State {
    let events: Vec<Event> = (1..)
        .zip(whats)
        .map(|(seq, what)| Event {
            who: format!("person {seq}"),
            ..event(seq, what)
        })
        .collect();
    State::fold(&events)
}

fn pile(whats: Vec<What>) -> PileSeen {
    state(whats).marks["B1"].piles().remove(0)
}

fn on_hand(whats: Vec<What>) -> OnHand {
    state(whats).on_hand("B1")
}

#[test]
fn one_look_is_unchecked() {
    let seen = pile(vec![first(26)]);
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Unchecked));
}

#[test]
fn a_second_look_adds_nothing_and_settles_when_it_agrees() {
    let seen = pile(vec![first(20), first(6), again(26, &[1, 2])]);
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Agreed));
    assert_eq!(seen.looks.len(), 2);
}

#[test]
fn two_looks_that_differ_are_said_and_never_averaged() {
    let log = vec![first(26), again(24, &[1])];
    let seen = pile(log.clone());
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Differ));
    assert_eq!((seen.least, seen.most), (24, 26));
    let sums = on_hand(log);
    assert_eq!((sums.counted, sums.differing), (26, 1));
}

/// One person who looks twice neither settles a pile nor outvotes another.
#[test]
fn a_person_does_not_check_themselves() {
    let by_one = |whats: Vec<What>, who: [&str; 3]| {
        let events: Vec<Event> = (1..)
            .zip(whats.into_iter().zip(who))
            .map(|(seq, (what, who))| Event {
                who: who.into(),
                ..event(seq, what)
            })
            .collect();
        State::fold(&events).marks["B1"].piles().remove(0)
    };
    let seen = by_one(vec![first(26), again(26, &[1])], ["Ada", "Ada", ""]);
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Unchecked));
    // Ada counted part of it, so her look at the whole does not check it.
    let seen = by_one(
        vec![first(20), first(6), again(26, &[1, 2])],
        ["Ada", "Ben", "Ada"],
    );
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Unchecked));
    let log = vec![first(26), again(24, &[1]), again(24, &[1])];
    let seen = by_one(log, ["Ada", "Ben", "Ben"]);
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Differ));
}

#[test]
fn a_third_look_settles_it_for_whichever_it_agrees_with() {
    for (third, stands, agreement) in [
        (26, 26, Agreement::Agreed),
        (24, 24, Agreement::Agreed),
        (25, 26, Agreement::Differ),
    ] {
        let seen = pile(vec![first(26), again(24, &[1]), again(third, &[1])]);
        assert_eq!(
            (seen.stands, seen.agreement),
            (stands, agreement),
            "{third}"
        );
    }
}

#[test]
fn what_is_counted_after_the_second_look_comes_on_top() {
    let seen = pile(vec![first(26), again(24, &[1]), again(24, &[1]), first(3)]);
    assert_eq!((seen.stands, seen.agreement), (27, Agreement::Agreed));
}

/// The first look is taken back: what checked it has nothing to check.
#[test]
fn a_look_falls_with_what_it_checked() {
    let seen = pile(vec![first(26), first(4), again(24, &[1]), corrected(&[1])]);
    assert_eq!((seen.stands, seen.agreement), (4, Agreement::Unchecked));
    // And stands again when the taking back is itself taken back.
    let seen = pile(vec![
        first(26),
        again(24, &[1]),
        corrected(&[1]),
        corrected(&[3]),
    ]);
    assert_eq!((seen.stands, seen.agreement), (26, Agreement::Differ));
}

#[test]
fn counting_anew_begins_with_a_first_look() {
    let log = vec![first(26), again(24, &[1])];
    let what = recount(&state(log.clone()), KNEW, "B1", Some("A"), 25, How::Piece).unwrap();
    let seen = pile([log, vec![what]].concat());
    assert_eq!((seen.stands, seen.agreement), (25, Agreement::Unchecked));
}

#[test]
fn a_second_look_needs_a_first() {
    let state = state(vec![first(26)]);
    let why =
        |pile| count_again(&state, KNEW, "B1", pile, 3, How::Piece).map_err(|e| e.to_string());
    assert_eq!(
        why(Some("B")),
        Err("nobody has counted B1 there yet; the first count is not a second look".into())
    );
    assert_eq!(why(Some("A")), Ok(again(3, &[1])));
}

proptest! {
    /// Whatever is looked at again: the number that stands is one that somebody saw, never one in between.
    #[test]
    fn what_stands_was_seen_by_somebody(one in 0..40_i64, more in prop::collection::vec(0..40_i64, 0..6)) {
        let mut log = vec![first(one)];
        log.extend(more.iter().map(|n| again(*n, &[1])));
        let seen = pile(log);
        let looks: Vec<i64> = std::iter::once(one).chain(more).collect();
        prop_assert!(looks.contains(&seen.stands));
        let agree = looks.iter().enumerate().any(|(i, n)| looks[..i].contains(n));
        prop_assert_eq!(seen.agreement == Agreement::Agreed, agree);
        prop_assert!(seen.least <= seen.stands && seen.stands <= seen.most);
    }
}
