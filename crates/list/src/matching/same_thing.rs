//! Whether two descriptions speak of the same thing: what both say must agree.

use measure::Length;

use crate::matching::describe::{Fact, Said};

/// Lengths this near are the same: a sixteenth of an inch, so that a metric writing of an inch size is let through.
const NEAR: Length = Length::nanometres(1_600_000);

/// Returns what the two say differently, in a word; nothing where all that both say agrees.
pub(crate) fn differs(one: &Said, other: &Said) -> Option<&'static str> {
    if let (Some(a), Some(b)) = (&one.noun, &other.noun) {
        let near = |a: crate::matching::nouns::Concept, b: crate::matching::nouns::Concept| {
            a == b || a.is_under(b) || b.is_under(a) || a.is_akin(b)
        };
        let mut pairs = (a.may_mean.iter()).flat_map(|a| b.may_mean.iter().map(move |b| (*a, *b)));
        if !pairs.any(|(a, b)| near(a, b)) {
            return Some("thing");
        }
    }
    let apart = [
        ("length", far(&one.length, &other.length)),
        ("width", far(&one.width, &other.width)),
        ("diameter", far(&one.across, &other.across)),
        ("gauge", unlike(&one.gauge, &other.gauge)),
        ("wall", far(&one.wall, &other.wall)),
        ("ends", unlike(&one.ends, &other.ends)),
        ("size", unlike(&one.size, &other.size)),
        ("thickness", far(&one.thickness, &other.thickness)),
    ];
    let first = apart.into_iter().find(|(_, apart)| *apart);
    first.map(|(what, _)| what)
}

/// Whether the two say the same, and neither says what the other leaves open; for descriptions of one hand.
pub(crate) fn is_same(one: &Said, other: &Said) -> bool {
    let nouns = |said: &Said| said.noun.as_ref().map(|noun| noun.may_mean.clone());
    let says = |said: &Said| {
        [
            said.length.is_some(),
            said.width.is_some(),
            said.across.is_some(),
            said.gauge.is_some(),
            said.wall.is_some(),
            said.ends.is_some(),
            said.size.is_some(),
            said.thickness.is_some(),
        ]
    };
    let fits = |one: &Said, other: &Said| {
        (one.fits.len() == other.fits.len())
            && (one.fits.iter().zip(&other.fits)).all(|(a, b)| is_near(*a, *b))
    };
    nouns(one) == nouns(other)
        && says(one) == says(other)
        && differs(one, other).is_none()
        && fits(one, other)
}

fn far(one: &Option<Fact<Length>>, other: &Option<Fact<Length>>) -> bool {
    matches!((one, other), (Some(a), Some(b)) if !is_near(a.value, b.value))
}

fn is_near(one: Length, other: Length) -> bool {
    (one - other).as_nanometres().abs() <= NEAR.as_nanometres()
}

fn unlike<T: PartialEq>(one: &Option<Fact<T>>, other: &Option<Fact<T>>) -> bool {
    matches!((one, other), (Some(a), Some(b)) if a.value != b.value)
}
