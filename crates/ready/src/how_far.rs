//! How far the pieces that there are go: the most units of the first stage, then of the second, and so on in the order of the
//! build; which units of a stage these are is decided by what later stages can do.
//!
//! `reduce` brings a build down to what is still open, `levels` finds the most of each stage by integer programmes and with
//! proof, `stands` holds what was found against the build, `told` tells it. Bows may be left out by the rules of
//! [`crate::Build::may_leave`].

mod guess;
mod levels;
mod limits;
mod open;
mod reduce;
mod stands;
mod told;

use std::cmp::Ordering;

pub use levels::Effort;
use open::Open;

use crate::build::Build;
use crate::programme::Programme;

/// How far the build gets with so many pieces of each mark.
#[derive(Clone, Debug, PartialEq)]
pub struct HowFar {
    /// Each stage, in the order of the build.
    pub stages: Vec<StageReach>,
    /// Whether each unit of the build is done.
    pub done: Vec<bool>,
    /// The bows (from 1) that are left out for now by a rule of ours ([`crate::build::LEAVE_OUT`]): the sender is asked
    /// first. They are set in later.
    pub left_out: Vec<usize>,
    /// By mark: the pieces that are built in.
    pub used: Vec<i64>,
    /// Whether no other giving of pieces to places gets farther. Where the proof would take too long it is not shown, and
    /// what is said can be built all the same.
    pub proven: bool,
}

/// How far one stage gets.
#[derive(Clone, Debug, PartialEq)]
pub struct StageReach {
    /// The stage (by index).
    pub stage: usize,
    /// How many units it has; none where the order has nothing for it.
    pub units: usize,
    /// How many of them can be done.
    pub done: usize,
    /// Up to this bow (from 1, counted from the front) all of it can be done but what is left out; nothing where not even
    /// the first can.
    pub through_bow: Option<usize>,
    /// What stops it; empty when all can be done.
    pub stops: Vec<Stop>,
}

/// What stops a stage.
#[derive(Clone, Debug, PartialEq)]
pub enum Stop {
    /// Too few of a mark (by index): so many are needed by the end of this stage, so many are there.
    Short {
        /// The mark.
        mark: usize,
        /// Needed by this stage and all that it follows; where that many are there, by all stages before it too, which
        /// take theirs first.
        needed: i64,
        /// There.
        there: i64,
    },
    /// A stage before it (by index) is not done.
    Before(usize),
}

impl HowFar {
    /// Whether everything can be built.
    pub fn all(&self) -> bool {
        self.done.iter().all(|done| *done)
    }

    /// Which gets farther: the one that gets more units of the first stage done; of two that get as many, the one that gets
    /// more of the second; and so on.
    pub fn compare(&self, other: &Self) -> Ordering {
        let done = |far: &Self| far.stages.iter().map(|s| s.done).collect::<Vec<_>>();
        done(self).cmp(&done(other))
    }
}

/// How far a build gets with so many pieces of each mark, in the order of the parts list; of a mark that is not said, none.
pub fn how_far(build: &Build, amounts: &[i64]) -> HowFar {
    how_far_with(build, amounts, &mut Effort::none())
}

/// The same, with what it cost to find.
pub fn how_far_effort(build: &Build, amounts: &[i64]) -> (HowFar, Effort) {
    let mut effort = Effort::none();
    let far = how_far_with(build, amounts, &mut effort);
    (far, effort)
}

/// The same, with what is left of an effort for several answers together.
pub(crate) fn how_far_with(build: &Build, amounts: &[i64], effort: &mut Effort) -> HowFar {
    solved(build, amounts, effort).0
}

/// The programmes that are solved on the way to that, each with the least cost that was found, to compare solvers with.
pub fn how_far_programmes(build: &Build, amounts: &[i64]) -> Vec<(Programme, i64)> {
    solved(build, amounts, &mut Effort::none()).1
}

fn solved(build: &Build, amounts: &[i64], effort: &mut Effort) -> (HowFar, Vec<(Programme, i64)>) {
    let mut there: Vec<i64> = amounts.iter().map(|pieces| (*pieces).max(0)).collect();
    there.resize(build.marks.len(), 0);
    let open = reduce::open(build, &there);
    if open.nodes.is_empty() {
        let far = told::told(build, &there, open.done, Vec::new(), true);
        return (far, Vec::new());
    }
    let chosen = levels::furthest(build, &open, effort).and_then(|furthest| {
        let done = chosen(&open, &furthest.amounts);
        // What cannot be built is not said, whoever said it.
        stands::can_be(build, &there, &done, &furthest.left_out).then_some((done, furthest))
    });
    match chosen {
        Some((done, furthest)) => {
            let far = told::told(build, &there, done, furthest.left_out, furthest.proven);
            (far, furthest.solved)
        }
        None => {
            let done = stands::first_come(build, &there);
            (
                told::told(build, &there, done, Vec::new(), false),
                Vec::new(),
            )
        }
    }
}

/// Whether each unit is done, when so many of each node are.
fn chosen(open: &Open, amounts: &[i64]) -> Vec<bool> {
    let mut done = open.done.clone();
    for (node, amount) in open.nodes.iter().zip(amounts) {
        let units = match (node.most, amount) {
            (_, ..=0) => 0,
            (..=1, _) => node.units.len(),
            (_, amount) => *amount as usize,
        };
        for unit in node.units.iter().take(units) {
            done[*unit] = true;
        }
    }
    done
}
