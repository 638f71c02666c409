//! The tests of this crate, linked once.
//!
//! Marks beside the figures: S seen in a publication, S2 second-hand, D derived, M from memory.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod arrival;
mod calendar;
mod days;
mod due;
mod due_properties;
mod due_terms;
mod holidays;
mod of_log;
mod page;
mod papers;
mod receipt;
mod rule_files;
mod rules_said;
mod tailgate;
