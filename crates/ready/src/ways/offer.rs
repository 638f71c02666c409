//! All that is offered, before anything is chosen: ways with their figures, what lies on the site, how bars are cut.

use super::stock::Price;
use super::{Situation, Way};
use crate::build::Build;

/// What is asked, worked out once.
pub(crate) struct Asked<'a> {
    /// The situation.
    pub of: &'a Situation<'a>,
    /// Pieces here, by mark.
    pub here: Vec<i64>,
    /// Needed by the whole build, by mark.
    pub whole: Vec<i64>,
    /// Needed by the stages that are asked for, by mark.
    pub needs: Vec<i64>,
    /// Of these, needed where they carry the house.
    carrying: Vec<i64>,
    /// Needed by the whole build where they carry the house.
    pub carrying_whole: Vec<i64>,
    /// Whether each stage is asked for.
    pub asked: Vec<bool>,
    /// Whether each stage carries the house.
    pub carries: Vec<bool>,
    /// Needed by each stage (first) of each mark (second).
    pub by_stage: Vec<Vec<i64>>,
}

impl<'a> Asked<'a> {
    pub(crate) fn of(situation: &'a Situation<'a>) -> Self {
        let build = situation.build;
        let mut by_stage = vec![vec![0; build.marks.len()]; build.stages.len()];
        for unit in &build.units {
            for (mark, pieces) in &unit.needs {
                by_stage[unit.stage][*mark] += pieces;
            }
        }
        let asked = situation.asked();
        let carries = super::loads::carries(build);
        let mut here = situation.supplies.here();
        here.resize(build.marks.len(), 0);
        Self {
            of: situation,
            here,
            whole: build.needs(),
            needs: needs(build, &|stage| asked[stage]),
            carrying: needs(build, &|stage| asked[stage] && carries[stage]),
            carrying_whole: needs(build, &|stage| carries[stage]),
            carries,
            asked,
            by_stage,
        }
    }

    /// How many of a mark the whole build lacks; less than nothing where some are spare.
    pub(crate) fn missing(&self, mark: usize) -> i64 {
        self.whole[mark] - self.here[mark]
    }

    /// How many of a mark the stages that are asked for lack; less than nothing where some are spare.
    pub(crate) fn lacks(&self, mark: usize) -> i64 {
        self.needs[mark] - self.here[mark]
    }

    /// How many of a mark are needed where they carry nothing, in the stages that are asked for; in all stages if those
    /// lack none. A piece that is cut for both is one that carries.
    pub(crate) fn light(&self, mark: usize) -> i64 {
        match self.lacks(mark) > 0 {
            true => self.needs[mark] - self.carrying[mark],
            false => self.whole[mark] - self.carrying_whole[mark],
        }
    }

    /// How a way to a mark stands, where somebody spoke of it.
    pub(crate) fn said(&self, mark: usize, key: &str) -> Option<&'a tally::WaySaid> {
        let name = self.of.build.marks.get(mark)?;
        let seen = (self.of.state.plans.ways).get(&(name.clone(), key.to_owned()));
        seen.map(|seen| &seen.said)
    }

    /// Days from today until the crew comes.
    pub(crate) fn days_left(&self) -> i64 {
        let day = self.of.day.unwrap_or(self.of.today);
        let until = self.of.today.until(day);
        until.map_or(0, |span| i64::from(span.get_days()).max(0))
    }

    /// The part of a mark.
    pub(crate) fn part(&self, mark: usize) -> Option<&'a frame::Part> {
        Some(&self.line(mark)?.part)
    }

    /// The line of a mark.
    pub(crate) fn line(&self, mark: usize) -> Option<&'a frame::Line> {
        let name = self.of.build.marks.get(mark)?;
        let lines = &self.of.ordered.parts.lines;
        // The build has its marks in the order of the parts list.
        let at = lines.get(mark).filter(|line| line.part.mark.0 == *name);
        at.or_else(|| lines.iter().find(|line| line.part.mark.0 == *name))
    }
}

