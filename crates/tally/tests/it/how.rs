//! Ways of counting: what they add up to, and what cannot stand.

use measure::{Length, System};
use tally::{Digest, Event, How, Ring, What, count};

use crate::samples::event;

fn refused(quantity: i64, how: How) -> String {
    match count("B1", None, quantity, how) {
        Ok(what) => panic!("taken in: {what:?}"),
        Err(refusal) => refusal.to_string(),
    }
}

fn bundles(bundles: i64, of: i64, rest: i64) -> How {
    How::Bundle {
        bundles,
        of,
        rest,
        closed: true,
    }
}

#[test]
fn the_number_must_be_what_it_was_made_up_from() {
    count("B1", None, 26, bundles(5, 5, 1)).unwrap();
    assert_eq!(
        refused(25, bundles(5, 5, 1)),
        "bundles and rest is 26; it must be from 25 to 25"
    );
    let photo = |n: usize| How::Photo {
        photo: Digest::of(b"picture"),
        rings: vec![Ring { x: 1, y: 2, r: 3 }; n],
    };
    count("B1", None, 2, photo(2)).unwrap();
    assert_eq!(refused(3, photo(2)), "rings is 2; it must be from 3 to 3");
    assert_eq!(
        refused(3, photo(2001)),
        "rings is 2001 long; at most 2000 fit"
    );
}

#[test]
fn nonsense_is_refused() {
    assert_eq!(
        refused(5, bundles(-1, 5, 10)),
        "bundles is -1; it must be from 0 to 1000000"
    );
    assert_eq!(
        refused(5, bundles(1_000_000, 1_000_000, 0)),
        "bundles and rest is 1000000000000; it must be from 5 to 5"
    );
    let coil = |of| How::Length {
        coils: 1,
        of: Length::nanometres(of),
        rest: Length::ZERO,
    };
    assert!(refused(1, coil(-1)).starts_with("of is -1"));
    assert!(refused(1, coil(i64::MAX)).starts_with("of is 9223372036854775807"));
}

#[test]
fn in_words() {
    let words = |how: How| how.in_words(System::FeetInch).unwrap_or_default();
    assert_eq!(words(bundles(5, 5, 1)), "5 closed bundles of 5 and 1");
    let coils = How::Length {
        coils: 2,
        of: Length::feet(250),
        rest: Length::feet(40),
    };
    assert_eq!(words(coils), "2 coils of 250 ft and 40 ft of an opened one");
    assert_eq!(words(How::Piece), "");
}

/// A way of counting from the future: the number stands.
#[test]
fn an_unknown_way_keeps_its_number() {
    let what = count("B1", None, 26, bundles(5, 5, 1)).unwrap();
    let text = event(1, what).write().unwrap();
    let text = text.replacen("\"by\":\"bundle\"", "\"by\":\"drone\"", 1);
    let read = Event::read(&text).unwrap();
    let What::Counted { quantity, how, .. } = read.what else {
        panic!("not a count");
    };
    assert_eq!((quantity, how), (26, How::Other));
}
