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
mod peers;
mod receipt;
mod received;
mod received_csv;
mod received_job;
mod received_json;
mod received_xlsx;
mod rule_files;
mod rules_said;
mod tailgate;
mod ubl;
mod x12;
