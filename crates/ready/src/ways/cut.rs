//! How a bar is cut: every way of cutting some lengths from it that leaves nothing of use.
//!
//! One-dimensional cutting stock by its patterns (Gilmore and Gomory's columns, all of them written down): chosen in whole
//! numbers under what is wanted, they give the exact optimum over several bars at once. Patterns that could give one more
//! piece are left out, for a piece too many costs nothing.

/// A length that is wanted; all in nanometres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Without its swage.
    pub length: i64,
    /// The swage that it must keep, which only a factory makes; nothing where both ends are cut square.
    pub swage: Option<i64>,
    /// No pattern makes more of it.
    pub most: i64,
}

/// What is cut; all in nanometres.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Without its swages: what lies between them.
    pub length: i64,
    /// Its swaged ends.
    pub swages: Vec<i64>,
}

/// How many of each wanted length one bar gives.
pub type Pattern = Vec<i64>;

/// Swages this much apart still fit each other: 1/4 in (ours, no source).
const SWAGES_ALIKE: i64 = 6_350_000;
/// So many looks, and then the rest of the patterns stays unseen.
const MOST_LOOKS: usize = 400_000;

/// Every pattern that no piece can be added to, and whether these are all; no more than `most` are given.
///
/// Each cut takes a kerf but the one that would leave just nothing. A swage that no piece keeps is sawn off within its own
/// length.
pub fn patterns(wanted: &[Wanted], bar: &Bar, kerf: i64, most: usize) -> (Vec<Pattern>, bool) {
    let mut order: Vec<usize> = (0..wanted.len())
        .filter(|at| wanted[*at].length > 0 && wanted[*at].most > 0)
        .collect();
    order.sort_by_key(|at| std::cmp::Reverse(wanted[*at].length));
    let mut search = Search {
        wanted,
        bar,
        kerf,
        order,
        most,
        counts: vec![0; wanted.len()],
        found: Vec::new(),
        looks: 0,
        whole: true,
    };
    search.from(0, bar.length + kerf);
    (search.found, search.whole)
}

struct Search<'a> {
    wanted: &'a [Wanted],
    bar: &'a Bar,
    kerf: i64,
    /// The longest first.
    order: Vec<usize>,
    most: usize,
    counts: Pattern,
    found: Vec<Pattern>,
    looks: usize,
    whole: bool,
}

impl Search<'_> {
    /// Goes on with the lengths from `next` of the order, with `free` left (a kerf more than there is).
    fn from(&mut self, next: usize, free: i64) {
        self.looks += 1;
        if self.looks > MOST_LOOKS || self.found.len() >= self.most {
            self.whole = false;
            return;
        }
        let Some(&at) = self.order.get(next) else {
            if self.counts.iter().any(|n| *n > 0) && !self.takes_another(free) {
                self.found.push(self.counts.clone());
            }
            return;
        };
        let each = self.wanted[at].length + self.kerf;
        let fits = (free / each).min(self.wanted[at].most);
        let fits = fits.min(self.swages_for(at));
        for count in (0..=fits).rev() {
            self.counts[at] = count;
            self.from(next + 1, free - count * each);
        }
        self.counts[at] = 0;
    }

    fn takes_another(&self, free: i64) -> bool {
        self.order.iter().any(|&at| {
            let wanted = &self.wanted[at];
            self.counts[at] < wanted.most
                && wanted.length + self.kerf <= free
                && self.swages_for(at) > 0
        })
    }

    /// How many more pieces of a length find a swage at the bar's ends, beside those that were chosen.
    fn swages_for(&self, at: usize) -> i64 {
        let Some(swage) = self.wanted[at].swage else {
            return i64::MAX;
        };
        let alike = |one: i64, other: i64| (one - other).abs() <= SWAGES_ALIKE;
        let there = self.bar.swages.iter().filter(|s| alike(**s, swage)).count();
        let taken: i64 = (self.wanted.iter().zip(&self.counts))
            .filter(|(wanted, _)| wanted.swage.is_some_and(|s| alike(s, swage)))
            .map(|(_, count)| count)
            .sum();
        there as i64 - taken
    }
}
