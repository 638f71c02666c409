//! What there is of each mark, read off a job: counts, lists, promises, ways round, and the likeliest explanation.
//!
//! A piece that was built in still counts as on hand: a count says what came, and nobody takes it back for building.

mod comings;
mod seen;
mod stories;

use std::collections::BTreeMap;

use jiff::civil::Date;
use tally::{About, Answer, BACK_ORDER, MarkDifference, Ordered, Standing, State, WayStands};

use crate::assumed::{ALLOWED_HOLDS, MEANT_HOLDS};
use crate::odds::{self, Odds};
use crate::supply::{Rests, Share, Supplies, Supply};

use comings::Comings;
use stories::Stories;

/// Ways round a shortage whose key begins like this change the structure: they need the sender's leave.
pub const ASK_FIRST: &str = "ask:";

/// What there is of each mark as a job stands; nothing without an order that can be used.
pub fn supplies(standing: &Standing, today: Date) -> Option<Supplies> {
    let ordered = standing.ordered()?;
    let difference = standing.difference.as_ref()?;
    let mut comings = Comings::of(standing, today);
    let stories = Stories::of(standing, &mut comings);
    let built = built(ordered, &standing.state);
    let carrying = crate::ways::carrying(&ordered.frame, &ordered.parts);
    let marks = (difference.marks.iter())
        .map(|mark| Supply {
            shares: shares(
                mark,
                carrying.get(&mark.mark).copied().unwrap_or(0),
                &standing.state,
                &stories,
                &mut comings,
            ),
            built: built.get(&mark.mark).copied().unwrap_or(0),
            mark: mark.mark.clone(),
        })
        .collect();
    Some(Supplies {
        marks,
        coming: comings.into_all(),
    })
}

/// By mark, what stands in stages that are done.
fn built(ordered: &Ordered, state: &State) -> BTreeMap<String, i64> {
    let done = |stage: &str| (state.plans.worked.get(stage)).is_some_and(|seen| seen.done);
    (ordered.parts.lines.iter())
        .map(|line| {
            let places = line.places.iter().filter(|place| done(&place.stage));
            let pieces = places.map(|place| place.quantity).sum();
            (line.part.mark.0.clone(), pieces)
        })
        .collect()
}

/// A share of which so many, at so likely numbers, rest on something.
fn share(rests: Rests, odds: Odds, with: Option<usize>, says: String) -> Share {
    Share {
        rests,
        pieces: odds::likeliest(&odds),
        odds,
        with,
        says,
    }
}

fn shares(
    mark: &MarkDifference,
    carrying: i64,
    state: &State,
    stories: &Stories,
    comings: &mut Comings,
) -> Vec<Share> {
    let mut shares = match state.marks.get(&mark.mark) {
        Some(seen) if mark.on_hand.is_counted() => seen::counted(seen, meant(mark, state)),
        _ => listed(mark, state, comings),
    };
    take_off_unfit(&mut shares, mark.on_hand.unfit());
    // What is promised may come long after the day that a way round is gone for, and what an explanation gives may not be
    // there at all: neither takes anything from it.
    let here = (shares.iter()).fold(0_i64, |sum, share| sum.saturating_add(share.pieces));
    shares.extend(stories.of_mark(&mark.mark, comings));
    shares.extend(promised(mark, state, comings));
    shares.extend(sent(mark, state, comings));
    let missing = mark.needed.saturating_sub(here);
    let may_carry = here < carrying;
    shares.extend(ways(mark, state, missing, may_carry, comings));
    let is_some = |share: &Share| !matches!(share.odds.as_slice(), [] | [(0, _)]);
    shares.retain(|share| share.rests == Rests::Counted || is_some(share));
    if shares.is_empty() && mark.needed > 0 {
        let says = match mark.listed {
            Some(0) => "the lists that were read have none, and nobody counted",
            _ => "on no list that was read, and nobody counted",
        };
        shares.push(share(Rests::Unsaid, odds::sure(0), None, says.into()));
    }
    shares
}

