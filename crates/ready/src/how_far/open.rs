//! What is still open of a build: what can be chosen, of which scarce pieces, after what.

use crate::bits::Bits;

/// What is still open.
#[derive(Debug, Default)]
pub(super) struct Open {
    /// Whether each unit is done in any case.
    pub done: Vec<bool>,
    /// What can be chosen.
    pub nodes: Vec<Node>,
    /// The bows (from 1) that may be left out, where that may help.
    pub bows: Vec<OpenBow>,
    /// By scarce mark: how many of it there are for what is open.
    pub there: Vec<i64>,
}

/// Units of which some or all are done.
#[derive(Debug)]
pub(super) struct Node {
    /// How many can be done: one, or, of units that are alike, as many as these.
    pub most: i64,
    /// The units; those of which each counts as one of `most` come in the order in which they are done.
    pub units: Vec<usize>,
    /// Of which scarce mark (by index into [`Open::there`]) one needs how many.
    pub needs: Vec<(usize, i64)>,
    /// What comes before it: all of a node, or, where a bow is given (by index), that or the bow left out.
    pub after: Vec<(usize, Option<usize>)>,
}

/// A bow that may be left out.
#[derive(Debug)]
pub(super) struct OpenBow {
    /// The bow, from 1.
    pub bow: usize,
    /// Whether the bows next to it can be done at all.
    pub may: bool,
    /// The nodes that are that bow standing: where one is done, it is not left out.
    pub stands: Vec<usize>,
    /// The nodes that are the bows before and after it: they are done where it is left out.
    pub neighbours: Vec<usize>,
}

impl Open {
    /// What there are too few pieces for, with all that comes before it in any case, cannot be done.
    pub(super) fn rule_out(&mut self) {
        // What comes before a node has no other place in the list than before what it is looked at for.
        let mut known: Vec<Option<Bits>> = vec![None; self.nodes.len()];
        let lacking: Vec<usize> = (0..self.nodes.len())
            .filter(|at| {
                let mut all = self.behind(*at, &mut known);
                all.put(*at);
                let mut left = self.there.clone();
                for before in all.iter() {
                    let node = &self.nodes[before];
                    let amount = if before == *at { 1 } else { node.most.max(1) };
                    for (mark, pieces) in &node.needs {
                        left[*mark] -= pieces * amount;
                    }
                }
                let never = all.iter().any(|before| self.nodes[before].most == 0);
                never || left.iter().any(|pieces| *pieces < 0)
            })
            .collect();
        for at in lacking {
            self.nodes[at].most = 0;
        }
        for bow in &mut self.bows {
            let can = |node: &usize| self.nodes[*node].most > 0;
            bow.may &= bow.neighbours.iter().all(can);
        }
    }

    /// What comes before a node in any case, however far back.
    fn behind(&self, at: usize, known: &mut Vec<Option<Bits>>) -> Bits {
        if let Some(behind) = &known[at] {
            return behind.clone();
        }
        let mut behind = Bits::none(self.nodes.len());
        let sure = self.nodes[at].after.iter().filter(|(_, bow)| bow.is_none());
        for (before, _) in sure {
            behind.put_all(&self.behind(*before, known));
            behind.put(*before);
        }
        known[at] = Some(behind.clone());
        behind
    }
}
