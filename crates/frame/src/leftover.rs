//! What is left of cut pieces, used for shorter ones: the fewest whole pieces that all cuts of a mark come from.
//!
//! One-dimensional cutting stock with one stock length. Exact: a branch and bound between the sum bound and the
//! first-fit answer, which for the cuts of a house ends at once; should it not, the answer says that it is not proven.

use std::collections::BTreeMap;

use measure::Length;

use crate::expand::Raising;
use crate::family_file::Leftovers;
use crate::graph::Cut;

/// One piece to be cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Item {
    /// Length without its swage, in nanometres.
    pub size: i64,
    /// It keeps the swaged end, of which each whole piece has one.
    pub swaged: bool,
}

/// Which whole piece each item comes from.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Packed {
    pub from: Vec<usize>,
    pub stock: usize,
    /// No fewer would do.
    pub proven: bool,
}

/// Looks at a piece that is being cut before the search gives up on a proof: some hundredths of a second.
const MOST_LOOKS: usize = 2_000_000;
/// Of more items than this nothing is searched, since each one takes a place on the stack; no house has as many.
const MOST_SEARCHED: usize = 1_000;
/// So many of the last pieces are looked at for a place, and so many bounds are tried; no house has as many either.
const MOST_OPEN: usize = 1_000;

impl Raising<'_> {
    /// Cuts the shorter pieces of each mark from what is left of others, where that saves a whole one.
    pub(crate) fn share_leftovers(&mut self) {
        let kerf = self.family.cutting.kerf.unwrap_or_default().as_nanometres();
        let mut cut: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (i, piece) in self.pieces.iter().enumerate() {
            if piece.cut_to.is_some() {
                cut.entry(piece.mark.0.clone()).or_default().push(i);
            }
        }
        for (mark, mut pieces) in cut {
            let Some(file) = self.family.part_file(&mark) else {
                continue;
            };
            let Some(overall) = file.length else { continue };
            let swage = file.swage().as_nanometres();
            // The longest first, so that a whole piece is counted where its longest cut lies.
            pieces.sort_by_key(|i| std::cmp::Reverse(self.pieces[*i].cut_to));
            let items: Vec<Item> = pieces.iter().map(|i| self.item(*i, swage)).collect();
            let capacity = overall.as_nanometres() - swage;
            let packed = match self.family.cutting.leftovers {
                Leftovers::Used => pack(&items, capacity, kerf),
                Leftovers::Reserve => Packed {
                    from: (0..items.len()).collect(),
                    stock: items.len(),
                    proven: true,
                },
            };
            let mut first: BTreeMap<usize, usize> = BTreeMap::new();
            for (&piece, &stock) in pieces.iter().zip(&packed.from) {
                match first.get(&stock) {
                    None => _ = first.insert(stock, piece),
                    Some(&whole) => self.pieces[piece].left_from = Some(whole),
                }
            }
            let used: i64 = (pieces.iter())
                .filter_map(|i| self.pieces[*i].cut_to)
                .map(|length| length.as_nanometres())
                .sum();
            self.cuts.push(Cut {
                mark: crate::part::Mark(mark),
                pieces: pieces.len(),
                stock: packed.stock,
                waste: Length::nanometres(overall.as_nanometres() * packed.stock as i64 - used),
                proven: packed.proven,
            });
        }
    }

    fn item(&self, piece: usize, swage: i64) -> Item {
        let piece = &self.pieces[piece];
        let cut_to = piece.cut_to.unwrap_or_default().as_nanometres();
        let shows = ((piece.to - piece.from) * 1e9) as i64;
        // A piece cut between two others keeps its swage beyond what shows.
        let swaged = swage > 0 && cut_to - shows > swage / 2;
        Item {
            size: if swaged { cut_to - swage } else { cut_to },
            swaged,
        }
    }
}

/// One whole piece while it is being cut.
#[derive(Clone, Copy, PartialEq)]
struct Bin {
    free: i64,
    swage_gone: bool,
}

impl Bin {
    fn takes(&self, item: Item) -> bool {
        item.size <= self.free && !(item.swaged && self.swage_gone)
    }

    fn with(&self, item: Item, kerf: i64) -> Self {
        Self {
            free: self.free - item.size - kerf,
            swage_gone: self.swage_gone || item.swaged,
        }
    }
}

