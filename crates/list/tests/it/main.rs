//! One linked test binary for the crate.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod assignment;
mod describe;
mod despatch_hostile;
mod despatch_numbers;
mod despatch_samples;
mod despatch_ubl;
mod despatch_x12;
mod hands;
mod headers;
mod hostile;
mod large;
mod parts;
mod quantities;
mod reading;
mod tables;
