//! The most of each stage in turn: one programme a stage, each held to what the stages before it reached.
//!
//! A programme starts from the best that is known, and mostly has only to prove it.

use super::guess;
use super::limits::Limits;
use super::open::{Node, Open};
use crate::build::Build;
use crate::programme::{Chosen, Is, PIVOTS_OF_A_NODE, Programme};

/// What answers cost to find, and what they may.
///
/// A pivot of 435 columns takes about 0.1 ms of a server's processor, so that even the worst answer takes about half a
/// second. What is not proven by then is said not to be, and what is not looked at by then is as it was guessed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Nodes of the search, beyond the first of each programme.
    pub nodes: u64,
    /// Programmes that were solved.
    pub programmes: u64,
    /// Columns of the largest.
    pub columns: usize,
    /// Pivots times columns, all told.
    pub spent: u64,
    /// Pivots times columns that are still allowed.
    left: u64,
}

/// Pivots times columns: for one answer, or several that are asked for together.
const MOST_EFFORT: u64 = 2_000_000;
/// Nodes of each programme that is solved, however little is left: the first few are cheap, and find most.
const LEAST_NODES: u64 = 3;
/// Nodes for what is nicer and changes no count.
const NODES_FOR_FRONT: u64 = 20;

impl Effort {
    /// Nothing yet of what one answer may take.
    pub(crate) fn none() -> Self {
        Self {
            nodes: 0,
            programmes: 0,
            columns: 0,
            spent: 0,
            left: MOST_EFFORT,
        }
    }

    fn solve(&mut self, programme: &Programme, known: &[i64], most: u64) -> Option<Chosen> {
        let columns = programme.columns.iter().filter(|column| column.most > 0);
        let columns = columns.count().max(1);
        let each = columns as u64;
        if self.left == 0 {
            return Some(Chosen {
                amounts: known.to_vec(),
                cost: programme.cost(known)?,
                proven: false,
            });
        }
        let nodes = self.left / (each * PIVOTS_OF_A_NODE);
        let nodes = nodes.clamp(LEAST_NODES, most.max(LEAST_NODES));
        let (chosen, work) = programme.solve_within(Some(known), nodes).ok()?;
        self.left = self.left.saturating_sub(work.pivots * each);
        self.nodes += work.nodes;
        self.spent += work.pivots * each;
        self.programmes += 1;
        self.columns = self.columns.max(columns);
        Some(chosen)
    }
}

/// What is chosen of what is open.
pub(super) struct Furthest {
    /// By node: how many are done.
    pub amounts: Vec<i64>,
    /// The bows (from 1) that are left out.
    pub left_out: Vec<usize>,
    /// Whether the most of each stage was proven.
    pub proven: bool,
    /// What was solved on the way and proven, with the least cost of each.
    pub solved: Vec<(Programme, i64)>,
}

