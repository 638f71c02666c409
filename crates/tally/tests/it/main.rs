//! The tests of the tally, linked once.

mod converge;
mod demo_job;
mod digest;
mod fold;
mod job;
mod known;
mod lists;
mod look_alike;
mod on_hand;
mod properties;
mod rules;
mod samples;
mod schedule;
mod shipments;
mod spares;
mod verdicts;
mod voiding;
mod wire;
