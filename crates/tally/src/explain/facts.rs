//! What is known of a job, as the hypotheses ask for it.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use frame::Mark;

use crate::difference::{Difference, MarkDifference};
use crate::explain::background::Background;
use crate::fold::State;
use crate::how::How;
use crate::list_standing::ListStanding;
use crate::on_hand::Seen;
use crate::standing::{Ordered, Standing};

/// What is known of a job.
pub(crate) struct Facts<'a> {
    pub standing: &'a Standing,
    pub ordered: &'a Ordered,
    pub difference: &'a Difference,
    pub back: &'a Background,
    /// Whether every list could be read.
    pub whole: bool,
    /// The rows that may be something else.
    pub doubtful: Vec<DoubtfulRow>,
    /// The shipments that have not arrived.
    pub expected: Vec<&'a str>,
    /// Those of which no list tells what they bring.
    pub unlisted: Vec<&'a str>,
    /// The piles that somebody gave a place, and of which nobody has counted anything.
    pub named_uncounted: Vec<&'a str>,
    /// Of each share of the kit, by its name in lower case as order or list has it: its marks.
    of_share: BTreeMap<String, BTreeSet<usize>>,
    /// Of these names, those that the lists have.
    named: BTreeSet<String>,
    /// The marks of each that were found: counted, and more than the other shares hold.
    found: BTreeMap<String, BTreeSet<usize>>,
    /// By mark, how many make a bundle on the lists.
    bundles: BTreeMap<usize, BTreeSet<i64>>,
    /// What was measured, as asked for before.
    measured: RefCell<BTreeMap<MeasuredAs, MeasuredOf>>,
}

/// What a pile is called, what it may hold, and the pile.
type MeasuredAs = (usize, usize, Option<String>);

/// A row of a list that may be something else than it was read as.
pub(crate) struct DoubtfulRow {
    /// Such as "row 14".
    pub at: String,
    pub quantity: i64,
    /// What it was read as; none of this order where that is none.
    pub mark: Option<usize>,
    /// What it may be, with how likely that is for each time that it is what it was read as.
    pub others: Vec<(usize, f64)>,
}

/// How much of a share of the kit was counted, one mark left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CountedOf {
    None,
    Some,
    Most,
}

/// What was measured of a pile of one mark that looks like another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct MeasuredOf {
    /// Pieces that are what the pile is called.
    pub as_called: i64,
    /// Pieces that are the other mark.
    pub as_other: i64,
}

impl<'a> Facts<'a> {
    /// What is known of a job whose difference this is; `but`: with one of its lists left out.
    pub fn of(
        standing: &'a Standing,
        difference: &'a Difference,
        but: Option<usize>,
    ) -> Option<Self> {
        let ordered = standing.ordered()?;
        let back = ordered.background();
        let mut of_share = back.of_share.clone();
        let mut named = BTreeSet::new();
        for (place, mark) in difference.marks.iter().enumerate() {
            for row in mark.rows.iter().filter(|row| !row.sub_kit.is_empty()) {
                let share = of_share.entry(row.sub_kit.to_lowercase()).or_default();
                share.insert(place);
                named.insert(row.sub_kit.to_lowercase());
            }
        }
        let lists: Vec<&ListStanding> = (standing.lists.iter().enumerate())
            .filter(|(nth, _)| Some(*nth) != but)
            .map(|(_, list)| list)
            .collect();
        let expected: Vec<&str> = (standing.shipments.iter())
            .filter(|(_, arrived)| !**arrived)
            .map(|(name, _)| name.as_str())
            .collect();
        let rows = || lists.iter().flat_map(|list| &list.rows);
        let is_listed = |name: &str| rows().any(|row| row.shipment.as_deref() == Some(name));
        Some(Self {
            standing,
            ordered,
            difference,
            back,
            whole: !lists.is_empty() && lists.iter().all(|list| list.is_whole()),
            doubtful: doubtful_rows(&lists, back),
            unlisted: (expected.iter().copied())
                .filter(|name| !is_listed(name))
                .collect(),
            expected,
            named_uncounted: named_uncounted(&standing.state),
            found: (of_share.iter())
                .map(|(share, marks)| {
                    let is_found = |place: &usize| {
                        let mark = &difference.marks[*place];
                        mark.on_hand.counted > elsewhere(mark, &back.shares[*place], share)
                    };
                    let found = marks.iter().copied().filter(is_found).collect();
                    (share.clone(), found)
                })
                .collect(),
            bundles: bundles_of_lists(&lists, back),
            measured: RefCell::default(),
            named,
            of_share,
        })
    }

