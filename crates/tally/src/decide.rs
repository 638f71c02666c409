//! What a person wants to say, made into what goes into the log, or refused with the reason.

use crate::event::{Condition, EventId, What};
use crate::fold::{Fate, State};
use crate::rules::{self, Refusal};

/// Counts more pieces of a mark, on top of what was counted before.
pub fn count(mark: &str, pile: Option<&str>, quantity: i64) -> Result<What, Refusal> {
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::Counted {
        mark,
        pile,
        quantity,
        replaces: Vec::new(),
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

/// Counts a mark anew in one pile: takes the place of every count of it there that stands and that
/// the person knew of. What others counted there meanwhile is added; other piles are left alone.
pub fn recount(
    state: &State,
    knew: Knew<'_>,
    mark: &str,
    pile: Option<&str>,
    quantity: i64,
) -> Result<What, Refusal> {
    let counts = state.marks.get(mark).map_or(&[][..], |seen| &seen.counts);
    let there = counts.iter().filter(|count| count.pile.as_deref() == pile);
    let known = there.filter(|count| count.seq <= knew.upto || count.device == knew.device);
    let replaces = known.map(|count| count.event).collect();
    let (mark, pile) = (mark.to_owned(), pile.map(str::to_owned));
    checked(What::Counted {
        mark,
        pile,
        quantity,
        replaces,
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
