//! What is judged by eye, and counted: the chance of each judgement, given what the piece is.

use crate::error_model::{
    ANY_LOOK, BENT_FOR_STRAIGHT, HOLES_OFF, MOST_HOLES, OTHER_LOOK, mistaken_coating, mistaken_end,
    mistaken_kind,
};
use crate::readable::Readable;
use crate::reading::{BendLook, Coating, EndLook, Kind};

pub(crate) const KINDS: [Kind; 8] = [
    Kind::RoundTube,
    Kind::SquareTube,
    Kind::Timber,
    Kind::Channel,
    Kind::Sheet,
    Kind::Wire,
    Kind::Fastener,
    Kind::Hardware,
];

pub(crate) const ENDS: [EndLook; 6] = [
    EndLook::Plain,
    EndLook::Swaged,
    EndLook::Flattened,
    EndLook::Punched,
    EndLook::Threaded,
    EndLook::Coped,
];

pub(crate) const BENDS: [BendLook; 2] = [BendLook::Straight, BendLook::Bent];

pub(crate) const COATINGS: [Coating; 9] = [
    Coating::Galvanized,
    Coating::ZincPlated,
    Coating::Mill,
    Coating::Coated,
    Coating::Rusty,
    Coating::Clear,
    Coating::White,
    Coating::Dark,
    Coating::Wood,
];

/// The chance that one of `all` looks is said of what is another: right but for the named mistakes and for
/// [`ANY_LOOK`], which falls evenly on all.
pub(crate) fn chance<T: PartialEq>(said: &T, is: &T, mistakes: &[(T, f64)], all: usize) -> f64 {
    let even = ANY_LOOK / all as f64;
    let mistaken: f64 = mistakes.iter().map(|(_, rate)| rate).sum();
    if said == is {
        return 1.0 - ANY_LOOK - mistaken + even;
    }
    let named: f64 = (mistakes.iter())
        .filter(|(look, _)| look == said)
        .map(|(_, rate)| rate)
        .sum();
    named + even
}

pub(crate) fn kind(said: Kind, part: Option<&Readable>) -> f64 {
    match part {
        Some(part) => chance(
            &said,
            &part.kind,
            mistaken_kind(part.kind, part.small),
            KINDS.len(),
        ),
        None => 1.0 / KINDS.len() as f64,
    }
}

pub(crate) fn bend(said: BendLook, part: Option<&Readable>) -> f64 {
    match part.and_then(|part| part.bent) {
        Some(bent) if bent == (said == BendLook::Bent) => 1.0 - BENT_FOR_STRAIGHT,
        Some(_) => BENT_FOR_STRAIGHT,
        None => 0.5,
    }
}

pub(crate) fn coating(said: Coating, part: Option<&Readable>) -> f64 {
    match part.and_then(|part| part.coating) {
        Some(is) => chance(&said, &is, mistaken_coating(is), COATINGS.len()),
        None => 1.0 / COATINGS.len() as f64,
    }
}

/// The chance of what was said of one end and of the other; an end that nobody looked at may look any way. Which end
/// came first is not known, so each is as likely as the other.
pub(crate) fn ends(said: [Option<EndLook>; 2], part: Option<&Readable>) -> f64 {
    let Some([a, b]) = part.and_then(|part| part.ends) else {
        return (said.iter().flatten())
            .map(|_| 1.0 / ENDS.len() as f64)
            .product();
    };
    let one = |said: Option<EndLook>, is: EndLook| match said {
        Some(said) => chance(&said, &is, mistaken_end(is), ENDS.len()),
        None => 1.0,
    };
    0.5 * (one(said[0], a) * one(said[1], b) + one(said[0], b) * one(said[1], a))
}

/// The chance of a count of holes. More than a dozen count as one more than that; less than none as none.
pub(crate) fn holes(count: i64, part: Option<&Readable>) -> f64 {
    let count = count.clamp(0, MOST_HOLES + 1);
    // Each hole more is half as likely; the last count takes all that is left.
    let any = match count > MOST_HOLES {
        true => 0.5f64.powi(count as i32),
        false => 0.5f64.powi(count as i32 + 1),
    };
    match part.and_then(|part| part.holes) {
        Some(is) if is == count => 1.0 - HOLES_OFF + HOLES_OFF * any,
        Some(_) => HOLES_OFF * any,
        None => any,
    }
}

/// Every look that a piece may be given, with its kind; and one more, for something else.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct LookList(Vec<(String, Kind)>);

impl LookList {
    pub(crate) fn of<'a>(parts: impl Iterator<Item = &'a Readable>) -> Self {
        let mut looks: Vec<(String, Kind)> =
            parts.map(|part| (part.look.clone(), part.kind)).collect();
        looks.sort_unstable();
        looks.dedup_by(|a, b| a.0 == b.0);
        Self(looks)
    }

    pub(crate) fn words(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(word, _)| word.as_str())
    }

    /// How many there are, something else counted in.
    pub(crate) fn len(&self) -> usize {
        self.0.len() + 1
    }

    /// Its number; one past the last word for something else.
    pub(crate) fn find(&self, word: &str) -> usize {
        let word = word.trim();
        (self.0.iter())
            .position(|(known, _)| known.eq_ignore_ascii_case(word))
            .unwrap_or(self.0.len())
    }

    /// The chance that a look is said of a part with this look and kind: now and then it is another of its kind.
    pub(crate) fn chance(&self, said: usize, of: Option<(usize, Kind)>) -> f64 {
        let Some((is, kind)) = of else {
            return 1.0 / self.len() as f64;
        };
        let is_other = |(number, known): (usize, &(String, Kind))| number != is && known.1 == kind;
        let others = (self.0.iter().enumerate()).filter(|&o| is_other(o)).count();
        let other = if others == 0 { 0.0 } else { OTHER_LOOK };
        let even = ANY_LOOK / self.len() as f64;
        match self.0.get(said) {
            _ if said == is => 1.0 - ANY_LOOK - other + even,
            Some((_, known)) if *known == kind => other / others as f64 + even,
            _ => even,
        }
    }
}
