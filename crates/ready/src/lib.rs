//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

mod build;
mod how_far;
pub mod programme;
mod supply;
pub mod ways;

pub use build::{Build, BuildStage, Unit};
pub use how_far::{HowFar, StageReach, Stop};
pub use supply::{Coming, Rests, Share, Supplies, Supply};
pub use ways::{Help, Plan, ShortMark, Situation, Use, Way, WayKind, what_helps};
