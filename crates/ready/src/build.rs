//! The build as a graph: stages, and in each the units that can be done one by one, with what they need and follow.
//!
//! All of it is read off the frame; no name of a family, a part or a stage stands here. `units` says what is done as
//! one, `follow` what comes before what, `leave` which bows may be left out for now.

mod draft;
mod follow;
mod leave;
mod stand;
mod units;

use frame::{Frame, PartsList};

/// Said wherever bows are left out: the rules of `leave` are ours, and nobody reckoned what the rest holds meanwhile.
pub const LEAVE_OUT: &str = "Braced bays and end bays stay whole, and no two neighbours are left out; that is a rule of ours, so ask \
     the sender before you begin, and do not leave the gap in wind or snow.";

/// A build, read off a frame and its parts list.
#[derive(Clone, Debug, PartialEq)]
pub struct Build {
    /// The stages, in the order of the build: those of the family, also where the order has nothing for one, which
    /// then has no unit.
    pub stages: Vec<BuildStage>,
    /// What can be done one by one; each comes after all that it follows.
    pub units: Vec<Unit>,
    /// The marks, in the order of the parts list.
    pub marks: Vec<String>,
    /// How many bows stand.
    pub bows: usize,
    /// Pieces that several units are cut from. Each stands in the needs of its first unit and of no other, and is used
    /// as soon as any of them is done.
    pub shared: Vec<Shared>,
    /// The bows (from 1) that may be left out for now.
    pub may_leave: Vec<usize>,
}

/// A stage of the build.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildStage {
    /// Its name in the family.
    pub name: String,
    /// The stages that it follows (by index).
    pub follows: Vec<usize>,
    /// The kind of work, by its name in `work.toml`.
    pub work: String,
}

/// A share of a stage that is done as one: a post, a bow, a piece of a purlin, a door.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// Its stage (by index).
    pub stage: usize,
    /// In words, such as "bow 14" or "ridge, piece 2 of 5".
    pub name: String,
    /// The first and the last bow that it stands at or reaches, from 1 at the front; they may be one.
    pub bows: [usize; 2],
    /// How many of which mark (by index) it needs; each mark once, rising.
    pub needs: Vec<(usize, i64)>,
    /// The units that come before it (by index), all lower than its own. What those follow is not said again, but for a
    /// bow that one of them may span.
    pub after: Vec<usize>,
    /// The pieces of the frame that it places (by index), to light them in a drawing.
    pub pieces: Vec<usize>,
    /// How it takes to a bow that is left out.
    pub gap: Gap,
}

/// How a unit takes to a bow that is left out for now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gap {
    /// It waits, if it comes after something that is left out.
    Waits,
    /// It is that bow (from 1), or some of it, and is left out itself.
    Bow(usize),
    /// It runs along the house, and is laid from the bow before to the bow after.
    Spans,
}

/// A piece that several units are cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shared {
    /// Its mark (by index).
    pub mark: usize,
    /// The units (by index), rising.
    pub units: Vec<usize>,
}

impl Build {
    /// Reads a build off a frame and the parts list of that frame.
    pub fn of(frame: &Frame, parts: &PartsList) -> Self {
        let stages: Vec<BuildStage> = (frame.stages.iter().zip(&frame.steps))
            .map(|(name, step)| BuildStage {
                name: name.clone(),
                follows: step.follows.clone(),
                work: step.work.clone(),
            })
            .collect();
        let mut drafts = units::drafts(frame, parts);
        drafts.sort_by_key(|draft| (draft.stage, draft.holds, draft.bows[0]));
        let bow_stage = leave::bow_stage(frame);
        let ancestors = follow::stages(&stages);
        let before = follow::before_units(&drafts, &ancestors);
        let gaps = leave::gaps(&drafts, &before, bow_stage);
        let after = follow::nearest(&before, &gaps);
        let may_leave = leave::may_leave(frame, &drafts, &gaps, bow_stage);
        let shared = units::shared(frame, parts, &mut drafts);
        let units = (drafts.into_iter().zip(after).zip(gaps))
            .map(|((draft, after), gap)| draft.unit(after, gap))
            .collect();
        Self {
            stages,
            units,
            marks: parts.lines.iter().map(|l| l.part.mark.0.clone()).collect(),
            bows: frame.stations.len(),
            shared,
            may_leave,
        }
    }

    /// By mark: what is used when some units are done and the others are not.
    pub fn used(&self, done: &[bool]) -> Vec<i64> {
        let mut used = vec![0; self.marks.len()];
        for (unit, done) in self.units.iter().zip(done) {
            for (mark, pieces) in unit.needs.iter().filter(|_| *done) {
                used[*mark] += pieces;
            }
        }
        for shared in &self.shared {
            let is_done = |unit: &usize| done[*unit];
            // The first unit's needs have it already.
            if !is_done(&shared.units[0]) && shared.units.iter().any(is_done) {
                used[shared.mark] += 1;
            }
        }
        used
    }

    /// By mark: what the whole build needs.
    pub fn needs(&self) -> Vec<i64> {
        self.used(&vec![true; self.units.len()])
    }

    /// By mark: what a stage and all that it follows, however far back, need.
    pub fn needs_through(&self, stage: usize) -> Vec<i64> {
        let through = self.through(stage);
        let done: Vec<bool> = self.units.iter().map(|u| through[u.stage]).collect();
        self.used(&done)
    }

    /// Whether a stage is this one, or one that it follows, however far back.
    pub fn through(&self, stage: usize) -> Vec<bool> {
        let mut through = vec![false; self.stages.len()];
        let mut open = vec![stage];
        while let Some(at) = open.pop() {
            if let Some(known) = through.get_mut(at)
                && !std::mem::replace(known, true)
            {
                open.extend(&self.stages[at].follows);
            }
        }
        through
    }

    /// The units of a stage (by index).
    pub fn units_of(&self, stage: usize) -> impl Iterator<Item = usize> {
        (self.units.iter().enumerate())
            .filter(move |(_, unit)| unit.stage == stage)
            .map(|(index, _)| index)
    }
}
