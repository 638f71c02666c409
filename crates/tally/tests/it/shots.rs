//! The pictures that a claim asks for are ticked as they are taken.

use tally::{Condition, Digest, Event, Shot, State, What};

use crate::samples::{corrected, event, id};

fn taken(shot: Shot, of: Option<u128>) -> What {
    What::Photographed {
        photo: Digest::of(b"picture"),
        shot,
        shipment: None,
        mark: None,
        of: of.map(id),
        words: String::new(),
    }
}

fn state(whats: Vec<What>) -> State {
    let events: Vec<Event> = (1..)
        .zip(whats)
        .map(|(seq, what)| event(seq, what))
        .collect();
    State::fold(&events)
}

fn missing(state: &State, shipment: Option<&str>) -> usize {
    let shots = state.load_shots(shipment);
    shots.iter().filter(|asked| asked.taken.is_empty()).count()
}

fn bent() -> What {
    What::Conditioned {
        mark: "B1".into(),
        quantity: 2,
        condition: Condition::Bent,
        words: "at the swaged end".into(),
    }
}

#[test]
fn all_four_sides_the_top_and_the_labels_come_before_the_bands() {
    let state = State::default();
    let shots = state.load_shots(None);
    let before = shots.iter().filter(|asked| asked.shot.before_the_bands());
    assert_eq!(before.count(), 6);
    assert_eq!((missing(&state, None), state.proofs_missing()), (8, 0));
}

#[test]
fn a_picture_ticks_what_it_shows_and_nothing_else() {
    let state = state(vec![
        bent(),
        taken(Shot::Near, Some(1)),
        taken(Shot::Near, None),
        taken(Shot::SideTwo, None),
        taken(Shot::SideTwo, None),
    ]);
    assert_eq!((missing(&state, None), state.proofs_missing()), (7, 1));
    let proofs = state.proofs();
    let ticked: Vec<(Shot, usize)> = (proofs[0].asked.iter())
        .map(|asked| (asked.shot, asked.taken.len()))
        .collect();
    assert_eq!(ticked, [(Shot::Far, 0), (Shot::Near, 1)]);
    assert_eq!(proofs[0].in_words(), "2 bent: at the swaged end");
}

#[test]
fn a_picture_taken_back_is_asked_for_again() {
    let state = state(vec![taken(Shot::Top, None), corrected(&[1])]);
    assert_eq!(missing(&state, None), 8);
    assert!(state.pictures.is_empty());
}

/// Each shipment has its own pictures, however its name is spelled.
#[test]
fn each_shipment_is_photographed_as_it_came() {
    let of = |shipment: &str| What::Photographed {
        photo: Digest::of(b"picture"),
        shot: Shot::Top,
        shipment: Some(shipment.into()),
        mark: None,
        of: None,
        words: String::new(),
    };
    let state = state(vec![of("Load 1"), of("load  1")]);
    assert_eq!(missing(&state, Some("Load 1")), 7);
    assert_eq!(missing(&state, Some("Load 2")), 8);
    assert_eq!(missing(&state, None), 8);
}
