//! Everything that is offered, written as one programme in whole numbers.
//!
//! A row for each mark: what ways bring, and what need not be there. What several marks share has one column: a trip to the
//! shops, a freight, a bar that is cut for two of them, the days that the crew waits. Costs are hundredths of the
//! currency's unit; of a range the middle counts.

use std::collections::BTreeMap;

use super::fewer::Both;
use super::figures::either;
use super::offer::{Asked, Lengths, Less, Offer, Source};
use super::send::{freight_price, is_out};
use super::stock::Price;
use crate::programme::{Chosen, Is, Programme, Unsolved};

/// All that is offered.
pub(crate) struct Table<'a> {
    /// What is asked.
    pub asked: &'a Asked<'a>,
    /// The marks that the stages asked for lack.
    pub short: Vec<usize>,
    /// Ways that bring pieces.
    pub offers: Vec<Offer>,
    /// Ways by which fewer are needed.
    pub less: Vec<Less>,
    /// How pieces are made.
    pub lengths: Lengths,
}

/// The programme, and where what stands in it.
pub(crate) struct Written {
    pub programme: Programme,
    /// Pieces that each offer brings.
    pub pieces: Vec<usize>,
    /// Whether each offer is used at all.
    pub used: Vec<usize>,
    /// How often each recipe is.
    pub recipes: Vec<usize>,
    /// Whether fewer are needed by each of these.
    pub less: Vec<usize>,
    /// Whether two of these are at once (by index, the stage that waits second), where both free the same places.
    pub both: Vec<Both>,
    /// Somebody goes to the shops.
    pub trip: usize,
    /// A freight, and one with something long.
    pub freight: [usize; 2],
    /// Pieces of each short mark that stay missing, where that is allowed.
    pub missing: Vec<usize>,
}

/// What is asked of the programme.
#[derive(Clone, Copy)]
pub(crate) enum Aim<'a> {
    /// The least cost; of each short mark so many stay missing.
    Cheapest(&'a [i64]),
    /// The fewest pieces missing, whatever it costs.
    Most,
}

