//! A build and the pieces that there are, brought down to what is still open, without losing or adding a way.
//!
//! Stages that all the pieces that there are suffice for, from the first on, are done. Of the rest only marks count of
//! which there are too few. A unit that needs none of those is done as soon as what it follows is: such units that follow
//! the same are one node. Units that need the same, follow the same and come before the same are one node as well, of
//! which several can be done.

use std::collections::{BTreeMap, BTreeSet};

use super::open::{Node, Open, OpenBow};
use crate::bits::Bits;
use crate::build::{Build, Gap};

/// What is open of a build with so many pieces of each mark.
pub(super) fn open(build: &Build, there: &[i64]) -> Open {
    let done = first_stages(build, there);
    let used = build.used(&done);
    let left: Vec<i64> = there
        .iter()
        .zip(&used)
        .map(|(there, used)| there - used)
        .collect();
    let mut reducing = Reducing::new(build, done, left);
    reducing.follow();
    reducing.settle();
    let mut open = reducing.open();
    open.rule_out();
    open
}

/// The units of the stages, from the first on, for which there is enough of everything.
fn first_stages(build: &Build, there: &[i64]) -> Vec<bool> {
    let mut done = vec![false; build.units.len()];
    for stage in 0..build.stages.len() {
        let more: Vec<bool> = build.units.iter().map(|unit| unit.stage <= stage).collect();
        let used = build.used(&more);
        if used.iter().zip(there).any(|(used, there)| used > there) {
            break;
        }
        done = more;
    }
    done
}

/// What something comes after, each unit by index: for sure, or unless a bow is left out.
#[derive(Debug, Default, Clone)]
struct Before {
    sure: BTreeSet<usize>,
    or_left_out: BTreeSet<(usize, usize)>,
}

/// A build on its way down. What is cut from one shared piece comes after a thing of its own, which stands behind the
/// units in every list: it is the piece, and counts for no stage.
struct Reducing<'a> {
    build: &'a Build,
    done: Vec<bool>,
    left: Vec<i64>,
    scarce: Vec<usize>,
    /// By unit and shared piece: needs of scarce marks (by index into `scarce`).
    needs: Vec<Vec<(usize, i64)>>,
    before: Vec<Before>,
    /// What cannot be done at all.
    never: Vec<bool>,
}

impl<'a> Reducing<'a> {
    fn new(build: &'a Build, done: Vec<bool>, left: Vec<i64>) -> Self {
        let all = build.needs();
        let used = build.used(&done);
        let scarce: Vec<usize> = (0..left.len())
            .filter(|mark| all[*mark] - used[*mark] > left[*mark])
            .collect();
        let at = |mark: usize| scarce.binary_search(&mark).ok();
        let mut needs: Vec<Vec<(usize, i64)>> = (build.units.iter())
            .map(|unit| {
                let needs = unit.needs.iter();
                needs
                    .filter_map(|(mark, n)| Some((at(*mark)?, *n)))
                    .collect()
            })
            .collect();
        let mut before = vec![Before::default(); build.units.len()];
        for shared in &build.shared {
            let Some(mark) = at(shared.mark) else {
                continue;
            };
            let first = shared.units[0];
            if let Some(need) = needs[first].iter_mut().find(|(m, _)| *m == mark) {
                need.1 -= 1;
            }
            needs[first].retain(|(_, pieces)| *pieces > 0);
            // A piece that something done was cut from is there already.
            if shared.units.iter().any(|unit| done[*unit]) {
                continue;
            }
            for unit in &shared.units {
                before[*unit].sure.insert(needs.len());
            }
            needs.push(vec![(mark, 1)]);
        }
        before.resize(needs.len(), Before::default());
        let never = vec![false; needs.len()];
        let mut done = done;
        done.resize(needs.len(), false);
        Self {
            build,
            done,
            left,
            scarce,
            needs,
            before,
            never,
        }
    }

    /// What each unit follows. What spans a bow that may be left out follows that bow or its being left out, and in any
    /// case what the bow follows, such as its posts.
    fn follow(&mut self) {
        for (index, unit) in self.build.units.iter().enumerate() {
            let before = &mut self.before[index];
            let mut looked = BTreeSet::new();
            let mut open: Vec<usize> = unit.after.clone();
            while let Some(at) = open.pop() {
                if !looked.insert(at) {
                    continue;
                }
                match self.build.units[at].gap {
                    Gap::Bow(bow)
                        if unit.gap == Gap::Spans && self.build.may_leave.contains(&bow) =>
                    {
                        before.or_left_out.insert((at, bow));
                        open.extend(&self.build.units[at].after);
                    }
                    _ => _ = before.sure.insert(at),
                }
            }
        }
    }

