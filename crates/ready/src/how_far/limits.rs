//! What holds for every choice, as a programme: pieces, what comes before what, and bows that are left out.
//!
//! Limits on pieces are stated as tightly as whole amounts allow: of 89 tubes two a bow, 44 bows; of 87 posts two a bow that
//! is to stand on them, 43 bows. Without that the solver would find out by trying every bow.

use std::collections::{BTreeMap, BTreeSet};

use super::guess::Guess;
use super::open::Open;
use crate::build::Build;
use crate::programme::{Is, Programme};

/// The limits of what is open, with what their columns are: the nodes, then the bows that may be left out, then, for a node
/// of several that comes after all of a node of several, whether all of that are done.
pub(super) struct Limits {
    pub programme: Programme,
    /// For each of the last columns: the node that all are done of.
    all_of: Vec<usize>,
}

impl Limits {
    pub fn of(build: &Build, open: &Open) -> Self {
        let mut limits = Self {
            programme: Programme::default(),
            all_of: Vec::new(),
        };
        for node in &open.nodes {
            limits.programme.column(node.most, 0);
        }
        for bow in &open.bows {
            limits.programme.column(i64::from(bow.may), 0);
        }
        limits.pieces(open);
        limits.pieces_behind(build, open);
        limits.order(open);
        limits.bows(open);
        limits
    }

    /// The amount of each column for a guess.
    pub fn amounts(&self, open: &Open, guess: &Guess) -> Vec<i64> {
        let left_out = guess.left_out.iter().map(|out| i64::from(*out));
        let all = |node: &usize| i64::from(guess.nodes[*node] >= open.nodes[*node].most);
        let nodes = guess.nodes.iter().copied();
        nodes
            .chain(left_out)
            .chain(self.all_of.iter().map(all))
            .collect()
    }

    /// The guess that some amounts are.
    pub fn guess(&self, open: &Open, amounts: &[i64]) -> Guess {
        let bows = open.nodes.len()..open.nodes.len() + open.bows.len();
        Guess {
            nodes: amounts[..open.nodes.len()].to_vec(),
            left_out: amounts[bows].iter().map(|out| *out > 0).collect(),
        }
    }

    /// No more than there are.
    fn pieces(&mut self, open: &Open) {
        for (mark, there) in open.there.iter().enumerate() {
            let terms: Vec<(usize, i64)> = (open.nodes.iter().enumerate())
                .filter_map(|(at, node)| {
                    let (_, pieces) = node.needs.iter().find(|(m, _)| *m == mark)?;
                    Some((at, *pieces))
                })
                .collect();
            let common = terms.iter().fold(0, |common, (_, n)| divisor(common, *n));
            self.at_most(terms, common, *there);
        }
    }

    /// Every so many pieces are one more: a sum of amounts, none below nothing, that is no more than a value, divided and
    /// rounded down.
    fn at_most(&mut self, terms: Vec<(usize, i64)>, every: i64, value: i64) {
        let every = every.max(1);
        let terms: Vec<(usize, i64)> = (terms.into_iter())
            .map(|(at, times)| (at, times.div_euclid(every)))
            .filter(|(_, times)| *times != 0)
            .collect();
        let value = value.div_euclid(every);
        let columns = &self.programme.columns;
        let most: i64 = terms
            .iter()
            .map(|(at, n)| columns[*at].most * n.max(&0))
            .sum();
        if most > value {
            self.programme.row(terms, Is::AtMost, value);
        }
    }