/// The fewest whole pieces of a capacity, each cut taking a kerf. Items must come the longest first and fit.
pub(crate) fn pack(items: &[Item], capacity: i64, kerf: i64) -> Packed {
    let whole = Bin {
        free: capacity,
        swage_gone: false,
    };
    let first_fit = first_fit(items, whole, kerf);
    let bound = bound(items, capacity, kerf);
    if first_fit.stock <= bound {
        return first_fit;
    }
    if items.len() > MOST_SEARCHED {
        return Packed {
            proven: false,
            ..first_fit
        };
    }
    let mut search = Search {
        items,
        whole,
        kerf,
        best: first_fit,
        looks: 0,
        from: vec![0; items.len()],
        bins: Vec::new(),
    };
    let rest = items.iter().map(|item| item.size).sum();
    search.place(0, rest);
    search.best.proven = search.looks < MOST_LOOKS;
    search.best
}

/// No fewer than this: as many as keep a swage, or as the lengths need.
///
/// Of the lengths by the bound of Martello and Toth: with a kerf on each, pieces that leave less than `small` need a
/// whole one each, those over half a whole one too, and what these leave takes the smaller ones down to `small`; the
/// best of every `small` holds (Knapsack Problems, 1990, section 8.3, from memory).
fn bound(items: &[Item], capacity: i64, kerf: i64) -> usize {
    let whole = (capacity + kerf).max(1);
    let sizes: Vec<i64> = items.iter().map(|item| item.size + kerf).collect();
    let is_large = |size: i64| 2 * size > whole;
    let mut smalls: Vec<i64> = sizes.iter().copied().filter(|s| !is_large(*s)).collect();
    smalls.push(0);
    smalls.sort_unstable();
    smalls.dedup();
    smalls.truncate(MOST_OPEN);
    let by_lengths = smalls.into_iter().map(|small| {
        let (mut bins, mut left, mut smaller) = (0, 0, 0);
        for &size in &sizes {
            if is_large(size) {
                bins += 1;
                left += if whole - size >= small {
                    whole - size
                } else {
                    0
                };
            } else if size >= small {
                smaller += size;
            }
        }
        bins + ((smaller - left).max(0) + whole - 1) / whole
    });
    let swaged = items.iter().filter(|item| item.swaged).count();
    usize::try_from(by_lengths.max().unwrap_or(0))
        .unwrap_or(0)
        .max(swaged)
}

fn first_fit(items: &[Item], whole: Bin, kerf: i64) -> Packed {
    let mut bins: Vec<Bin> = Vec::new();
    let mut from = Vec::with_capacity(items.len());
    for item in items {
        let open = bins.len().saturating_sub(MOST_OPEN);
        let found = bins[open..].iter().position(|bin| bin.takes(*item));
        let bin = found.map(|bin| open + bin).unwrap_or_else(|| {
            bins.push(whole);
            bins.len() - 1
        });
        bins[bin] = bins[bin].with(*item, kerf);
        from.push(bin);
    }
    Packed {
        from,
        stock: bins.len(),
        proven: true,
    }
}

struct Search<'a> {
    items: &'a [Item],
    whole: Bin,
    kerf: i64,
    best: Packed,
    looks: usize,
    from: Vec<usize>,
    bins: Vec<Bin>,
}