/// How many the sender means to have packed of what is here: as the lists say, else as usual for the order. Nothing
/// where the lists have them in other shipments only, or not clearly.
fn meant(mark: &MarkDifference, state: &State) -> Option<i64> {
    if mark.listed.is_none() {
        return Some(mark.supplied);
    }
    let here = mark.rows.iter().filter(|row| match &row.shipment {
        Some(name) => is_here(state, name),
        None => true,
    });
    let mut sum = 0_i64;
    for row in here {
        if row.unclear.is_some() {
            return None;
        }
        sum = sum.saturating_add(row.quantity);
    }
    (sum > 0).then_some(sum)
}

/// Pieces that cannot be built with, off what was counted first: they were seen among those.
fn take_off_unfit(shares: &mut [Share], mut unfit: i64) {
    for share in shares {
        let fewer = unfit.min(share.pieces.max(0));
        if fewer == 0 {
            continue;
        }
        share.odds = odds::less(&share.odds, fewer);
        share.pieces = match share.rests {
            // What was counted is shown, and a doubt about it is said as one.
            Rests::Counted => share.pieces - fewer,
            _ => odds::likeliest(&share.odds),
        };
        share.says = format!("{}, {fewer} of them not fit for use", share.says);
        unfit -= fewer;
    }
}

/// What the lists have in shipments that are here, or that have no name.
fn listed(mark: &MarkDifference, state: &State, comings: &Comings) -> Vec<Share> {
    let more = comings.expects_more();
    let here = (mark.rows.iter()).filter(|row| match &row.shipment {
        Some(name) => is_here(state, name),
        None => true,
    });
    let (mut clear, mut unclear, mut with) = (0_i64, 0_i64, Vec::new());
    for row in here {
        let sum = match row.unclear {
            None => &mut clear,
            Some(_) => &mut unclear,
        };
        *sum = sum.saturating_add(row.quantity);
        if let Some(name) = row.shipment.as_deref().filter(|name| !with.contains(name)) {
            with.push(name);
        }
    }
    let within = match with.as_slice() {
        [] => String::new(),
        names => format!(" in {}", names.join(" and ")),
    };
    let mut shares = Vec::new();
    if clear > 0 {
        let says = format!("{clear} listed{within}, not counted");
        shares.push(share(Rests::Listed, odds::packed(clear, more), None, says));
    }
    if unclear > 0 {
        let says = format!("{unclear} listed{within}, not counted, and the list is not clear");
        let odds = odds::unclear(odds::packed(unclear, more));
        shares.push(share(Rests::Listed, odds, None, says));
    }
    shares
}

/// What the lists have in shipments that are not here.
fn promised(mark: &MarkDifference, state: &State, comings: &mut Comings) -> Vec<Share> {
    let follows = |name: &str| name == BACK_ORDER;
    let shipment = |row: &tally::ListedRow| row.shipment.clone().unwrap_or_default();
    let firm: i64 = (mark.rows.iter())
        .filter(|row| !follows(&shipment(row)))
        .fold(0, |sum, row| sum.saturating_add(row.quantity));
    // A back order stands once more on the list that it comes with: it is only for what no other row brings.
    let mut open = (mark.needed - firm).max(0);
    let mut later: Vec<(String, i64, bool)> = Vec::new();
    let mut now = 0_i64;
    for row in &mark.rows {
        let name = shipment(row);
        if name.is_empty() || is_here(state, &name) {
            now = now.saturating_add(row.quantity);
            continue;
        }
        let mut quantity = row.quantity;
        if follows(&name) {
            quantity = quantity.min(open);
            open -= quantity;
        }
        let clear = row.unclear.is_none();
        match later
            .iter_mut()
            .find(|(known, _, is)| *known == name && *is == clear)
        {
            Some((_, sum, _)) => *sum = sum.saturating_add(quantity),
            None => later.push((name, quantity, clear)),
        }
    }
    // What came early does not come again.
    let mut early = match mark.on_hand.is_counted() {
        true => (mark.on_hand.counted - now).max(0),
        false => 0,
    };
    (later.into_iter())
        .filter_map(|(name, quantity, clear)| {
            let came = early.min(quantity);
            early -= came;
            let pieces = quantity - came;
            let with = comings.shipment(&name);
            let mut says = format!("{pieces} promised with {name}");
            let mut odds = odds::packed(pieces, false);
            if !clear {
                odds = odds::unclear(odds);
                says += ", and the list is not clear";
            }
            (pieces > 0).then(|| share(Rests::Promised, odds, Some(with), says))
        })
        .collect()
}

