//! One test binary for the crate.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod build;
mod call;
mod chance;
mod corners;
mod day_reach;
mod days;
mod ground;
mod ground_given;
mod ground_random;
mod handling;
mod houses;
mod how_far;
mod jobs;
mod lift;
mod programme;
mod readiness;
mod setting;
mod small_builds;
mod stakes;
mod supply;
mod unload;
mod ways;
mod ways_case;
mod ways_cutting;
mod ways_least;
mod ways_stock;
mod work;
