//! Good ways to give the pieces, found without a programme: every node in turn takes what it needs, once from the front of
//! the house and once from its back, with no bow left out and with a few.
//!
//! Shortages of one house mostly fall together at one of its ends, so that a guess often is as good as can be: the programme
//! then has only to prove it.

use std::collections::{BTreeMap, BTreeSet};

use super::open::Open;
use crate::build::Build;

/// At most so many bows are left out in a guess.
const MOST_LEFT_OUT: usize = 6;
/// The bows of a guess that are left out begin at one of so many places from the end that gives.
const PLACES: usize = 6;

/// What is done of each node, and whether each bow that may be left out is.
#[derive(Clone, Debug)]
pub(super) struct Guess {
    /// By node: how many.
    pub nodes: Vec<i64>,
    /// By bow of [`Open::bows`].
    pub left_out: Vec<bool>,
}

/// Several guesses. Bows that are left out may turn out to have no standing neighbour: the programme's limits tell.
pub(super) fn guesses(build: &Build, open: &Open) -> Vec<Guess> {
    let mut guesses = Vec::new();
    for from_back in [false, true] {
        let order = order(build, open, from_back);
        let none = Guess {
            nodes: vec![0; open.nodes.len()],
            left_out: vec![false; open.bows.len()],
        };
        let whole = grown(open, &order, none.clone());
        let stands = |bow: &usize| {
            let of_bow = &open.bows[*bow].stands;
            of_bow.iter().all(|node| whole.nodes[*node] > 0)
        };
        let missing = (0..open.bows.len()).filter(|bow| !stands(bow)).count();
        guesses.push(whole.clone());
        for stage in 0..build.stages.len() {
            guesses.extend(asked(build, open, &order, stage, none.clone()));
        }
        // From the end that gives: the back, where the front takes first.
        let mut may: Vec<usize> = (0..open.bows.len()).collect();
        may.retain(|bow| open.bows[*bow].may);
        if !from_back {
            may.reverse();
        }
        for first in 0..PLACES.min(may.len()) {
            let mut apart: Vec<usize> = Vec::new();
            for bow in &may[first..] {
                let beside =
                    |other: &usize| open.bows[*other].bow.abs_diff(open.bows[*bow].bow) < 2;
                if !apart.last().is_some_and(beside) {
                    apart.push(*bow);
                }
            }
            for count in 1..=missing.min(MOST_LEFT_OUT).min(apart.len()) {
                let mut guess = none.clone();
                for bow in &apart[..count] {
                    guess.left_out[*bow] = true;
                }
                guesses.push(grown(open, &order, guess));
            }
        }
    }
    guesses
}

/// First the units of one stage, each with all that comes before it, then what else there are pieces for; nothing where the
/// stage has none.
fn asked(
    build: &Build,
    open: &Open,
    order: &[usize],
    stage: usize,
    mut guess: Guess,
) -> Option<Guess> {
    let is_of_stage = |node: &&usize| {
        let mut units = open.nodes[**node].units.iter();
        units.any(|unit| build.units[*unit].stage == stage)
    };
    let mut left = open.there.clone();
    let mut any = false;
    for node in order.iter().filter(is_of_stage) {
        any = true;
        let mut with = BTreeMap::new();
        let mut looked = vec![(*node, 1)];
        while let Some((at, amount)) = looked.pop() {
            if guess.nodes[at] < amount && with.insert(at, amount).is_none() {
                let before = open.nodes[at].after.iter();
                looked.extend(before.map(|(before, _)| (*before, open.nodes[*before].most.max(1))));
            }
        }
        let mut after = left.clone();
        for (at, amount) in &with {
            for (mark, pieces) in &open.nodes[*at].needs {
                after[*mark] -= pieces * (amount - guess.nodes[*at]);
            }
        }
        let can = with
            .iter()
            .all(|(at, amount)| *amount <= open.nodes[*at].most);
        if can && after.iter().all(|pieces| *pieces >= 0) {
            left = after;
            for (at, amount) in with {
                guess.nodes[at] = amount;
            }
        }
    }
    any.then(|| grown(open, order, guess))
}

/// A guess with all added to it that there are pieces for, from the front.
pub(super) fn more(build: &Build, open: &Open, guess: Guess) -> Guess {
    grown(open, &order(build, open, false), guess)
}

/// The nodes stage by stage, and within a stage from one end. What is only a shared piece is taken with its first use.
fn order(build: &Build, open: &Open, from_back: bool) -> Vec<usize> {
    let key = |node: &usize| {
        let unit = &build.units[open.nodes[*node].units[0]];
        let bow = match from_back {
            true => build.bows.saturating_sub(unit.bows[1]),
            false => unit.bows[0],
        };
        (unit.stage, bow, *node)
    };
    let mut order: Vec<usize> = (0..open.nodes.len())
        .filter(|node| !open.nodes[*node].units.is_empty())
        .collect();
    order.sort_by_key(key);
    order
}

fn grown(open: &Open, order: &[usize], mut guess: Guess) -> Guess {
    let mut left = open.there.clone();
    for (node, amount) in open.nodes.iter().zip(&guess.nodes) {
        for (mark, pieces) in &node.needs {
            left[*mark] -= pieces * amount;
        }
    }
    let barred: BTreeSet<usize> = (open.bows.iter().zip(&guess.left_out))
        .filter(|(_, out)| **out)
        .flat_map(|(bow, _)| bow.stands.iter().copied())
        .collect();
    // What comes first within a stage may stand behind in this order: once more takes it.
    for node in order.iter().chain(order) {
        let of = &open.nodes[*node];
        if barred.contains(node) {
            continue;
        }
        let is_done =
            |guess: &Guess, before: usize| guess.nodes[before] >= open.nodes[before].most.max(1);
        let pieces: Vec<usize> = (of.after.iter())
            .map(|(before, _)| *before)
            .filter(|before| open.nodes[*before].units.is_empty() && !is_done(&guess, *before))
            .collect();
        let ready = of.after.iter().all(|(before, bow)| {
            is_done(&guess, *before)
                || bow.is_some_and(|bow| guess.left_out[bow])
                || (pieces.contains(before) && open.nodes[*before].most > 0)
        });
        if !ready {
            continue;
        }
        let mut with = pieces;
        while guess.nodes[*node] < of.most {
            let taken = with.iter().chain([node]);
            let needs: Vec<(usize, i64)> = (taken)
                .flat_map(|node| open.nodes[*node].needs.iter().copied())
                .collect();
            for (mark, pieces) in &needs {
                left[*mark] -= pieces;
            }
            if needs.iter().any(|(mark, _)| left[*mark] < 0) {
                for (mark, pieces) in &needs {
                    left[*mark] += pieces;
                }
                break;
            }
            for piece in with.drain(..) {
                guess.nodes[piece] = 1;
            }
            guess.nodes[*node] += 1;
        }
    }
    guess
}
