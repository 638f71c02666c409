//! One test binary for the crate.

mod ways;
mod ways_case;
