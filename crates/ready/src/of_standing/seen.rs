//! What people counted of a mark, pile by pile.

use tally::{Agreement, PileSeen, Seen};

use crate::odds::{self, Odds};
use crate::supply::{Rests, Share};

use super::share;

/// A share for each kind of count: by piece, weighed, in doubt. Piles of one kind are one share. `meant`: so many the
/// sender means to have packed, as far as is known.
pub(super) fn counted(seen: &Seen, meant: Option<i64>) -> Vec<Share> {
    let mut by_piece: Vec<Looked> = Vec::new();
    let mut kinds: Vec<(Rests, Odds, Vec<String>)> = Vec::new();
    for pile in seen.piles() {
        let (looked, other) = of_pile(&pile);
        by_piece.extend(looked);
        if let Some((rests, odds, says)) = other {
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
    // What else was seen of the mark is in doubt, so that the sum is held against nothing.
    let meant = meant.filter(|_| kinds.is_empty());
    let mut shares: Vec<Share> = together(&by_piece, meant).into_iter().collect();
    shares.extend(
        (kinds.into_iter()).map(|(rests, odds, says)| share(rests, odds, None, says.join("; "))),
    );
    shares
}

/// Pieces counted one by one in a pile.
struct Looked {
    pieces: i64,
    /// Two people agree on them.
    agreed: bool,
}

fn together(piles: &[Looked], meant: Option<i64>) -> Option<Share> {
    let pieces = piles
        .iter()
        .fold(0_i64, |sum, pile| sum.saturating_add(pile.pieces));
    let off: f64 = (piles.iter().filter(|pile| !pile.agreed))
        .map(|pile| odds::off(pile.pieces))
        .sum();
    let says = match piles {
        [] => return None,
        [one] if one.agreed => format!("{pieces} counted, twice"),
        [_] => format!("{pieces} counted"),
        all => format!("{pieces} counted in {} piles", all.len()),
    };
    let odds = odds::counted(pieces, off.min(0.5), meant);
    Some(Share {
        // What was counted is shown, however few of it the list has.
        pieces,
        ..share(Rests::Counted, odds, None, says)
    })
}

/// What of a pile was counted piece by piece, and what in another way.
fn of_pile(pile: &PileSeen) -> (Option<Looked>, Option<(Rests, Odds, String)>) {
    let stands = pile.stands;
    if pile.agreement == Agreement::Differ {
        return (None, Some(differing(pile)));
    }
    if pile.least < pile.most {
        let says = format!(
            "{stands} by weight or length, {} to {}",
            pile.least, pile.most
        );
        let odds = odds::weighed(pile.least, stands, pile.most);
        return (None, Some((Rests::Weighed, odds, says)));
    }
    let closed = pile.unopened.clamp(0, stands);
    let looked = (stands > closed || closed == 0).then(|| Looked {
        pieces: stands - closed,
        agreed: pile.agreement == Agreement::Agreed,
    });
    let labelled = (closed > 0).then(|| {
        let says = format!("{closed} in closed bundles, as labelled");
        (Rests::Doubtful, odds::labelled(closed), says)
    });
    (looked, labelled)
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