impl Search<'_> {
    /// Places the items from `next` on, whose sizes sum to `rest`, in every way that could need fewer.
    fn place(&mut self, next: usize, rest: i64) {
        self.looks += 1 + self.bins.len();
        if self.looks >= MOST_LOOKS {
            return;
        }
        let Some(&item) = self.items.get(next) else {
            self.best = Packed {
                from: self.from.clone(),
                stock: self.bins.len(),
                proven: true,
            };
            return;
        };
        let free: i64 = self.bins.iter().map(|bin| bin.free.max(0)).sum();
        let more = (rest - free).max(0);
        let least = (more + self.whole.free - 1) / self.whole.free.max(1);
        if self.bins.len() as i64 + least >= self.best.stock as i64 {
            return;
        }
        let mut tried: Vec<Bin> = Vec::new();
        for bin in 0..self.bins.len() {
            let before = self.bins[bin];
            // Two pieces that are cut alike are one choice.
            if !before.takes(item) || tried.contains(&before) {
                continue;
            }
            tried.push(before);
            self.bins[bin] = before.with(item, self.kerf);
            self.from[next] = bin;
            self.place(next + 1, rest - item.size);
            self.bins[bin] = before;
        }
        if self.bins.len() + 1 < self.best.stock {
            self.bins.push(self.whole.with(item, self.kerf));
            self.from[next] = self.bins.len() - 1;
            self.place(next + 1, rest - item.size);
            self.bins.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn items(sizes: &[i64]) -> Vec<Item> {
        let mut sizes = sizes.to_vec();
        sizes.sort_by_key(|size| std::cmp::Reverse(*size));
        let plain = |size: &i64| Item {
            size: *size,
            swaged: false,
        };
        sizes.iter().map(plain).collect()
    }

    #[test]
    fn finds_what_first_fit_does_not() {
        // First fit puts 6 with 3 and needs three pieces of 10; 6 + 4, 5 + 3 + 2 needs two.
        let found = pack(&items(&[6, 5, 4, 3, 2]), 10, 0);
        assert_eq!((found.stock, found.proven), (2, true));
        let harder = items(&[7, 6, 5, 5, 4, 4, 3, 3, 3]);
        assert_eq!(pack(&harder, 10, 0).stock, 4);
    }

    #[test]
    fn a_saw_takes_its_kerf() {
        assert_eq!(pack(&items(&[50, 50]), 100, 0).stock, 1);
        assert_eq!(pack(&items(&[50, 50]), 100, 1).stock, 2);
        assert_eq!(pack(&items(&[50, 49]), 100, 1).stock, 1);
    }

    #[test]
    fn one_swage_a_piece() {
        let swaged = Item {
            size: 10,
            swaged: true,
        };
        assert_eq!(pack(&[swaged; 3], 100, 0).stock, 3);
    }

    /// Against every way of putting small sets of cuts into pieces.
    #[test]
    fn as_few_as_by_trying_everything() {
        fn fewest(sizes: &[i64], bins: &mut Vec<i64>, capacity: i64) -> usize {
            let Some((first, rest)) = sizes.split_first() else {
                return bins.len();
            };
            bins.push(*first);
            let mut best = fewest(rest, bins, capacity);
            bins.pop();
            for i in 0..bins.len() {
                if bins[i] + first <= capacity {
                    bins[i] += first;
                    best = best.min(fewest(rest, bins, capacity));
                    bins[i] -= first;
                }
            }
            best
        }
        // A small generator of our own, so that the cases are the same each time.
        let mut state = 7_u64;
        let mut next = |below: u64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            (state >> 33) % below
        };
        for _ in 0..400 {
            let capacity = 20 + next(20) as i64;
            let sizes: Vec<i64> = (0..2 + next(6))
                .map(|_| 1 + next(capacity as u64) as i64)
                .collect();
            let found = pack(&items(&sizes), capacity, 0);
            assert!(found.proven);
            assert_eq!(
                found.stock,
                fewest(&sizes, &mut Vec::new(), capacity),
                "{sizes:?}"
            );
        }
    }

    #[test]
    fn thousands_of_cuts_end_all_the_same() {
        let sizes: Vec<i64> = (0..60_000).map(|i| 1_000 + i * 37 % 50_021).collect();
        let started = std::time::Instant::now();
        let found = pack(&items(&sizes), 100_000, 1);
        let least = sizes.iter().map(|size| size + 1).sum::<i64>() / 100_001;
        assert!(found.stock as i64 >= least && found.from.len() == sizes.len());
        assert!(started.elapsed() < std::time::Duration::from_secs(20));
        // Hundreds of cuts of a third and a bit, of which no search could tell in time that two a piece is best.
        let sizes: Vec<i64> = (0..400).map(|i| 25_000 + i * 61 % 25_013).collect();
        let started = std::time::Instant::now();
        pack(&items(&sizes), 100_000, 1);
        assert!(started.elapsed() < std::time::Duration::from_secs(5));
    }

    /// With kerfs and swages, against every way of putting small sets of cuts into pieces.
    #[test]
    fn kerfs_and_swages_against_trying_everything() {
        fn fewest(items: &[Item], bins: &mut Vec<(i64, bool)>, capacity: i64, kerf: i64) -> usize {
            let Some((first, rest)) = items.split_first() else {
                return bins.len();
            };
            bins.push((first.size, first.swaged));
            let mut best = fewest(rest, bins, capacity, kerf);
            bins.pop();
            for i in 0..bins.len() {
                let before = bins[i];
                let used = before.0 + kerf + first.size;
                if used <= capacity && !(before.1 && first.swaged) {
                    bins[i] = (used, before.1 || first.swaged);
                    best = best.min(fewest(rest, bins, capacity, kerf));
                    bins[i] = before;
                }
            }
            best
        }
        let mut state = 11_u64;
        let mut next = |below: u64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            (state >> 33) as i64 % below as i64
        };
        for _ in 0..600 {
            let (capacity, kerf) = (20 + next(20), next(4));
            let count = 2 + next(6);
            let mut items: Vec<Item> = (0..count)
                .map(|_| Item {
                    size: 1 + next(capacity as u64),
                    swaged: next(3) == 0,
                })
                .collect();
            items.sort_by_key(|item| std::cmp::Reverse(item.size));
            let found = pack(&items, capacity, kerf);
            let best = fewest(&items, &mut Vec::new(), capacity, kerf);
            assert!(found.proven && bound(&items, capacity, kerf) <= best);
            assert_eq!(found.stock, best, "{items:?} {capacity} {kerf}");
        }
    }
}
