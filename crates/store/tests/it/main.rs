//! The tests of the store, linked once.

#![allow(
    clippy::unwrap_used,
    reason = "a test that meets an error is to stop there"
)]

mod append;
mod birth;
mod bundle;
mod bundle_hostile;
mod bundle_tamper;
mod chain;
mod converge;
mod damage;
mod documents;
mod hostile;
mod job_file;
mod kill;
mod local;
mod merge;
mod older;
mod power_cut;
mod read_only;
mod samples;
#[path = "../../../tally/tests/it/schedule.rs"]
mod schedule;
mod thumbnail;
