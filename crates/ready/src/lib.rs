//! Can the build start, how far will it get, and where does everything lie.
//!
//! Pure: no clock, no disk, no network, no randomness that is not handed in.

mod build;
pub mod corners;
pub mod handling;
mod how_far;
pub mod lift;
pub mod lift_tables;
pub mod programme;
pub mod stakes;
mod supply;
pub mod tape;
pub mod unload;

pub use build::{Build, BuildStage, Unit};
pub use how_far::{HowFar, StageReach, Stop};
pub use supply::{Coming, Rests, Share, Supplies, Supply};