    /// What a later stage needs behind it: each piece is asked for by one node of the stage that comes after what needs it.
    fn pieces_behind(&mut self, build: &Build, open: &Open) {
        let behind = behind(open);
        for stage in 0..build.stages.len() {
            let of_stage: Vec<usize> = (0..open.nodes.len())
                .filter(|node| {
                    let units = &open.nodes[*node].units;
                    let first = units.first().map(|unit| build.units[*unit].stage);
                    open.nodes[*node].most == 1 && first == Some(stage)
                })
                .collect();
            let mut asked: BTreeMap<usize, (usize, &BTreeSet<usize>)> = BTreeMap::new();
            for node in &of_stage {
                for (before, bows) in &behind[*node] {
                    asked.entry(*before).or_insert((*node, bows));
                }
            }
            for (mark, there) in open.there.iter().enumerate() {
                let mut sums: BTreeMap<usize, i64> = BTreeMap::new();
                for (before, (node, bows)) in &asked {
                    let needs = open.nodes[*before].needs.iter();
                    for (_, pieces) in needs.filter(|(m, _)| *m == mark) {
                        *sums.entry(*node).or_default() += pieces;
                        for bow in *bows {
                            *sums.entry(open.nodes.len() + bow).or_default() -= pieces;
                        }
                    }
                }
                let mut often: BTreeMap<i64, usize> = BTreeMap::new();
                for sum in sums.values().filter(|sum| **sum > 1) {
                    *often.entry(*sum).or_default() += 1;
                }
                let Some((every, _)) = often.into_iter().max_by_key(|(_, times)| *times) else {
                    continue;
                };
                // What divides evenly says nothing new.
                let is_even = |n: &i64| n % every == 0;
                if !(sums.values().all(is_even) && is_even(there)) {
                    self.at_most(sums.into_iter().collect(), every, *there);
                }
            }
        }
    }

    /// What comes before comes before, unless it is left out.
    fn order(&mut self, open: &Open) {
        let bow_at = |bow: usize| open.nodes.len() + bow;
        let programme = &mut self.programme;
        let mut all_done = BTreeMap::new();
        let can = |node: &usize| open.nodes[*node].most > 0;
        for at in (0..open.nodes.len()).filter(can) {
            let node = &open.nodes[at];
            for (before, or_left_out) in &node.after {
                let of = open.nodes[*before].most.max(1);
                let before = match (node.most, of) {
                    (1, _) | (_, 1) => *before,
                    _ => *all_done.entry(*before).or_insert_with(|| {
                        let all = programme.column(1, 0);
                        programme.row(vec![(all, of), (*before, -1)], Is::AtMost, 0);
                        self.all_of.push(*before);
                        all
                    }),
                };
                let mut terms = vec![
                    (at, if node.most == 1 { of } else { 1 }),
                    (before, -node.most),
                ];
                terms.extend(or_left_out.map(|bow| (bow_at(bow), -node.most)));
                programme.row(terms, Is::AtMost, 0);
            }
        }
    }

    /// A bow is left out only where it does not stand, and those next to it do.
    fn bows(&mut self, open: &Open) {
        let bow_at = |bow: usize| open.nodes.len() + bow;
        let programme = &mut self.programme;
        for (at, bow) in open.bows.iter().enumerate().filter(|(_, bow)| bow.may) {
            for stands in &bow.stands {
                programme.row(vec![(bow_at(at), 1), (*stands, 1)], Is::AtMost, 1);
            }
            for neighbour in &bow.neighbours {
                programme.row(vec![(bow_at(at), 1), (*neighbour, -1)], Is::AtMost, 0);
            }
        }
    }
}

/// By node, of those of which there is one: what comes before it, however far back, each with the bows whose being left
/// out excuses it; at least one of them, where there are any.
fn behind(open: &Open) -> Vec<BTreeMap<usize, BTreeSet<usize>>> {
    let mut behind = Vec::with_capacity(open.nodes.len());
    for node in &open.nodes {
        let mut known: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        let mut reached: Vec<(usize, BTreeSet<usize>)> = Vec::new();
        let after = |node: &super::open::Node, bows: &BTreeSet<usize>| {
            let bows = bows.clone();
            let singles = node
                .after
                .iter()
                .filter(|(at, _)| open.nodes[*at].most <= 1);
            singles
                .map(|(at, bow)| (*at, bows.iter().copied().chain(*bow).collect()))
                .collect::<Vec<_>>()
        };
        reached.extend(after(node, &BTreeSet::new()));
        while let Some((at, bows)) = reached.pop() {
            let is_known = |known: &BTreeSet<usize>| known.len() <= bows.len();
            if known.get(&at).is_some_and(is_known) {
                continue;
            }
            reached.extend(after(&open.nodes[at], &bows));
            known.insert(at, bows);
        }
        behind.push(known);
    }
    behind
}

/// The greatest common divisor.
fn divisor(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
