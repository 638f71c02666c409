//! Numbers of pieces with their chances, and how they add up.

use tally::priors::{
    Chance, EXTRA, EXTRA_MANY, LEFT_WHOLE, MISCOUNT, MISCOUNT_A_PIECE, MISCOUNT_FROM, SHORT,
    SHORT_MANY, SHORT_WHOLE,
};

use crate::assumed::UNCLEAR_HOLDS;

/// Numbers, rising, each with its chance; these add up to 1.
pub(crate) type Odds = Vec<(i64, f64)>;

/// So many pieces short are told apart, at the most; of a greater number the whole line is taken to be short.
const MOST_SHORT: i64 = 60;

/// Of fewer pieces, many short is the same as a few or all.
const MANY: i64 = 5;

/// Beyond so many spreads a normal error is left out.
const SPREADS: f64 = 5.0;

/// A normal error is within so many spreads in 95 cases of 100.
const SPREADS_AT_95: f64 = 1.959_964;

/// The most numbers that a weighing is spread over.
const MOST_NUMBERS: i64 = 2_000;

/// Just so many.
pub(crate) fn sure(pieces: i64) -> Odds {
    vec![(pieces, 1.0)]
}

/// So many, or none.
pub(crate) fn all_or_none(pieces: i64, chance: f64) -> Odds {
    tidy(vec![(0, 1.0 - chance), (pieces, chance)])
}

/// How often a count piece by piece is off, by one or by two.
pub(crate) fn off(pieces: i64) -> f64 {
    match pieces >= MISCOUNT_FROM {
        true => (MISCOUNT_A_PIECE * pieces as f64).min(MISCOUNT.happens),
        false => 0.0,
    }
}

/// Counted piece by piece, and off so often. Where it is known how many the sender means to have packed, that is a
/// witness too: a count that comes to just as many is next to never off, and one that lacks one is off a little more.
pub(crate) fn counted(pieces: i64, off: f64, meant: Option<i64>) -> Odds {
    let by = |number: i64| match number.abs() {
        0 => 1.0 - off,
        1 => off * (1.0 - MISCOUNT.more) / 2.0,
        _ => off * MISCOUNT.more / 2.0,
    };
    let truly = |number: i64| meant.map_or(1.0, |meant| is_packed(number - meant));
    tidy(
        (-2..=2)
            .map(|by_so_many| pieces + by_so_many)
            .filter(|number| *number >= 0)
            .map(|number| (number, by(number - pieces) * truly(number)))
            .collect(),
    )
}

/// How often the sender packs so many more (or fewer) than is meant.
fn is_packed(more: i64) -> f64 {
    let some = |chance: Chance, pieces: i64| {
        // Far off, one more or fewer makes no difference.
        let further = (pieces - 1).clamp(0, 200) as i32;
        chance.happens * (1.0 - chance.more) * chance.more.powi(further)
    };
    match more {
        0 => {
            let other = [
                SHORT,
                SHORT_MANY,
                SHORT_WHOLE,
                LEFT_WHOLE,
                EXTRA,
                EXTRA_MANY,
            ];
            1.0 - other.iter().map(|chance| chance.happens).sum::<f64>()
        }
        1.. => some(EXTRA, more) + some(EXTRA_MANY, more),
        _ => some(SHORT, -more) + some(SHORT_MANY, -more),
    }
}

/// Weighed: a normal error, in whole pieces, that is within the bounds in 95 cases of 100. The two sides may differ.
pub(crate) fn weighed(least: i64, pieces: i64, most: i64) -> Odds {
    // A bound is itself still possible, so it ends half a piece farther out.
    let spread = |bound: i64| ((bound as f64).abs() + 0.5) / SPREADS_AT_95;
    let (below, above) = (spread(pieces - least), spread(most - pieces));
    let cumulated = |off: f64| {
        let spread = if off < 0.0 { below } else { above };
        0.5 * libm::erfc(-off / spread / std::f64::consts::SQRT_2)
    };
    let reach = |spread: f64| ((spread * SPREADS).ceil() as i64).min(MOST_NUMBERS / 2);
    let numbers = -reach(below)..=reach(above);
    tidy(
        numbers
            .map(|off| {
                let chance = cumulated(off as f64 + 0.5) - cumulated(off as f64 - 0.5);
                (pieces + off, chance)
            })
            .collect(),
    )
}

