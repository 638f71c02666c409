//! One test binary for the crate.

mod call;
mod chance;
mod days;
mod how_far;
mod jobs;
mod readiness;
mod small_builds;
mod supply;