    /// What can never be done, and what is done in any case.
    fn settle(&mut self) {
        let units = self.build.units.len();
        // Shared pieces come before the units that are cut from them.
        let order: Vec<usize> = (units..self.needs.len()).chain(0..units).collect();
        for index in order {
            let Before { sure, or_left_out } = &self.before[index];
            let lacks = |(mark, pieces): &(usize, i64)| *pieces > self.left[self.scarce[*mark]];
            self.never[index] = !self.done[index]
                && (self.needs[index].iter().any(lacks)
                    || sure.iter().any(|before| self.never[*before]));
            self.done[index] |= self.needs[index].is_empty()
                && sure.iter().all(|before| self.done[*before])
                && or_left_out.iter().all(|(before, _)| self.done[*before]);
            let before = &mut self.before[index];
            before.sure.retain(|before| !self.done[*before]);
            before.or_left_out.retain(|(before, _)| !self.done[*before]);
        }
    }

    /// Brings alike things together.
    fn open(self) -> Open {
        let groups = Groups::of(&self);
        groups.open(&self)
    }

    fn is_open(&self, index: usize) -> bool {
        !self.done[index] && !self.never[index]
    }
}

/// What is chosen apart, and what follows from it.
struct Groups {
    /// What must be chosen by itself, rising: it needs a scarce mark, or is a bow that may be left out, or next to one.
    chosen: Vec<usize>,
    /// Those of them that are bows.
    bows: BTreeSet<usize>,
    /// Pairs of a chosen thing and a bow that excuses it.
    excused: Vec<(usize, usize)>,
    /// By unit: what it comes after, however far back: of the chosen, then of the excused behind them.
    before: Vec<Bits>,
}

impl Groups {
    fn of(reducing: &Reducing) -> Self {
        let count = reducing.needs.len();
        let excused: BTreeSet<(usize, usize)> = (0..count)
            .filter(|index| reducing.is_open(*index))
            .flat_map(|index| reducing.before[index].or_left_out.iter().copied())
            .collect();
        // A bow that can never be done may all the same be left out.
        let mut bows: BTreeSet<usize> = excused.iter().map(|(unit, _)| *unit).collect();
        for (unit, bow) in &excused {
            let beside = beside(reducing.build, *unit, *bow).into_iter();
            bows.extend(beside.filter(|unit| reducing.is_open(*unit)));
        }
        let needs = |index: &usize| reducing.is_open(*index) && !reducing.needs[*index].is_empty();
        let chosen: Vec<usize> = (0..count)
            .filter(|index| bows.contains(index) || needs(index))
            .collect();
        let excused: Vec<(usize, usize)> = excused.into_iter().collect();
        let before = vec![Bits::none(chosen.len() + excused.len()); count];
        let mut groups = Self {
            chosen,
            bows,
            excused,
            before,
        };
        let units = reducing.build.units.len();
        for index in (units..count).chain(0..units) {
            groups.look_back(reducing, index);
        }
        groups
    }

    fn look_back(&mut self, reducing: &Reducing, index: usize) {
        let mut before = Bits::none(self.chosen.len() + self.excused.len());
        for unit in &reducing.before[index].sure {
            before.put_all(&self.before[*unit]);
            if let Ok(at) = self.chosen.binary_search(unit) {
                before.put(at);
            }
        }
        for pair in &reducing.before[index].or_left_out {
            if let Ok(at) = self.excused.binary_search(pair) {
                before.put(self.chosen.len() + at);
            }
        }
        // What must be done need not be excused.
        for (at, (unit, _)) in self.excused.iter().enumerate() {
            let is_sure = self
                .chosen
                .binary_search(unit)
                .is_ok_and(|unit| before.has(unit));
            if is_sure {
                before.take(self.chosen.len() + at);
            }
        }
        self.before[index] = before;
    }

    /// What comes before a thing, without what comes before that.
    fn nearest(&self, before: &Bits) -> Bits {
        let mut nearest = before.clone();
        for at in before.iter().take_while(|at| *at < self.chosen.len()) {
            nearest.take_all(&self.before[self.chosen[at]]);
        }
        nearest
    }

