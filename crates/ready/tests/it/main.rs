//! One test binary for the crate.
mod ground;
mod ground_given;
mod ground_random;
