//! How likely there are at least so many pieces of each mark, all at once, by a day.
//!
//! Shares are independent but for what they come with: all that one shipment brings is here or is not. So marks fall into
//! groups that no open shipment joins, and within a group every way in which its open shipments may have come is gone
//! through: exact, to the last bits of the arithmetic. With `n` open shipments in a group that is 2ⁿ ways; of more than
//! [`MOST_OPEN`] the least likely are taken to bring nothing and to take all that they may take, as an explanation does
//! from a look-alike: that says rather too little than too much.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::odds::{self, Odds};
use crate::supply::{Share, Supplies, Supply};

/// The most things in one group that may or may not have come.
pub const MOST_OPEN: usize = 8;

/// What there may be of all marks by a day.
pub(crate) struct Likely {
    marks: Vec<Mark>,
    groups: Vec<Group>,
}

/// What there may be of a mark.
struct Mark {
    /// At least so many in any case.
    floor: i64,
    /// Numbers, rising, each with the chance that there are at least so many; by what came of the mark's own openings.
    at_least: Vec<Odds>,
    /// What of the group's openings the mark hangs on, by their place in the group.
    hangs_on: Vec<usize>,
}

/// Marks that open comings join, or a single one.
struct Group {
    marks: Vec<usize>,
    /// The chance of each opening.
    open: Vec<f64>,
}

impl Likely {
    /// What there may be by the morning of a day, where some things (by their index) are known to come.
    pub fn by(supplies: &Supplies, day: Date, comes: &[usize]) -> Self {
        let chances: Vec<f64> = (supplies.coming.iter().enumerate())
            .map(|(at, coming)| match comes.contains(&at) {
                true => 1.0,
                false => coming.by(day),
            })
            .collect();
        let open = |share: &Share| {
            let with = share.with?;
            let chance = *chances.get(with)?;
            (chance > 0.0 && chance < 1.0).then_some(with)
        };
        let opens: Vec<Vec<usize>> = (supplies.marks.iter())
            .map(|supply| {
                let mut opens: Vec<usize> = supply.shares.iter().filter_map(open).collect();
                opens.sort_unstable();
                opens.dedup();
                opens
            })
            .collect();
        let mut marks: Vec<Mark> = Vec::with_capacity(supplies.marks.len());
        let mut groups = Vec::new();
        let mut places: BTreeMap<usize, Mark> = BTreeMap::new();
        for (members, mut joined) in joined(&opens) {
            let likeliest = |a: &usize, b: &usize| chances[*b].total_cmp(&chances[*a]);
            joined.sort_by(likeliest);
            joined.truncate(MOST_OPEN);
            for at in &members {
                let supply = &supplies.marks[*at];
                places.insert(*at, Mark::of(supply, &opens[*at], &joined, &chances));
            }
            groups.push(Group {
                marks: members,
                open: joined.iter().map(|with| chances[*with]).collect(),
            });
        }
        marks.extend(places.into_values());
        Self { marks, groups }
    }

    /// The chance that there are at least so many of every mark, in the order of the parts list.
    pub fn at_least(&self, needs: &[i64]) -> f64 {
        self.at_least_but(needs, None)
    }

    /// The same, if there were surely enough of one mark (by index).
    pub fn at_least_but(&self, needs: &[i64], sure: Option<usize>) -> f64 {
        let mark = |at: usize, came: usize| match needs.get(at) {
            Some(need) if sure != Some(at) => self.marks[at].chance(*need, came),
            _ => 1.0,
        };
        (self.groups.iter())
            .map(|group| {
                let wanted = || {
                    let marks = group.marks.iter().copied();
                    marks.filter(|at| needs.get(*at).is_some_and(|n| *n > self.marks[*at].floor))
                };
                if wanted().next().is_none() {
                    return 1.0;
                }
                (0..1_usize << group.open.len())
                    .map(|came| {
                        let ways = group.open.iter().enumerate();
                        let way: f64 = ways
                            .map(|(nth, chance)| match came >> nth & 1 {
                                1 => *chance,
                                _ => 1.0 - chance,
                            })
                            .product();
                        way * wanted().map(|at| mark(at, came)).product::<f64>()
                    })
                    .sum::<f64>()
            })
            .product::<f64>()
            .clamp(0.0, 1.0)
    }

    /// The chance that there are at least so many of one mark (by index).
    pub fn of_mark(&self, mark: usize, need: i64) -> f64 {
        let mut needs = vec![0; self.marks.len()];
        needs[mark] = need;
        self.at_least(&needs)
    }

