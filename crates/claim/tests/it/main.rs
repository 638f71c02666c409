//! The tests of this crate, linked once.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod peers;
mod received;
mod received_csv;
mod received_job;
mod received_json;
mod received_xlsx;
mod ubl;
mod x12;