/// What the sender answered that they send, as far as it is not here and a person still waits for it.
fn sent(mark: &MarkDifference, state: &State, comings: &mut Comings) -> Vec<Share> {
    let mut unfit = mark.on_hand.unfit();
    let mut shares = Vec::new();
    for (point, seen) in &state.affairs.points {
        if point.of != mark.mark || !point.about.is_of_a_mark() || seen.closed.is_some() {
            continue;
        }
        for answer in seen.standing_answers() {
            let Answer::Sends {
                quantity,
                on,
                shipment,
            } = &answer.answer
            else {
                continue;
            };
            if shipment.as_deref().is_some_and(|name| is_here(state, name)) {
                continue;
            }
            let mut pieces = *quantity;
            if point.about == About::Unfit {
                pieces = pieces.min(unfit);
                unfit -= pieces;
            }
            if pieces <= 0 {
                continue;
            }
            let (with, name) = match shipment {
                Some(name) => (comings.shipment(name), format!("with {name}")),
                None => (
                    comings.sent(on.as_deref()),
                    "in a shipment of no name".into(),
                ),
            };
            let says = format!("{pieces} sent by the sender {name}, as answered");
            shares.push(share(
                Rests::Promised,
                odds::packed(pieces, false),
                Some(with),
                says,
            ));
        }
    }
    shares
}

/// Ways round a shortage that were allowed, or that somebody means to go and that need nobody's leave. They bring no more
/// than is missing here: once bought, pieces are counted. Where they `may_carry` the house, since fewer are here than
/// carry it, leave is needed whatever the way is called.
fn ways(
    mark: &MarkDifference,
    state: &State,
    mut missing: i64,
    may_carry: bool,
    comings: &mut Comings,
) -> Vec<Share> {
    let mut shares = Vec::new();
    for ((of, key), seen) in &state.plans.ways {
        let way = &seen.said;
        if *of != mark.mark || missing <= 0 || !crate::ways::brings_pieces(key) {
            continue;
        }
        let (holds, word) = match way.stands {
            WayStands::Allowed => (ALLOWED_HOLDS, "allowed"),
            WayStands::Meant if needs_no_leave(key, may_carry) => (MEANT_HOLDS, "meant"),
            _ => continue,
        };
        let pieces = way.quantity.min(missing);
        missing -= pieces;
        let says = match way.words.trim() {
            "" => format!("{pieces} by a way round the shortage that is {word}"),
            words => format!("{pieces} by a way round the shortage that is {word}: {words}"),
        };
        let odds = odds::all_or_none(pieces, holds);
        shares.push(share(
            Rests::WayRound,
            odds,
            Some(comings.way_round(key, seen.at)),
            says,
        ));
    }
    shares
}

fn needs_no_leave(key: &str, may_carry: bool) -> bool {
    !key.starts_with(ASK_FIRST) && (!may_carry || crate::ways::carries_nothing(key))
}

fn is_here(state: &State, name: &str) -> bool {
    (state.shipment(name)).is_some_and(|shipment| shipment.arrived.is_some())
}