impl Table<'_> {
    /// Writes the programme.
    pub(crate) fn write(&self, aim: Aim) -> Written {
        let mut programme = Programme::default();
        let (paid, most) = match aim {
            Aim::Cheapest(_) => (1, false),
            Aim::Most => (0, true),
        };
        let setting = &self.asked.of.stock.setting;
        let mut written = Written {
            pieces: Vec::new(),
            used: Vec::new(),
            recipes: Vec::new(),
            less: Vec::new(),
            both: Vec::new(),
            trip: programme.column(1, paid * setting.trip.middle()),
            freight: [false, true]
                .map(|long| programme.column(1, paid * freight_price(self.asked, long).middle())),
            missing: Vec::new(),
            programme,
        };
        for offer in &self.offers {
            let price =
                offer.each.middle() + self.risk(offer.way.risk, setting.failed_piece).max(1);
            let pieces = written.programme.column(self.most(offer), paid * price);
            let opens = self.risk(offer.way.risk, setting.failed_way) + 1;
            written.pieces.push(pieces);
            written.used.push(written.programme.column(1, paid * opens));
        }
        for recipe in &self.lengths.recipes {
            let most = recipe.makes.iter().map(|(want, n)| {
                let wanted = self.lengths.wants[*want].wanted.most;
                (wanted + n - 1) / n
            });
            // A recipe beyond what any of its lengths is wanted for makes nothing more of use.
            let most = most.max().unwrap_or(0);
            let column = written
                .programme
                .column(most, paid * recipe.cost.middle().max(1));
            written.recipes.push(column);
        }
        for less in &self.less {
            let cost = less.cost.middle() + self.risk(less.risk, setting.failed_way) + 1;
            let most = i64::from(!is_out(less.stands));
            written
                .less
                .push(written.programme.column(most, paid * cost));
        }
        for &mark in self.short.iter().filter(|_| most) {
            let lacks = self.asked.lacks(mark);
            written.missing.push(written.programme.column(lacks, 1));
        }
        self.both(&mut written);
        self.marks(&mut written, aim);
        self.light(&mut written);
        self.shared(&mut written);
        self.lengths(&mut written);
        if !most {
            self.days(&mut written);
        }
        written
    }

    /// What a risk costs.
    fn risk(&self, risk: f64, price: i64) -> i64 {
        (risk * price as f64).round() as i64
    }

    /// The most pieces of an offer: no more than was allowed, none where it is out.
    fn most(&self, offer: &Offer) -> i64 {
        let lacks = self.asked.lacks(offer.mark).max(0);
        let said = self.asked.said(offer.mark, &offer.way.key);
        let allowed = said.filter(|s| s.stands == tally::WayStands::Allowed && s.quantity > 0);
        match is_out(offer.way.stands) {
            true => 0,
            false => (offer.way.pieces.min(lacks)).min(allowed.map_or(i64::MAX, |s| s.quantity)),
        }
    }

    /// Each mark has what it needs. A shorter house may need more of a mark, so that marks which are not short have a
    /// row where fewer or more of them are needed.
    fn marks(&self, written: &mut Written, aim: Aim) {
        let mut marks: Vec<usize> = self.short.clone();
        let more = self.less.iter().flat_map(|less| &less.frees);
        marks.extend(more.filter(|(_, fewer)| *fewer < 0).map(|(mark, _)| *mark));
        marks.sort_unstable();
        marks.dedup();
        for mark in marks {
            let mut terms = Vec::new();
            for (offer, column) in self.offers.iter().zip(&written.pieces) {
                if offer.mark == mark {
                    terms.push((*column, 1));
                }
            }
            terms.extend(self.fewer(written, mark, |less| &less.frees));
            let at = self.short.iter().position(|short| *short == mark);
            let stays = match (aim, at) {
                (Aim::Cheapest(stay), Some(at)) => stay.get(at).copied().unwrap_or(0),
                (Aim::Most, Some(at)) => {
                    terms.push((written.missing[at], 1));
                    0
                }
                (_, None) => 0,
            };
            written
                .programme
                .row(terms, Is::AtLeast, self.asked.lacks(mark) - stays);
        }
    }

    /// What may only go where nothing is carried has no more places than there are.
    fn light(&self, written: &mut Written) {
        for &mark in &self.short {
            let mut terms: Vec<(usize, i64)> = (self.offers.iter().zip(&written.pieces))
                .filter(|(offer, _)| offer.mark == mark && offer.light)
                .map(|(_, column)| (*column, 1))
                .collect();
            if terms.is_empty() {
                continue;
            }
            terms.extend(self.fewer(written, mark, |less| &less.frees_light));
            written
                .programme
                .row(terms, Is::AtMost, self.asked.light(mark));
        }
    }

    /// An offer is used before it brings anything; with it goes the trip, or the freight.
    fn shared(&self, written: &mut Written) {
        for (at, offer) in self.offers.iter().enumerate() {
            let used = written.used[at];
            let most = self.most(offer);
            let brings = vec![(written.pieces[at], 1), (used, -most)];
            written.programme.row(brings, Is::AtMost, 0);
            if offer.trip {
                written
                    .programme
                    .row(vec![(used, 1), (written.trip, -1)], Is::AtMost, 0);
            }
            let [short, long] = written.freight;
            match offer.freight {
                Some(true) => written
                    .programme
                    .row(vec![(used, 1), (long, -1)], Is::AtMost, 0),
                Some(false) => {
                    let terms = vec![(used, 1), (short, -1), (long, -1)];
                    written.programme.row(terms, Is::AtMost, 0);
                }
                None => {}
            }
        }
    }

    /// Pieces that are made are no more than recipes make, and recipes use no more than lies there.
    fn lengths(&self, written: &mut Written) {
        let mut credits: BTreeMap<(usize, Source), Vec<(usize, i64)>> = BTreeMap::new();
        let mut of_wants: Vec<Vec<(usize, i64)>> = Vec::new();
        for (at, want) in self.lengths.wants.iter().enumerate() {
            let mut all = Vec::new();
            for source in self.sources(at) {
                let credit = written.programme.column(want.wanted.most, 0);
                let mut terms = vec![(credit, 1)];
                for (recipe, column) in self.lengths.recipes.iter().zip(&written.recipes) {
                    let makes = recipe.makes.iter();
                    let makes = makes.filter(|(made, _)| *made == at && recipe.source == source);
                    terms.extend(makes.map(|(_, n)| (*column, -n)));
                }
                written.programme.row(terms, Is::AtMost, 0);
                credits
                    .entry((want.mark, source))
                    .or_default()
                    .push((credit, 1));
                all.push((credit, 1));
            }
            if all.len() > 1 {
                written
                    .programme
                    .row(all.clone(), Is::AtMost, want.wanted.most);
            }
            of_wants.push(all);
        }
        for ((mark, source), mut terms) in credits {
            for (offer, column) in self.offers.iter().zip(&written.pieces) {
                if offer.mark == mark && offer.made == Some(source) {
                    terms.push((*column, -1));
                }
            }
            written.programme.row(terms, Is::AtLeast, 0);
        }
        for (at, lying) in self.lengths.lying.iter().enumerate() {
            let mut terms = Vec::new();
            for (recipe, column) in self.lengths.recipes.iter().zip(&written.recipes) {
                let uses = recipe.uses.iter().filter(|(used, _)| *used == at);
                terms.extend(uses.map(|(_, n)| (*column, *n)));
            }
            if !terms.is_empty() {
                // What is made of something else leaves a whole piece uncut.
                let whole = lying.of_want.map(|want| of_wants[want].as_slice());
                terms.extend(whole.unwrap_or_default());
                written.programme.row(terms, Is::AtMost, lying.have);
            }
        }
    }

    fn sources(&self, want: usize) -> Vec<Source> {
        let mut sources: Vec<Source> = (self.lengths.recipes.iter())
            .filter(|recipe| recipe.makes.iter().any(|(made, _)| *made == want))
            .map(|recipe| recipe.source)
            .collect();
        sources.sort_unstable();
        sources.dedup();
        sources
    }

    /// The crew waits for the last of what is used: half days after theirs, of a range the middle.
    fn days(&self, written: &mut Written) {
        let left = self.asked.days_left();
        let late = |[soon, late]: [i64; 2]| (soon + late - 2 * left).max(0);
        let of_offers = self.offers.iter().zip(&written.used);
        let of_less = self.less.iter().zip(&written.less);
        let lates: Vec<(usize, i64)> = (of_offers.map(|(o, used)| (*used, late(o.way.delay_days))))
            .chain(of_less.map(|(l, used)| (*used, late(l.delay_days))))
            .filter(|(_, late)| *late > 0)
            .collect();
        let most = lates.iter().map(|(_, late)| *late).max().unwrap_or(0);
        let half_day = self.asked.of.stock.setting.crew_day.middle() / 2;
        let days = written.programme.column(most, half_day);
        for (used, late) in lates {
            written
                .programme
                .row(vec![(days, 1), (used, -late)], Is::AtLeast, 0);
        }
    }

    /// The cheapest way out, and how many pieces of each short mark stay missing with it.
    pub(crate) fn cheapest(&self) -> Result<(Written, Chosen, Vec<i64>), Unsolved> {
        let mut stay = vec![0; self.short.len()];
        let written = self.write(Aim::Cheapest(&stay));
        match written.programme.solve() {
            Ok(chosen) => return Ok((written, chosen, stay)),
            Err(Unsolved::NoneThere) => {}
            Err(unsolved) => return Err(unsolved),
        }
        let most = self.write(Aim::Most);
        let fewest = most.programme.solve()?;
        stay = most
            .missing
            .iter()
            .map(|column| fewest.amounts[*column])
            .collect();
        let written = self.write(Aim::Cheapest(&stay));
        let chosen = written.programme.solve()?;
        let proven = chosen.proven && fewest.proven;
        Ok((written, Chosen { proven, ..chosen }, stay))
    }

    /// The cheapest way out that does without at least one of the ways of another, and makes as much good.
    pub(crate) fn runner_up(
        &self,
        of: &Chosen,
        stay: &[i64],
    ) -> Result<(Written, Chosen), Unsolved> {
        let written = self.without_one(of, stay).ok_or(Unsolved::NoneThere)?;
        let chosen = written.programme.solve()?;
        Ok((written, chosen))
    }

    /// The programme in which at least one of the ways that were used is not. Bought with leave or without, it is one
    /// way. Nothing where no way was used.
    pub(crate) fn without_one(&self, of: &Chosen, stay: &[i64]) -> Option<Written> {
        let mut written = self.write(Aim::Cheapest(stay));
        let mut ways: BTreeMap<(Option<usize>, &str), Vec<usize>> = BTreeMap::new();
        for (offer, used) in self.offers.iter().zip(&written.used) {
            let way = offer.way.key.trim_start_matches("ask:");
            ways.entry((Some(offer.mark), way)).or_default().push(*used);
        }
        for (less, used) in self.less.iter().zip(&written.less) {
            ways.entry((None, &less.key)).or_default().push(*used);
        }
        let mut gone = Vec::new();
        for of_way in ways.into_values() {
            if of_way.iter().any(|used| of.amounts[*used] > 0) {
                let any = written.programme.column(1, 0);
                for used in of_way {
                    written
                        .programme
                        .row(vec![(any, 1), (used, -1)], Is::AtLeast, 0);
                }
                gone.push((any, 1));
            }
        }
        let all = gone.len() as i64;
        written.programme.row(gone, Is::AtMost, all - 1);
        (all > 0).then_some(written)
    }

    /// What the chosen cost, from the least to the most.
    pub(crate) fn price(&self, written: &Written, chosen: &Chosen) -> Price {
        let amount = |column: usize| chosen.amounts[column];
        let mut sum = [0, 0];
        let mut add = |price: Price, times: i64| {
            for (sum, price) in sum.iter_mut().zip(price.0) {
                *sum += price.saturating_mul(times);
            }
        };
        add(self.asked.of.stock.setting.trip, amount(written.trip));
        for (long, column) in [false, true].into_iter().zip(written.freight) {
            add(freight_price(self.asked, long), amount(column));
        }
        for (offer, column) in self.offers.iter().zip(&written.pieces) {
            add(offer.each, amount(*column));
        }
        for (recipe, column) in self.lengths.recipes.iter().zip(&written.recipes) {
            add(recipe.cost, amount(*column));
        }
        for (less, column) in self.less.iter().zip(&written.less) {
            add(less.cost, amount(*column));
        }
        Price(sum)
    }

    /// The chance that not all of it comes off. One key is one thing, for whatever marks it is used.
    pub(crate) fn risk_of(&self, written: &Written, chosen: &Chosen) -> f64 {
        let mut keys: BTreeMap<&str, f64> = BTreeMap::new();
        let offers = (self.offers.iter().zip(&written.used))
            .map(|(offer, used)| (offer.way.key.as_str(), offer.way.risk, *used));
        let less = (self.less.iter().zip(&written.less))
            .map(|(less, used)| (less.key.as_str(), less.risk, *used));
        for (key, risk, used) in offers.chain(less) {
            if chosen.amounts[used] > 0 {
                let known = keys.entry(key).or_default();
                *known = known.max(risk);
            }
        }
        keys.into_values().fold(0.0, either)
    }
}
