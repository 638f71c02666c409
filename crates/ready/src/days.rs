//! Days on which a crew could build, each with how far the build gets and how likely.

use jiff::civil::Date;

use crate::call::Call;
use crate::chance::StageChance;
use crate::how_far::HowFar;

/// A day on which a crew could build.
#[derive(Clone, Debug, PartialEq)]
pub struct DayOutlook {
    /// The day.
    pub day: Date,
    /// People, as planned, or as on the next day that was planned.
    pub people: i64,
    /// Minutes that each works.
    pub minutes: i64,
    /// Whether a person planned a crew for it.
    pub planned: bool,
    /// Whether they were told to come.
    pub called: bool,
    /// How far the build gets with what is more likely than not there.
    pub far: HowFar,
    /// How likely each stage of the build has its pieces.
    pub chances: Vec<StageChance>,
    /// The answer for it.
    pub call: Call,
}
