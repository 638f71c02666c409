//! One test binary for the crate.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod corners;
mod day_reach;
mod ground;
mod ground_given;
mod ground_random;
mod handling;
mod houses;
mod jobs;
mod lift;
mod readiness;
mod setting;
mod stakes;
mod unload;
mod ways;
mod ways_case;
mod work;
