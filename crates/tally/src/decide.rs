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

/// Counts a mark anew in one pile: takes the place of every count of it there that stands, and
/// leaves the other piles alone.
pub fn recount(
    state: &State,
    mark: &str,
    pile: Option<&str>,
    quantity: i64,
    how: How,
) -> Result<What, Refusal> {
    let counts = state.marks.get(mark).map_or(&[][..], |seen| &seen.counts);
    let there = counts.iter().filter(|count| count.pile.as_deref() == pile);
    let replaces = there.map(|count| count.event).collect();
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::Counted {
        mark,
        pile,
        quantity,
        replaces,
        how,
    })
}

/// Counts once more what was counted of a mark in one pile; refused where nobody has counted there yet.
pub fn count_again(
    state: &State,
    mark: &str,
    pile: Option<&str>,
    quantity: i64,
    how: How,
) -> Result<What, Refusal> {
    let counts = state.marks.get(mark).map_or(&[][..], |seen| &seen.counts);
    let there = counts.iter().filter(|count| count.pile.as_deref() == pile);
    let checks: Vec<EventId> = there.map(|count| count.event).collect();
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

/// Keeps that a picture was taken, and of what.
pub fn photographed(
    photo: Digest,
    shot: Shot,
    mark: Option<&str>,
    of: Option<EventId>,
    words: &str,
) -> Result<What, Refusal> {
    let (mark, words) = (mark.map(str::to_owned), words.to_owned());
    checked(What::Photographed {
        photo,
        shot,
        mark,
        of,
        words,
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

fn checked(what: What) -> Result<What, Refusal> {
    rules::what(&what)?;
    Ok(what)
}
