//! One test binary for the crate.

mod jobs;
mod readiness;
