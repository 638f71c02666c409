//! What the likeliest explanation says of pieces that are there though nobody counted them as what they are.

use std::collections::BTreeMap;

use tally::{Cause, CauseKind, Difference, Matter, Standing};

use crate::assumed::STORY_AT_MOST;
use crate::odds;
use crate::supply::{Rests, Share};

use super::comings::Comings;
use super::share;

/// By mark, what explanations add to it or take off it.
#[derive(Default)]
pub(super) struct Stories(BTreeMap<String, Vec<Told>>);

/// So many pieces more (or fewer) if an explanation holds.
struct Told {
    pieces: i64,
    says: String,
    with: usize,
    /// They come in this shipment.
    shipment: Option<String>,
    chance: f64,
}

impl Stories {
    /// Reads the explanation where something is missing; where nothing is, it costs time and changes nothing.
    pub fn of(standing: &Standing, comings: &mut Comings) -> Self {
        let mut stories = Self::default();
        let Some(difference) = standing.difference.as_ref().filter(|d| is_scarce(d)) else {
            return stories;
        };
        let Some(explanation) = standing.explanation() else {
            return stories;
        };
        for matter in &explanation.matters {
            stories.take(matter, difference, comings);
        }
        stories
    }

    /// The shares of a mark that rest on an explanation.
    pub fn of_mark(&self, mark: &str, comings: &mut Comings) -> Vec<Share> {
        let told = self.0.get(mark).map_or(&[][..], Vec::as_slice);
        (told.iter())
            .map(|told| match &told.shipment {
                // If the sender left them for it, they come with it.
                Some(shipment) => Share {
                    // On no list of it: only an explanation gives them.
                    pieces: 0,
                    ..share(
                        Rests::Promised,
                        odds::all_or_none(told.pieces, told.chance),
                        Some(comings.shipment(shipment)),
                        told.says.clone(),
                    )
                },
                None => share(
                    Rests::Doubtful,
                    odds::sure(told.pieces),
                    Some(told.with),
                    told.says.clone(),
                ),
            })
            .collect()
    }

    fn take(&mut self, matter: &Matter, difference: &Difference, comings: &mut Comings) {
        let moves = |cause: &Cause| moved(cause, difference);
        let told: Vec<&Cause> = (matter.best.causes.iter())
            .filter(|cause| !moves(cause).is_empty())
            .collect();
        // What the next story says as well does not hang on which of the two holds.
        let also = |cause: &Cause| {
            let other = matter.other.as_ref();
            other.is_some_and(|other| other.causes.contains(cause))
        };
        let (either, one): (Vec<&Cause>, Vec<&Cause>) =
            told.into_iter().partition(|cause| also(cause));
        let holds = match matter.odds {
            odds if odds.is_finite() => (odds / (1.0 + odds)).min(STORY_AT_MOST),
            _ => STORY_AT_MOST,
        };
        for (causes, chance) in [(either, STORY_AT_MOST), (one, holds)] {
            if causes.is_empty() {
                continue;
            }
            let words: Vec<String> = causes.iter().map(|cause| cause.in_words()).collect();
            let says = words.join("; ");
            let name = "the likeliest explanation".to_owned();
            let with = comings.story(name, chance, says);
            for cause in causes {
                for (mark, pieces) in moves(cause) {
                    self.0.entry(mark).or_default().push(Told {
                        pieces,
                        says: format!("{}, if the likeliest explanation holds", cause.in_words()),
                        with,
                        shipment: left_for(cause).map(str::to_owned),
                        chance,
                    });
                }
            }
        }
    }
}

/// Whether fewer are here or to come than the house needs, of any mark.
fn is_scarce(difference: &Difference) -> bool {
    (difference.marks.iter()).any(|mark| match mark.on_hand.is_counted() {
        true => mark.to_make_good().is_some_and(|n| n > 0),
        false => mark.listed.is_some_and(|listed| listed < mark.needed),
    })
}

/// The shipment for which the sender left them, where it is one.
fn left_for(cause: &Cause) -> Option<&str> {
    let shipment = cause.shipment.as_deref();
    shipment.filter(|_| cause.kind == CauseKind::LeftForLater)
}

/// What a cause adds to which marks, beside what counts and lists say. That a count, a weighing or a look was off is in its
/// own odds. What was counted is held against the yard, what
/// was not against the list.
fn moved(cause: &Cause, difference: &Difference) -> Vec<(String, i64)> {
    let counted = |mark: &str| difference.mark(mark).map(|d| d.on_hand.is_counted());
    let n = cause.quantity;
    let of_mark = |pieces: i64| Some((cause.mark.clone(), pieces));
    let of_other = |pieces: i64| Some((cause.other_mark.clone()?, pieces));
    let in_yard =
        |moved: Option<(String, i64)>| moved.filter(|(mark, _)| counted(mark) == Some(true));
    let on_list =
        |moved: Option<(String, i64)>| moved.filter(|(mark, _)| counted(mark) == Some(false));
    let moved = match cause.kind {
        CauseKind::CountedAsLookAlike => [in_yard(of_mark(n)), in_yard(of_other(-n))],
        CauseKind::BundleAsOne | CauseKind::PileNotCounted | CauseKind::InAnotherBag => {
            [in_yard(of_mark(n)), None]
        }
        CauseKind::CountedTwice => [in_yard(of_mark(-n)), None],
        CauseKind::LeftForLater => [in_yard(of_mark(n)), None],
        CauseKind::ListTypo | CauseKind::ListForOtherOrder => [on_list(of_mark(-n)), None],
        CauseKind::RowForTwoUses => [on_list(of_mark(n)), None],
        CauseKind::RowTwice => [on_list(of_mark(-n)), None],
        CauseKind::RowMisread => match cause.other_mark {
            Some(_) => [on_list(of_mark(-n)), on_list(of_other(n))],
            None => [on_list(of_mark(n)), None],
        },
        _ => [None, None],
    };
    moved.into_iter().flatten().collect()
}
