//! Ways of counting: what they add up to, and what cannot stand.

use measure::{Length, Mass, System};
use tally::{
    ByWeight, Coils, Digest, Event, How, Ring, Sample, SampleIs, Scale, Spread, What, count,
};

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
}

#[test]
fn in_words() {
    let words = |how: How| how.in_words(System::FeetInch).unwrap_or_default();
    assert_eq!(words(bundles(5, 5, 1)), "5 closed bundles of 5 and 1");
    let coils = How::Length {
        coils: Coils {
            whole: 2,
            each: Length::feet(250),
            rest: Length::feet(40),
            rest_within: Length::ZERO,
        },
        piece: Length::feet(100),
    };
    assert_eq!(
        words(coils),
        "2 coils of 250 ft and a rest of 40 ft give 4 pieces of 100 ft, 140 ft left over"
    );
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

/// Weighed: the number stands, and its bounds say what could be short. 100 pieces of 10 g each, a sample of 20 put back,
/// on a scale that reads to 10 g. By hand, first order: a reading is off by √(10²/12 + 5²) = 5.8 g, which a sample of
/// 200 g makes 80 × 5.8 / 200 = 2.3 pieces of the other 80; the pieces' own spread adds 0.3. So ±1.96 × 2.35 = ±4.6.
#[test]
fn weighing_says_what_could_be_short() {
    let weighing = ByWeight {
        samples: vec![Sample {
            pieces: 20,
            mass: Mass::grams(200),
        }],
        sample_is: SampleIs::PutBack,
        bag: Mass::grams(1000),
        tare: Mass::ZERO,
        scale: Scale::reading_to(Mass::grams(10)),
        spread: Spread::PLAIN,
    };
    let how = How::Weight { weighing };
    let (least, most) = how.bounds(100);
    assert!((94..=97).contains(&least), "{least}");
    assert!((103..=106).contains(&most), "{most}");
}