/// Looks that differ: the first one holds in half of all cases or a little more, the others share the rest.
pub(crate) fn looks(first: i64, others: &[i64]) -> Odds {
    let wrong = match others {
        [] => 0.0,
        _ => tally::priors::FIRST_LOOK_WRONG.happens,
    };
    let mut odds = vec![(first, 1.0 - wrong)];
    odds.extend((others.iter()).map(|look| (*look, wrong / others.len() as f64)));
    tidy(odds)
}

/// Packed by the sender: mostly whole, now and then a few short, many short, or a whole line; where more is to come,
/// also left for that.
pub(crate) fn packed(pieces: i64, more_to_come: bool) -> Odds {
    let left = if more_to_come {
        LEFT_WHOLE.happens
    } else {
        0.0
    };
    let mut odds = vec![(0, SHORT_WHOLE.happens + left)];
    some_short(&mut odds, pieces, SHORT);
    if pieces >= MANY {
        some_short(&mut odds, pieces, SHORT_MANY);
    }
    let short: f64 = odds.iter().map(|(_, chance)| chance).sum();
    odds.push((pieces, 1.0 - short));
    tidy(odds)
}

/// Bundles that nobody opened: as labelled, or a few short. They are there, so the whole of them is not missing.
pub(crate) fn labelled(pieces: i64) -> Odds {
    let mut odds = Vec::new();
    some_short(&mut odds, pieces, SHORT);
    let short: f64 = odds.iter().map(|(_, chance)| chance).sum();
    odds.push((pieces, 1.0 - short));
    tidy(odds)
}

fn some_short(odds: &mut Odds, pieces: i64, chance: Chance) {
    let told_apart = pieces.clamp(0, MOST_SHORT);
    let mut of_so_many = chance.happens * (1.0 - chance.more);
    let mut rest = chance.happens;
    for short in 1..told_apart {
        odds.push((pieces - short, of_so_many));
        rest -= of_so_many;
        of_so_many *= chance.more;
    }
    odds.push((0, rest));
}

/// The same, where the number itself is not clear: else nothing.
pub(crate) fn unclear(odds: Odds) -> Odds {
    let mut all = vec![(0, 1.0 - UNCLEAR_HOLDS)];
    all.extend((odds.into_iter()).map(|(n, chance)| (n, chance * UNCLEAR_HOLDS)));
    tidy(all)
}

/// So many fewer, but not fewer than none.
pub(crate) fn less(odds: &Odds, fewer: i64) -> Odds {
    tidy(
        (odds.iter())
            .map(|(n, chance)| ((n - fewer).max(0), *chance))
            .collect(),
    )
}

/// The sum of two that are independent.
pub(crate) fn sum(one: &Odds, other: &Odds) -> Odds {
    match (one.as_slice(), other.as_slice()) {
        ([(n, _)], _) => other.iter().map(|(m, chance)| (n + m, *chance)).collect(),
        (_, [(m, _)]) => one.iter().map(|(n, chance)| (n + m, *chance)).collect(),
        _ => tidy(
            (one.iter())
                .flat_map(|(n, p)| other.iter().map(move |(m, q)| (n + m, p * q)))
                .collect(),
        ),
    }
}

/// The likeliest number; of equals the greatest.
pub(crate) fn likeliest(odds: &Odds) -> i64 {
    let best = odds.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    best.map_or(0, |(n, _)| *n)
}

/// Rising, each number once, adding up to 1.
fn tidy(mut odds: Odds) -> Odds {
    odds.retain(|(_, chance)| *chance > 0.0);
    odds.sort_by_key(|(n, _)| *n);
    odds.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
    let all: f64 = odds.iter().map(|(_, chance)| chance).sum();
    if all <= 0.0 {
        return sure(0);
    }
    odds.iter_mut().for_each(|(_, chance)| *chance /= all);
    odds
}