    /// By mark, the greatest number, up to what is needed, of which there are at least so many with a chance.
    pub fn with_chance(&self, needs: &[i64], chance: f64) -> Vec<i64> {
        (0..self.marks.len())
            .map(|at| {
                let most = needs.get(at).copied().unwrap_or(0);
                let (mut sure, mut not) = (0, most + 1);
                while not - sure > 1 {
                    let middle = sure + (not - sure) / 2;
                    match self.of_mark(at, middle) >= chance {
                        true => sure = middle,
                        false => not = middle,
                    }
                }
                sure
            })
            .collect()
    }
}

impl Mark {
    /// `opens`: the open things that the mark hangs on; `joined`: those that its group keeps open.
    fn of(supply: &Supply, opens: &[usize], joined: &[usize], chances: &[f64]) -> Self {
        let hangs: Vec<usize> = (opens.iter().copied())
            .filter(|with| joined.contains(with))
            .collect();
        let brought = |brings: &dyn Fn(Option<usize>) -> bool| {
            let shares = supply.shares.iter().filter(|share| brings(share.with));
            shares.fold(odds::sure(0), |sum, share| odds::sum(&sum, &share.odds))
        };
        let comes = |with: usize| chances.get(with).is_some_and(|chance| *chance >= 1.0);
        let surely = brought(&|with| with.is_none_or(comes));
        let dropped = |with: usize| opens.contains(&with) && !joined.contains(&with);
        let surely = (supply.shares.iter())
            .filter(|share| share.with.is_some_and(dropped))
            .fold(surely, |sum, share| odds::sum(&sum, &taken(&share.odds)));
        let by_opening: Vec<Odds> = (hangs.iter())
            .map(|open| brought(&|with| with == Some(*open)))
            .collect();
        // Each way adds what its lowest opening brings to the way without it.
        let mut numbers: Vec<Odds> = vec![surely];
        for came in 1..1_usize << hangs.len() {
            let lowest = came.trailing_zeros() as usize;
            let without = &numbers[came & (came - 1)];
            numbers.push(odds::sum(without, &by_opening[lowest]));
        }
        let at_least = numbers.into_iter().map(from_above).collect();
        let place = |with: &usize| joined.iter().position(|open| open == with);
        Self {
            floor: supply.built.max(0),
            at_least,
            hangs_on: hangs.iter().filter_map(place).collect(),
        }
    }

    /// The chance of at least so many, as the openings of the group came.
    fn chance(&self, need: i64, came: usize) -> f64 {
        if need <= self.floor {
            return 1.0;
        }
        let own = (self.hangs_on.iter().enumerate())
            .map(|(nth, place)| (came >> place & 1) << nth)
            .sum::<usize>();
        let at_least = &self.at_least[own];
        let from = at_least.partition_point(|(number, _)| *number < need);
        at_least.get(from).map_or(0.0, |(_, chance)| *chance)
    }
}

/// What is taken off, at the most, by what may come or not: nothing where it brings something.
fn taken(odds: &Odds) -> Odds {
    let mut all: BTreeMap<i64, f64> = BTreeMap::new();
    for (number, chance) in odds {
        *all.entry((*number).min(0)).or_default() += chance;
    }
    all.into_iter().collect()
}

/// Each number with the chance of it or more.
fn from_above(mut odds: Odds) -> Odds {
    let mut above = 0.0;
    for (_, chance) in odds.iter_mut().rev() {
        above += *chance;
        *chance = above;
    }
    // They add up to 1 but for the last bits.
    if let Some((_, all)) = odds.first_mut() {
        *all = 1.0;
    }
    odds
}

/// Groups of marks that no opening joins, each with its openings.
fn joined(opens: &[Vec<usize>]) -> Vec<(Vec<usize>, Vec<usize>)> {
    let mut groups: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for (mark, opens) in opens.iter().enumerate() {
        let touches =
            |group: &(Vec<usize>, Vec<usize>)| opens.iter().any(|open| group.1.contains(open));
        let (touching, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(touches);
        groups = apart;
        let (mut members, mut all) = (vec![mark], opens.clone());
        for (others, their_opens) in touching {
            members.extend(others);
            all.extend(their_opens);
        }
        all.sort_unstable();
        all.dedup();
        groups.push((members, all));
    }
    groups
}