    fn open(&self, reducing: &Reducing) -> Open {
        let nodes = self.nodes(reducing);
        let mut node_of = vec![None; self.chosen.len()];
        for (index, (_, units)) in nodes.iter().enumerate() {
            for unit in units {
                if let Ok(at) = self.chosen.binary_search(unit) {
                    node_of[at] = Some(index);
                }
            }
        }
        let bow_numbers: Vec<usize> = {
            let bows: BTreeSet<usize> = self.excused.iter().map(|(_, bow)| *bow).collect();
            bows.into_iter().collect()
        };
        let bow_at = |bow: usize| bow_numbers.binary_search(&bow).ok();
        let units = reducing.build.units.len();
        let is_alike = |first: usize| self.chosen.binary_search(&first).is_ok();
        Open {
            nodes: (nodes.iter())
                .map(|(before, of)| {
                    let after = (self.nearest(before).iter())
                        .filter_map(|at| match at.checked_sub(self.chosen.len()) {
                            None => Some((node_of[at]?, None)),
                            Some(at) => {
                                let (unit, bow) = self.excused[at];
                                let at = self.chosen.binary_search(&unit).ok()?;
                                Some((node_of[at]?, bow_at(bow)))
                            }
                        })
                        .collect::<BTreeSet<_>>();
                    Node {
                        most: match (of.first(), of.iter().any(|unit| reducing.never[*unit])) {
                            (_, true) => 0,
                            (Some(first), false) if is_alike(*first) => of.len() as i64,
                            _ => 1,
                        },
                        needs: of
                            .first()
                            .map_or(Vec::new(), |u| reducing.needs[*u].clone()),
                        units: of.iter().copied().filter(|unit| *unit < units).collect(),
                        after: after.into_iter().collect(),
                    }
                })
                .collect(),
            bows: (bow_numbers.iter())
                .map(|bow| self.open_bow(reducing, *bow, &node_of))
                .collect(),
            there: reducing
                .scarce
                .iter()
                .map(|mark| reducing.left[*mark])
                .collect(),
            done: reducing.done[..units].to_vec(),
        }
    }

    /// The nodes: what all its units come after, and the units.
    fn nodes(&self, reducing: &Reducing) -> Vec<(Bits, Vec<usize>)> {
        let mut nodes: Vec<(Bits, Vec<usize>)> = Vec::new();
        // What comes after each of the chosen.
        let count = reducing.needs.len();
        let mut followers = vec![Bits::none(count); self.chosen.len()];
        for index in (0..count).filter(|index| reducing.is_open(*index)) {
            for at in self.before[index]
                .iter()
                .take_while(|at| *at < self.chosen.len())
            {
                followers[at].put(index);
            }
        }
        let units = reducing.build.units.len();
        let mut alike: BTreeMap<_, usize> = BTreeMap::new();
        let mut following: BTreeMap<&Bits, usize> = BTreeMap::new();
        let mut at = 0;
        for index in (0..count).filter(|i| reducing.is_open(*i) || self.bows.contains(i)) {
            let before = &self.before[index];
            let node = if self.chosen.get(at) == Some(&index) {
                at += 1;
                let alone = index >= units || self.bows.contains(&index);
                let by_itself = alone.then_some(index);
                let stage = reducing.build.units.get(index).map(|unit| unit.stage);
                let key = (
                    by_itself,
                    stage,
                    &reducing.needs[index],
                    before,
                    &followers[at - 1],
                );
                *alike.entry(key).or_insert(nodes.len())
            } else {
                *following.entry(before).or_insert(nodes.len())
            };
            match nodes.get_mut(node) {
                Some((_, units)) => units.push(index),
                None => nodes.push((before.clone(), vec![index])),
            }
        }
        nodes
    }

    fn open_bow(&self, reducing: &Reducing, bow: usize, node_of: &[Option<usize>]) -> OpenBow {
        let build = reducing.build;
        let own: Vec<usize> = (self.excused.iter())
            .filter(|(_, other)| *other == bow)
            .map(|(unit, _)| *unit)
            .collect();
        let node = |unit: &usize| {
            let at = self.chosen.binary_search(unit).ok()?;
            node_of[at]
        };
        let neighbours: BTreeSet<usize> = (own.iter())
            .flat_map(|unit| beside(build, *unit, bow))
            .filter(|unit| !reducing.done[*unit])
            .collect();
        OpenBow {
            bow,
            stands: own
                .iter()
                .filter(|unit| stands(build, **unit))
                .filter_map(node)
                .collect(),
            may: !neighbours.iter().any(|unit| reducing.never[*unit]),
            neighbours: neighbours.iter().filter_map(node).collect(),
        }
    }
}

/// The units that are, of the bows next to a bow, what a unit is of it.
fn beside(build: &Build, unit: usize, bow: usize) -> Vec<usize> {
    let stage = build.units[unit].stage;
    let gaps = [Gap::Bow(bow - 1), Gap::Bow(bow + 1)];
    (build.units.iter().enumerate())
        .filter(|(_, other)| other.stage == stage && gaps.contains(&other.gap))
        .map(|(index, _)| index)
        .collect()
}

/// Whether a bow stands once a unit of it is done: all of them but what is only made on the ground, for a unit that
/// places nothing more to put up.
fn stands(build: &Build, unit: usize) -> bool {
    let gap = build.units[unit].gap;
    let is_first = !(build.units[unit].after.iter()).any(|before| build.units[*before].gap == gap);
    let put_up_later = (build.units.iter())
        .any(|later| later.gap == gap && later.after.contains(&unit) && later.pieces.is_empty());
    !(is_first && put_up_later)
}
