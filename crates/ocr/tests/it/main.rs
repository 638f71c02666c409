//! Tests of recognised pictures.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod pictures;
#[cfg(unix)]
mod programs;
