//! Sums of counts and conditions.

use tally::{Condition, Event, OnHand, State, What};

use crate::samples::{counted, event};

fn conditioned(mark: &str, quantity: i64, condition: Condition) -> What {
    What::Conditioned {
        mark: mark.into(),
        quantity,
        condition,
        words: String::new(),
    }
}

fn on_hand(whats: Vec<What>) -> OnHand {
    let events: Vec<Event> = (1..)
        .zip(whats)
        .map(|(seq, what)| event(seq, what))
        .collect();
    State::fold(&events).on_hand("B1")
}

#[test]
fn nobody_has_counted_is_not_a_count_of_zero() {
    assert!(!on_hand(vec![counted("B2", 4, &[])]).is_counted());
    assert!(on_hand(vec![counted("B1", 0, &[])]).is_counted());
}

#[test]
fn counts_and_conditions_add_up() {
    let seen = on_hand(vec![
        counted("B1", 10, &[]),
        counted("B1", 4, &[]),
        counted("B2", 99, &[]),
        conditioned("B1", 1, Condition::Damaged),
        conditioned("B1", 2, Condition::Bent),
        conditioned("B1", 1, Condition::Bent),
        conditioned("B1", 5, Condition::Wet),
        conditioned("B1", 1, Condition::Wrong),
    ]);
    let expected = OnHand {
        counts: 2,
        counted: 14,
        least: 14,
        most: 14,
        unopened: 0,
        differing: 0,
        damaged: 1,
        bent: 3,
        wet: 5,
        wrong: 1,
    };
    assert_eq!(seen, expected);
    // 14 − 1 − 3 − 1: the wet ones dry.
    assert_eq!(
        (seen.unfit(), seen.good(), seen.is_overdrawn()),
        (5, 9, false)
    );
}

#[test]
fn more_bad_ones_than_pieces_is_said_and_never_negative() {
    let bad = on_hand(vec![
        counted("B1", 2, &[]),
        conditioned("B1", 3, Condition::Bent),
    ]);
    assert_eq!((bad.good(), bad.is_overdrawn()), (0, true));
    let wet = on_hand(vec![
        counted("B1", 2, &[]),
        conditioned("B1", 3, Condition::Wet),
    ]);
    assert_eq!((wet.good(), wet.is_overdrawn()), (2, true));
    let uncounted = on_hand(vec![conditioned("B1", 1, Condition::Damaged)]);
    assert_eq!(
        (uncounted.is_counted(), uncounted.is_overdrawn()),
        (false, true)
    );
}

#[test]
fn piles_are_told_apart() {
    let pile = |pile: Option<&str>, quantity| {
        let pile = pile.map(str::to_owned);
        What::Counted {
            mark: "B1".into(),
            pile,
            quantity,
            replaces: vec![],
            how: tally::How::Piece,
        }
    };
    let whats = [
        pile(Some("C"), 3),
        pile(None, 2),
        pile(Some("A"), 1),
        pile(Some("C"), 4),
    ];
    let events: Vec<Event> = (1..)
        .zip(whats)
        .map(|(seq, what)| event(seq, what))
        .collect();
    let piles = State::fold(&events).marks["B1"].piles();
    let expected = [
        (None, 2),
        (Some("A".to_owned()), 1),
        (Some("C".to_owned()), 7),
    ];
    let found: Vec<_> = (piles.into_iter())
        .map(|pile| (pile.pile, pile.stands))
        .collect();
    assert_eq!(found, expected);
}
