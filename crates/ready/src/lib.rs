//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

pub mod assumed;
mod build;
mod call;
mod chance;
mod day_reach;
mod days;
mod how_far;
mod of_standing;
mod pace;
pub mod programme;
mod readiness;
mod supply;
mod tools;
pub mod ways;
mod work;
mod work_amounts;
mod work_file;

pub use build::{Build, BuildStage, Unit};
pub use call::{Call, CallIs};
pub use chance::StageChance;
pub use day_reach::{DayReach, Done, StageDay, day_reach};
pub use days::DayOutlook;
pub use how_far::{HowFar, StageReach, Stop};
pub use of_standing::supplies;
pub use readiness::Readiness;
pub use supply::{Coming, ComingIs, Rests, Share, Supplies, Supply};
pub use tools::{ToolTally, tools_needed};
pub use ways::{Help, Plan, ShortMark, Situation, Use, Way, WayKind, what_helps};
pub use work::{PaceRests, SENDER_FIRST, StageWork, ToolNeed, hours, works};
