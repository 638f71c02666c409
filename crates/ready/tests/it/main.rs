//! One test binary for the crate.


#![allow(clippy::unwrap_used)]
// Helpers outside of `#[test]` functions may panic as those do.
mod corners;
mod handling;
mod jobs;
mod lift;
mod readiness;
mod setting;
mod stakes;
mod unload;
