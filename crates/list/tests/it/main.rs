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
mod kinds;
mod kinds_hostile;
#[path = "../labelled/mod.rs"]
#[allow(dead_code, reason = "the bench uses the rest")]
mod labelled;
mod large;
mod learned;
mod parts;
mod quality;
mod quantities;
mod reading;
mod recognised;
mod slow;
mod slow_data;
mod tables;
mod texts;