    pub fn mark(&self, place: usize) -> &'a MarkDifference {
        &self.difference.marks[place]
    }

    pub fn seen(&self, place: usize) -> Option<&'a Seen> {
        self.standing.state.marks.get(&self.mark(place).mark)
    }

    /// How much of a share was counted, one mark left out.
    pub fn counted_of(&self, share: &str, but: usize) -> CountedOf {
        let share = share.to_lowercase();
        let marks = self.of_share.get(&share);
        let left_out = marks.is_some_and(|marks| marks.contains(&but));
        let all = marks.map_or(0, BTreeSet::len) - usize::from(left_out);
        let found = self.found.get(&share).into_iter().flatten();
        let counted = found.filter(|mark| **mark != but).count();
        match (counted, all) {
            (0, _) => CountedOf::None,
            (counted, all) if counted * 3 < all * 2 => CountedOf::Some,
            _ => CountedOf::Most,
        }
    }

    /// A share of the kit other than this one of which nothing but the mark was counted, in the sender's or the
    /// order's name: the one with the most marks.
    pub fn another_uncounted_share(&self, but_share: &str, place: usize) -> Option<&str> {
        (self.of_share.iter())
            .filter(|(share, _)| !share.eq_ignore_ascii_case(but_share))
            .filter(|(share, marks)| {
                // What comes with a later shipment is no bag that anybody could open.
                let is_here = |mark: &usize| self.mark(*mark).coming < self.mark(*mark).needed;
                marks.iter().any(|mark| *mark != place && is_here(mark))
                    && self.counted_of(share, place) == CountedOf::None
            })
            .max_by(|a, b| (a.1.len(), b.0).cmp(&(b.1.len(), a.0)))
            .map(|(share, _)| share.as_str())
    }

    /// The shares of the kit that a mark is no part of and of which something else was found, by the names on the lists
    /// where they have any: those with the most of its look-alikes first, then those with the most marks.
    pub fn opened_shares(&self, place: usize) -> Vec<&str> {
        let alike = &self.back.alike[place];
        let mut found: Vec<(usize, usize, &str)> = (self.of_share.iter())
            .filter(|(share, marks)| {
                !marks.contains(&place)
                    && self
                        .found
                        .get(*share)
                        .is_some_and(|found| !found.is_empty())
                    && (self.named.is_empty() || self.named.contains(*share))
            })
            .map(|(share, marks)| {
                let here = alike.iter().filter(|alike| marks.contains(&alike.other));
                (here.count(), marks.len(), share.as_str())
            })
            .collect();
        found.sort_by(|a, b| (b.0, b.1).cmp(&(a.0, a.1)).then(a.2.cmp(b.2)));
        found.into_iter().map(|(_, _, share)| share).collect()
    }

    /// The only share of a mark, where nothing else of it was found either: its bag may not have been opened.
    pub fn only_share_not_counted(&self, place: usize) -> Option<Share> {
        let [(name, quantity)] = self.back.shares[place].as_slice() else {
            return None;
        };
        let marks = self.of_share.get(&name.to_lowercase())?;
        let is_closed = marks.len() > 1
            && self.shares(place).is_empty()
            && self.counted_of(name, place) == CountedOf::None;
        is_closed.then(|| Share {
            name: name.clone(),
            quantity: *quantity,
        })
    }

    /// The marks that were counted and are no part of this order, with places after those of the order.
    pub fn strangers(&self) -> impl Iterator<Item = Stranger<'a>> {
        let marks = self.difference.marks.len();
        let state = &self.standing.state;
        (self.difference.strange.iter().enumerate()).map(move |(nth, (mark, on_hand))| {
            let piles = state.marks.get(mark).map_or_else(Vec::new, |s| s.piles());
            Stranger {
                place: marks + nth,
                mark,
                counted: on_hand.counted,
                pile: match piles.as_slice() {
                    [one] => one.pile.clone(),
                    _ => None,
                },
            }
        })
    }

    /// The place of a doubtful row, after those of all marks.
    pub fn place_of_row(&self, nth: usize) -> usize {
        self.difference.marks.len() + self.difference.strange.len() + nth
    }

    /// The name of the mark that a number is of, of the order or not; nothing where it is a row.
    pub fn name(&self, place: usize) -> Option<&'a str> {
        let difference = self.difference;
        let Some(nth) = place.checked_sub(difference.marks.len()) else {
            return Some(&difference.marks[place].mark);
        };
        difference.strange.keys().nth(nth).map(String::as_str)
    }

    /// The shares of a mark with their pieces: as the lists have them, then as the order has them. Nothing where there is
    /// but one. The row too, where a list has it.
    pub fn shares(&self, place: usize) -> Vec<Share> {
        let mut found: Vec<Share> = Vec::new();
        let rows = self.mark(place).rows.iter();
        for row in rows.filter(|row| !row.sub_kit.is_empty() && row.quantity > 0) {
            found.push(Share {
                name: row.sub_kit.clone(),
                quantity: row.quantity,
            });
        }
        if found.len() < 2 {
            found.clear();
        }
        let of_order = &self.back.shares[place];
        if of_order.len() > 1 {
            for (name, quantity) in of_order {
                let is_known = |share: &Share| {
                    share.quantity == *quantity && share.name.eq_ignore_ascii_case(name)
                };
                if !found.iter().any(is_known) {
                    found.push(Share {
                        name: name.clone(),
                        quantity: *quantity,
                    });
                }
            }
        }
        found
    }

    /// How many pieces of a mark make a bundle, as far as counts or lists say it.
    pub fn bundles(&self, place: usize) -> BTreeSet<i64> {
        let counts = self.seen(place).map(|seen| seen.counts.as_slice());
        let of_counts = (counts.unwrap_or_default().iter()).filter_map(|count| match count.how {
            How::Bundle { of, .. } => Some(of),
            _ => None,
        });
        let of_lists = self.bundles.get(&place).into_iter().flatten().copied();
        of_counts.chain(of_lists).filter(|size| *size > 1).collect()
    }

    /// What was measured of a pile of `called` that may hold pieces of `other`.
    pub fn measured(&self, called: usize, other: usize, pile: &Option<String>) -> MeasuredOf {
        let asked = (called, other, pile.clone());
        if let Some(known) = self.measured.borrow().get(&asked) {
            return *known;
        }
        let found = self.measure(called, other, pile);
        self.measured.borrow_mut().insert(asked, found);
        found
    }

    fn measure(&self, called: usize, other: usize, pile: &Option<String>) -> MeasuredOf {
        let kit = self.ordered.kit();
        let [called, other] = [called, other].map(|place| Mark(self.mark(place).mark.clone()));
        let mut found = MeasuredOf::default();
        let here = self.standing.state.measured.iter();
        for piece in here.filter(|piece| piece.pile == *pile) {
            let chances = [&called, &other].map(|mark| kit.chance_of(Some(mark), &piece.readings));
            let [Some(is_called), Some(is_other)] = chances else {
                continue;
            };
            let apart = crate::explain::priors::MEASURED_APART;
            if is_called > apart * is_other {
                found.as_called += 1;
            } else if is_other > apart * is_called {
                found.as_other += 1;
            }
        }
        found
    }
}

