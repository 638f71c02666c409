//! One linked test binary for the crate.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod amplified;
mod assignment;
mod chains;
mod corpus;
mod corrected;
mod describe;
mod despatch_hostile;
mod despatch_numbers;
mod despatch_samples;
mod despatch_ubl;
mod despatch_x12;
mod geometry;
mod hands;
mod headers;
mod headings;
mod hostile;
mod kinds;
mod kinds_hostile;
mod kits;
#[allow(dead_code, reason = "the bench uses the rest")]
#[path = "../labelled/mod.rs"]
mod labelled;
mod large;
mod learned;
mod left_out;
mod parts;
mod pdf_hostile;
mod pdf_lists;
mod quality;
mod quantities;
mod reading;
mod recognised;
mod rows;
mod slow;
mod slow_data;
mod tables;
mod texts;