/// How many of each mark some stages need.
pub(crate) fn needs(build: &Build, takes: &dyn Fn(usize) -> bool) -> Vec<i64> {
    let done: Vec<bool> = build.units.iter().map(|unit| takes(unit.stage)).collect();
    build.used(&done)
}

/// A way that can be chosen, in whole pieces.
#[derive(Clone, Debug)]
pub(crate) struct Offer {
    /// The mark.
    pub mark: usize,
    /// The way as people see it.
    pub way: Way,
    /// What each piece costs.
    pub each: Price,
    /// Whether somebody goes to the shops for it.
    pub trip: bool,
    /// Whether it comes with the fast freight; true: something long.
    pub freight: Option<bool>,
    /// Whether it may only go where nothing is carried.
    pub light: bool,
    /// What makes the pieces, where they are not there as they are.
    pub made: Option<Source>,
}

/// Where pieces that are made come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Source {
    /// Cut from what lies on the site.
    Site,
    /// Cut from what a shop has: which bar of the stock.
    Shop(usize),
    /// Two pieces joined.
    Joined,
}

/// A length of a mark that can be cut anew.
#[derive(Clone, Debug)]
pub(crate) struct Want {
    /// The mark.
    pub mark: usize,
    /// What is cut.
    pub wanted: super::cut::Wanted,
    /// Its length as it lies in the yard.
    pub overall: measure::Length,
    /// Which section (by index into [`Lengths::sections`]).
    pub section: usize,
}

/// Something on the site that is used up.
#[derive(Clone, Debug)]
pub(crate) struct Lying {
    /// What it is, in words.
    pub says: String,
    /// Its mark.
    pub mark: usize,
    /// How many there are.
    pub have: i64,
    /// What can be cut of it.
    pub bar: super::cut::Bar,
    /// Its section, where it has one that something is cut of.
    pub section: Option<usize>,
    /// The want (by index) that it is the leftover of: if that is made of something else, this is never cut off.
    pub of_want: Option<usize>,
}

/// One way to make pieces: of these, those.
#[derive(Clone, Debug)]
pub(crate) struct Recipe {
    /// Where from.
    pub source: Source,
    /// What it uses up of what lies on the site (by index), so many each.
    pub uses: Vec<(usize, i64)>,
    /// What it makes (wants by index), so many each.
    pub makes: Vec<(usize, i64)>,
    /// What one costs.
    pub cost: Price,
    /// What is cut or joined, in words, without its number.
    pub of: String,
}

/// All that has a length.
#[derive(Clone, Debug, Default)]
pub(crate) struct Lengths {
    /// What is wanted.
    pub wants: Vec<Want>,
    /// What lies on the site.
    pub lying: Vec<Lying>,
    /// How wants are made.
    pub recipes: Vec<Recipe>,
    /// Whether every pattern is among the recipes.
    pub whole: bool,
}

/// A stage that may wait, or the house that may end a bay sooner: fewer pieces are needed.
#[derive(Clone, Debug)]
pub(crate) struct Less {
    /// Its key.
    pub key: String,
    /// What kind of way.
    pub kind: super::WayKind,
    /// What that means, in words.
    pub says: String,
    /// How many fewer of which mark are needed by the stages that are asked for.
    pub frees: Vec<(usize, i64)>,
    /// Of those, where nothing is carried.
    pub frees_light: Vec<(usize, i64)>,
    /// What it frees in stages that may wait themselves, by stage: where such a stage waits as well, these places are free
    /// but once.
    pub within: Vec<(usize, Vec<(usize, i64)>)>,
    /// The stage that waits by it.
    pub stage: Option<usize>,
    /// What it costs.
    pub cost: Price,
    /// Days from today.
    pub delay_days: [i64; 2],
    /// The chance that it does not come off.
    pub risk: f64,
    /// Whether the sender is asked first.
    pub ask: bool,
    /// How it stands.
    pub stands: Option<tally::WayStands>,
    /// Where its figures are from.
    pub source: String,
}
