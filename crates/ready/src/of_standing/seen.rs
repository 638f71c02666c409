//! What people counted of a mark, pile by pile.

use tally::{Agreement, PileSeen, Seen};

use crate::odds::{self, Odds};
use crate::supply::{Rests, Share};

use super::share;

/// A share for each kind of count: by piece, weighed, in doubt. Piles of one kind are one share.
pub(super) fn counted(seen: &Seen) -> Vec<Share> {
    let mut kinds: Vec<(Rests, Odds, Vec<String>)> = Vec::new();
    for pile in seen.piles() {
        for (rests, odds, says) in of_pile(&pile) {
            match kinds.iter_mut().find(|(known, _, _)| *known == rests) {
                Some((_, sum, all)) => {
                    *sum = odds::sum(sum, &odds);
                    all.push(says);
                }
                None => kinds.push((rests, odds, vec![says])),
            }
        }
    }
    kinds.sort_by_key(|(rests, _, _)| *rests);
    (kinds.into_iter())
        .map(|(rests, odds, says)| {
            let says = match (rests, says.as_slice()) {
                (_, [one]) => one.clone(),
                (Rests::Counted, all) => {
                    format!("{} counted in {} piles", odds::likeliest(&odds), all.len())
                }
                (_, all) => all.join("; "),
            };
            share(rests, odds, None, says)
        })
        .collect()
}

fn of_pile(pile: &PileSeen) -> Vec<(Rests, Odds, String)> {
    let stands = pile.stands;
    let agreed = pile.agreement == Agreement::Agreed;
    if pile.agreement == Agreement::Differ {
        return vec![differing(pile)];
    }
    if pile.least < pile.most {
        let says = format!(
            "{stands} by weight or length, {} to {}",
            pile.least, pile.most
        );
        let odds = odds::weighed(pile.least, stands, pile.most);
        return vec![(Rests::Weighed, odds, says)];
    }
    let mut shares = Vec::new();
    let closed = pile.unopened.clamp(0, stands);
    if stands > closed || closed == 0 {
        let pieces = stands - closed;
        let twice = if agreed { ", twice" } else { "" };
        let says = format!("{pieces} counted{twice}");
        shares.push((Rests::Counted, odds::counted(pieces, agreed), says));
    }
    if closed > 0 {
        let says = format!("{closed} in closed bundles, as labelled");
        shares.push((Rests::Doubtful, odds::labelled(closed), says));
    }
    shares
}

/// Each number that a look came to; what was counted since lies beside it in any case.
fn differing(pile: &PileSeen) -> (Rests, Odds, String) {
    let first = pile.looks.first().map_or(0, |look| look.quantity);
    let since = pile.stands - first;
    let mut others: Vec<i64> = pile
        .looks
        .iter()
        .map(|look| look.quantity + since)
        .collect();
    others.retain(|other| *other != pile.stands);
    others.dedup();
    let mut numbers = vec![pile.stands.to_string()];
    numbers.extend(others.iter().map(i64::to_string));
    let says = format!("looks differ: {}", numbers.join(" or "));
    (Rests::Doubtful, odds::looks(pile.stands, &others), says)
}