/// A mark that was counted and is no part of this order.
pub(crate) struct Stranger<'a> {
    pub place: usize,
    pub mark: &'a str,
    pub counted: i64,
    /// The pile, where there is but one.
    pub pile: Option<String>,
}

/// A share of the kit with the pieces of a mark in it.
pub(crate) struct Share {
    pub name: String,
    pub quantity: i64,
}

/// How many pieces of a mark the other shares of the kit hold, as the lists have it or else the order.
fn elsewhere(mark: &MarkDifference, of_order: &[(String, i64)], share: &str) -> i64 {
    let is_it = |name: &str| name.to_lowercase() == share;
    let rows = || {
        mark.rows
            .iter()
            .map(|row| (row.sub_kit.as_str(), row.quantity))
    };
    let order = of_order.iter().map(|(name, n)| (name.as_str(), *n));
    let shares: Vec<(&str, i64)> = match rows().any(|(name, _)| is_it(name)) {
        true => rows().collect(),
        false => order.collect(),
    };
    let others = shares.iter().filter(|(name, _)| !is_it(name));
    others.map(|(_, quantity)| quantity).sum()
}

fn named_uncounted(state: &State) -> Vec<&str> {
    let counts = state.marks.values().flat_map(|seen| &seen.counts);
    let counted: BTreeSet<&str> = counts.filter_map(|count| count.pile.as_deref()).collect();
    let named = state.places.keys().map(String::as_str);
    named.filter(|pile| !counted.contains(pile)).collect()
}

