//! One test binary for the crate.

mod how_far;
mod small_builds;