/// The most of each stage in turn, then as few bows left out as will do, then as much as can be at the front; the last two
/// as far as they are found soon. Nothing where a programme could not be solved.
pub(super) fn furthest(build: &Build, open: &Open, effort: &mut Effort) -> Option<Furthest> {
    let limits = Limits::of(build, open);
    let mut programme = limits.programme.clone();
    let mut known: Vec<Vec<i64>> = (guess::guesses(build, open).iter())
        .map(|guess| limits.amounts(open, guess))
        .filter(|amounts| programme.cost(amounts).is_some())
        .collect();
    known.sort_unstable();
    known.dedup();
    let mut amounts = vec![0; programme.columns.len()];
    let mut solved = Vec::new();
    let mut proven = true;
    for stage in 0..build.stages.len() {
        let terms: Vec<(usize, i64)> = (open.nodes.iter().enumerate())
            .map(|(at, node)| (at, worth(build, node, stage)))
            .filter(|(_, worth)| *worth > 0)
            .collect();
        let sum = |amounts: &[i64]| terms.iter().map(|(at, n)| amounts[*at] * n).sum::<i64>();
        let most: i64 = terms.iter().map(|(at, n)| open.nodes[*at].most * n).sum();
        if most == 0 {
            continue;
        }
        if let Some(best) = known.iter().max_by_key(|known| sum(known))
            && sum(best) > sum(&amounts)
        {
            amounts.clone_from(best);
        }
        if sum(&amounts) < most {
            let mut now = only_until(build, open, stage, programme.clone());
            for (at, worth) in &terms {
                now.columns[*at].cost = -worth;
            }
            let mut guess = limits.guess(open, &amounts);
            for (amount, column) in guess.nodes.iter_mut().zip(&now.columns) {
                *amount = (*amount).min(column.most);
            }
            let start = limits.amounts(open, &guess);
            let found = effort.solve(&now, &start, u64::MAX)?;
            proven &= found.proven;
            if found.proven {
                solved.push((now, found.cost));
            }
            if sum(&found.amounts) > sum(&amounts) {
                let guess = limits.guess(open, &found.amounts);
                let more = limits.amounts(open, &guess::more(build, open, guess));
                amounts = match programme.cost(&more) {
                    Some(_) => more,
                    None => found.amounts,
                };
            }
        }
        let reached = sum(&amounts);
        known.retain(|known| sum(known) >= reached);
        if reached > 0 {
            programme.row(terms, Is::AtLeast, reached);
        }
    }
    let dear: i64 = 1
        + (open.nodes.iter())
            .map(|node| at_front(build, node) * node.most)
            .sum::<i64>();
    for (at, node) in open.nodes.iter().enumerate() {
        programme.columns[at].cost = -at_front(build, node);
    }
    for bow in 0..open.bows.len() {
        programme.columns[open.nodes.len() + bow].cost = dear;
    }
    known.push(amounts);
    let best = known
        .iter()
        .min_by_key(|known| programme.cost(known).unwrap_or(i64::MAX))?;
    let found = effort.solve(&programme, best, NODES_FOR_FRONT)?;
    let mut amounts = found.amounts;
    if found.proven {
        solved.push((programme, found.cost));
    }
    let left_out = (open.bows.iter().enumerate())
        .filter(|(at, _)| amounts[open.nodes.len() + at] > 0)
        .map(|(_, bow)| bow.bow)
        .collect();
    amounts.truncate(open.nodes.len());
    Some(Furthest {
        amounts,
        left_out,
        proven,
        solved,
    })
}

/// The programme without what only later stages have: doing none of it is always possible.
fn only_until(build: &Build, open: &Open, stage: usize, mut programme: Programme) -> Programme {
    let mut kept = vec![false; open.nodes.len()];
    let is_until = |node: &Node| {
        node.units
            .iter()
            .any(|unit| build.units[*unit].stage <= stage)
    };
    let until = (0..open.nodes.len()).filter(|node| is_until(&open.nodes[*node]));
    let neighbours = open
        .bows
        .iter()
        .flat_map(|bow| bow.neighbours.iter().copied());
    let mut looked: Vec<usize> = until.chain(neighbours).collect();
    while let Some(node) = looked.pop() {
        if !std::mem::replace(&mut kept[node], true) {
            looked.extend(open.nodes[node].after.iter().map(|(before, _)| *before));
        }
    }
    for (column, _) in (programme.columns.iter_mut().zip(&kept)).filter(|(_, kept)| !**kept) {
        column.most = 0;
    }
    programme
}

/// How many units of a stage one of a node is.
fn worth(build: &Build, node: &Node, stage: usize) -> i64 {
    let units = node
        .units
        .iter()
        .filter(|unit| build.units[**unit].stage == stage);
    match node.most {
        ..=1 => units.count() as i64,
        _ => i64::from(units.count() > 0),
    }
}

/// How far to the front one of a node is: the more the farther, and the more units it is.
fn at_front(build: &Build, node: &Node) -> i64 {
    let from_back = |unit: &usize| (build.bows + 1 - build.units[*unit].bows[0]) as i64;
    let all = node.units.iter().map(from_back);
    match node.most {
        ..=1 => all.sum(),
        _ => all.max().unwrap_or_default(),
    }
}
