//! The most of each stage in turn: one programme a stage, each held to what the stages before it reached.

use super::reduce::{Node, Open};
use crate::build::Build;
use crate::programme::{Is, Programme};

/// What is chosen of what is open.
pub(super) struct Furthest {
    /// By node: how many are done.
    pub amounts: Vec<i64>,
    /// The bows (from 1) that are left out.
    pub left_out: Vec<usize>,
    /// Whether each programme was proven.
    pub proven: bool,
    /// What was solved on the way, with the least cost of each.
    pub solved: Vec<(Programme, i64)>,
}

/// The most of each stage in turn, then as few bows left out as will do, then as much as can be at the front.
/// Nothing where a programme could not be solved.
pub(super) fn furthest(build: &Build, open: &Open) -> Option<Furthest> {
    let mut programme = limits(open);
    let mut solved = Vec::new();
    let mut amounts = vec![0; programme.columns.len()];
    let mut proven = true;
    let mut solve = |programme: &Programme, amounts: &mut Vec<i64>| {
        let chosen = programme.solve().ok()?;
        proven &= chosen.proven;
        solved.push((programme.clone(), chosen.cost));
        *amounts = chosen.amounts;
        Some(())
    };
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
        if sum(&amounts) < most {
            for (at, worth) in &terms {
                programme.columns[*at].cost = -worth;
            }
            solve(&programme, &mut amounts)?;
            for (at, _) in &terms {
                programme.columns[*at].cost = 0;
            }
        }
        let reached = sum(&amounts);
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
    solve(&programme, &mut amounts)?;
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

/// What holds for every choice. The columns are the nodes, then the bows that may be left out, then, for a node of
/// several that comes after all of a node of several, whether all of that are done.
fn limits(open: &Open) -> Programme {
    let mut programme = Programme::default();
    for node in &open.nodes {
        programme.column(node.most, 0);
    }
    for bow in &open.bows {
        programme.column(i64::from(bow.may), 0);
    }
    let bow_at = |bow: usize| open.nodes.len() + bow;
    for (mark, there) in open.there.iter().enumerate() {
        let terms: Vec<(usize, i64)> = (open.nodes.iter().enumerate())
            .filter_map(|(at, node)| {
                let (_, pieces) = node.needs.iter().find(|(m, _)| *m == mark)?;
                Some((at, *pieces))
            })
            .collect();
        programme.row(terms, Is::AtMost, *there);
    }
    let mut all_done = std::collections::BTreeMap::new();
    for (at, node) in open
        .nodes
        .iter()
        .enumerate()
        .filter(|(_, node)| node.most > 0)
    {
        for (before, or_left_out) in &node.after {
            let of = open.nodes[*before].most.max(1);
            let before = match (node.most, of) {
                (1, _) | (_, 1) => *before,
                _ => *all_done.entry(*before).or_insert_with(|| {
                    let all = programme.column(1, 0);
                    programme.row(vec![(all, of), (*before, -1)], Is::AtMost, 0);
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
    for (at, bow) in open.bows.iter().enumerate().filter(|(_, bow)| bow.may) {
        for stands in &bow.stands {
            programme.row(vec![(bow_at(at), 1), (*stands, 1)], Is::AtMost, 1);
        }
        for neighbour in &bow.neighbours {
            programme.row(vec![(bow_at(at), 1), (*neighbour, -1)], Is::AtMost, 0);
        }
    }
    programme
}
