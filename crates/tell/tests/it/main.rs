//! Telling parts apart against draws from the stated model, the best course of questions, and published tables.
//!
//! Marks beside the figures: S seen in a publication, S2 second-hand, S2t a trade page, D derived, M from memory.

// Helpers outside of `#[test]` functions may panic as those do.
#![allow(clippy::unwrap_used)]

mod calibration;
mod cases;
mod draw;
mod hostile;
mod house;
mod no_error;
mod policy;
mod published;
mod wire;
