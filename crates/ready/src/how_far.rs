//! How far the pieces that there are go: the most units, stage by stage, in the order of the build.

/// How far the build gets with so many pieces of each mark.
#[derive(Clone, Debug, PartialEq)]
pub struct HowFar {
    /// Each stage, in the order of the build.
    pub stages: Vec<StageReach>,
    /// Whether each unit of the build is done.
    pub done: Vec<bool>,
    /// The bows (from 1) that are left out for now, so that the rest stands braced; they are set in later.
    pub left_out: Vec<usize>,
    /// Whether no other giving of pieces to places gets farther.
    pub proven: bool,
}

/// How far one stage gets.
#[derive(Clone, Debug, PartialEq)]
pub struct StageReach {
    /// The stage (by index).
    pub stage: usize,
    /// How many units it has.
    pub units: usize,
    /// How many of them can be done.
    pub done: usize,
    /// Up to this bow (from 1, counted from the front) all of it can be done; nothing where not even the first can, or
    /// where bows do not tell it.
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
        /// Needed by this stage and all that it follows.
        needed: i64,
        /// There.
        there: i64,
    },
    /// A stage before it (by index) is not done.
    Before(usize),
}
