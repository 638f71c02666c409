//! What a person wants to say, made into what goes into the log, or refused with the reason.

use crate::digest::Digest;
use crate::event::{Condition, EventId, Shot, What};
use crate::fold::{Fate, State};
use crate::how::How;
use crate::rules::{self, Refusal};

/// Counts more pieces of a mark, on top of what was counted before.
pub fn count(mark: &str, pile: Option<&str>, quantity: i64, how: How) -> Result<What, Refusal> {
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::Counted {
        mark,
        pile,
        quantity,
        replaces: Vec::new(),
        how,
    })
}

/// What whoever counts anew knew of the log when they did, which may be hours before it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Knew<'a> {
    /// The highest number of an event that their page showed.
    pub upto: u64,
    /// The device they count on; what was counted on it before is known to them too.
    pub device: &'a str,
}

impl Knew<'_> {
    /// The counts in a pile that the person knew of.
    fn counts(self, state: &State, mark: &str, pile: Option<&str>) -> Vec<EventId> {
        let counts = state.marks.get(mark).map_or(&[][..], |seen| &seen.counts);
        let there = counts.iter().filter(|count| count.pile.as_deref() == pile);
        there
            .filter(|count| count.seq <= self.upto || count.device == self.device)
            .map(|count| count.event)
            .collect()
    }
}

/// Counts a mark anew in one pile: takes the place of every count of it there that stands and that
/// the person knew of. What others counted there meanwhile is added; other piles are left alone.
pub fn recount(
    state: &State,
    knew: Knew<'_>,
    mark: &str,
    pile: Option<&str>,
    quantity: i64,
    how: How,
) -> Result<What, Refusal> {
    let replaces = knew.counts(state, mark, pile);
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::Counted {
        mark,
        pile,
        quantity,
        replaces,
        how,
    })
}

/// Counts once more what the person knew to be counted of a mark in one pile; refused where nobody has counted there.
pub fn count_again(
    state: &State,
    knew: Knew<'_>,
    mark: &str,
    pile: Option<&str>,
    quantity: i64,
    how: How,
) -> Result<What, Refusal> {
    let checks = knew.counts(state, mark, pile);
    if checks.is_empty() {
        return Err(Refusal::NothingToCheck(mark.to_owned()));
    }
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::CountedAgain {
        mark,
        pile,
        quantity,
        checks,
        how,
    })
}

/// Says where a pile lies.
pub fn place_pile(pile: &str, place: &str) -> Result<What, Refusal> {
    let (pile, place) = (pile.to_owned(), place.to_owned());
    checked(What::PilePlaced { pile, place })
}

/// Keeps what was read of one piece, and what it was held to be.
pub fn measured(
    mark: Option<&str>,
    pile: Option<&str>,
    readings: Vec<tell::Reading>,
) -> Result<What, Refusal> {
    let (mark, pile) = (mark.map(str::to_owned), pile.map(str::to_owned));
    checked(What::Measured {
        mark,
        pile,
        readings,
    })
}

/// What a picture that was taken shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown<'a> {
    /// What it shows.
    pub shot: Shot,
    /// The shipment, where it shows one as it came.
    pub shipment: Option<&'a str>,
    /// The mark, where it shows one.
    pub mark: Option<&'a str>,
    /// The condition that it proves.
    pub of: Option<EventId>,
    /// In the person's words; may be empty.
    pub words: &'a str,
}

/// Keeps that a picture was taken, and of what.
pub fn photographed(photo: Digest, shows: Shown<'_>) -> Result<What, Refusal> {
    checked(What::Photographed {
        photo,
        shot: shows.shot,
        shipment: shows.shipment.map(str::to_owned),
        mark: shows.mark.map(str::to_owned),
        of: shows.of,
        words: shows.words.to_owned(),
    })
}

/// Says that pieces of a mark are not as they should be.
pub fn condition(
    mark: &str,
    quantity: i64,
    condition: Condition,
    words: &str,
) -> Result<What, Refusal> {
    let (mark, words) = (mark.to_owned(), words.to_owned());
    checked(What::Conditioned {
        mark,
        quantity,
        condition,
        words,
    })
}

/// Notes something on a mark, or on the job.
pub fn note(mark: Option<&str>, words: &str) -> Result<What, Refusal> {
    let (mark, words) = (mark.map(str::to_owned), words.to_owned());
    checked(What::Noted { mark, words })
}

/// Takes back an event that stands. Taking back a correction lets what it named stand again.
pub fn correct(state: &State, event: EventId, why: &str) -> Result<What, Refusal> {
    match state.fate(event) {
        None => Err(Refusal::Unknown(event)),
        Some(Fate::Void { .. }) => Err(Refusal::Void(event)),
        Some(Fate::Stands) => checked(What::Corrected {
            of: vec![event],
            why: why.to_owned(),
        }),
    }
}

/// Keeps what the people of a job say of freight, terms, costs and points, when it can stand in a log.
pub fn say(what: What) -> Result<What, Refusal> {
    checked(what)
}

fn checked(what: What) -> Result<What, Refusal> {
    rules::what(&what)?;
    Ok(what)
}
