//! One linked test binary for the crate.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod amplified;
mod assignment;
mod corpus;
mod corrected;
mod describe;
mod hands;
mod headers;
mod hostile;
mod large;
mod learned;
mod parts;
mod quantities;
mod reading;
mod recognised;
mod slow;
mod tables;
