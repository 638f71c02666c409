//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

mod build;
mod day_reach;
mod how_far;
mod pace;
pub mod programme;
mod supply;
mod tools;
mod work;
mod work_amounts;
mod work_file;

pub use build::{Build, BuildStage, Unit};
pub use day_reach::{DayReach, Done, StageDay, day_reach};
pub use how_far::{HowFar, StageReach, Stop};
pub use supply::{Coming, Rests, Share, Supplies, Supply};
pub use tools::{ToolTally, tools_needed};
pub use work::{PaceRests, SENDER_FIRST, StageWork, ToolNeed, hours, works};
