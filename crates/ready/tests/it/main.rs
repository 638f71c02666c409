//! One test binary for the crate.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod day_reach;
mod houses;
mod work;
mod jobs;
mod readiness;
mod corners;
mod handling;
mod lift;
mod setting;
mod stakes;
mod unload;
mod ground;
mod ground_given;
mod ways;
mod ways_case;
