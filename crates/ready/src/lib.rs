//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

mod build;
mod how_far;
pub mod programme;
mod supply;

pub use build::{Build, BuildStage, Gap, Shared, Unit};
pub use how_far::{HowFar, StageReach, Stop, how_far};
pub use supply::{Coming, Rests, Share, Supplies, Supply};
