//! One test binary for the crate.

mod build;
mod how_far;
mod programme;
mod small_builds;