/// How many pieces a bundle holds, where a list counts by bundles.
fn bundles_of_lists(lists: &[&ListStanding], back: &Background) -> BTreeMap<usize, BTreeSet<i64>> {
    let mut found: BTreeMap<usize, BTreeSet<i64>> = BTreeMap::new();
    for list in lists {
        let Ok(read) = list.read.as_ref() else {
            continue;
        };
        for matched in list.matched.iter() {
            let row = read.rows.get(matched.row).filter(|row| row.doubt.is_none());
            let place = (matched.mark.as_ref()).and_then(|mark| back.place.get(&mark.0));
            let Some((row, place)) = row.zip(place) else {
                continue;
            };
            let written = row.written.trim_start();
            let digits = written
                .find(|c: char| !c.is_ascii_digit())
                .unwrap_or(written.len());
            let bundles: i64 = written[..digits].parse().unwrap_or(0);
            let pieces = row.quantity.unwrap_or(0);
            if bundles > 0 && pieces % bundles == 0 && pieces > bundles {
                found.entry(*place).or_default().insert(pieces / bundles);
            }
        }
    }
    found
}

/// So many rows are thought of as something else at most, the least sure of them: each takes its share of a search over
/// all that may have happened. The list of a large house has under a hundred rows, nearly all of them sure.
const MOST_DOUBTFUL_ROWS: usize = 500;

/// The rows of the lists that were held against the order; a list too long for that says nothing of single rows.
fn doubtful_rows(lists: &[&ListStanding], back: &Background) -> Vec<DoubtfulRow> {
    let mut found: Vec<(f64, DoubtfulRow)> = Vec::new();
    for list in lists.iter().filter(|list| list.is_whole()) {
        let Ok(read) = list.read.as_ref() else {
            continue;
        };
        for matched in list.matched.iter() {
            let Some(row) = read.rows.get(matched.row) else {
                continue;
            };
            let quantity = row.quantity.unwrap_or(0);
            let sure = (1.0 - matched.doubt).max(0.01);
            let others: Vec<(usize, f64)> = (matched.runners_up.iter())
                .filter_map(|(mark, share)| Some((*back.place.get(&mark.0)?, share / sure)))
                .collect();
            let place = |mark: &Mark| back.place.get(&mark.0).copied();
            let mark = matched.mark.as_ref().map(place);
            if quantity <= 0 || mark == Some(None) {
                continue;
            }
            let row = DoubtfulRow {
                at: row.at.to_string(),
                quantity,
                mark: mark.flatten(),
                others,
            };
            found.push((matched.doubt, row));
        }
    }
    if found.len() > MOST_DOUBTFUL_ROWS {
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        found.truncate(MOST_DOUBTFUL_ROWS);
    }
    found.into_iter().map(|(_, row)| row).collect()
}
