//! One test binary for the crate.

mod call;
mod chance;
mod days;
mod jobs;
mod readiness;
mod supply;
