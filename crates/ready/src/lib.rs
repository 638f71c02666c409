//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

pub mod assumed;
mod bits;
mod build;
mod call;
mod call_rests;
mod call_words;
mod chance;
mod coming;
pub mod corners;
mod day_reach;
mod day_work;
mod days;
pub mod ground;
pub mod handling;
mod how_far;
pub mod lift;
pub mod lift_tables;
mod likely;
mod memo;
mod odds;
mod of_standing;
mod pace;
pub mod programme;
mod readiness;
pub mod stakes;
mod supply;
mod svg;
pub mod tape;
mod tools;
pub mod unload;
pub mod ways;
mod work;
mod work_amounts;
mod work_file;

pub use build::{Build, BuildStage, Gap, LEAVE_OUT, Shared, Unit};
pub use call::{Call, CallIs};
pub use call_words::{bows_in_words, chance_in_words};
pub use chance::{MOST_FIRSTS, StageChance, stage_chances};
pub use day_reach::{DayReach, Done, StageDay, day_reach};
pub use days::DayOutlook;
pub use how_far::{Effort, HowFar, StageReach, Stop, how_far, how_far_effort, how_far_programmes};
pub use likely::MOST_OPEN;
pub use of_standing::{ASK_FIRST, supplies};
pub use readiness::Readiness;
pub use supply::{Coming, ComingIs, Rests, Share, Supplies, Supply};
pub use tools::{ToolTally, tools_needed};
pub use ways::{Help, Plan, ShortMark, Situation, Use, Way, WayKind, what_helps, what_would_help};
pub use work::{PaceRests, SENDER_FIRST, StageWork, ToolNeed, hours, works};
