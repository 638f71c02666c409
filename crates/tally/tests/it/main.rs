//! The tests of the tally, linked once.

mod affairs;
mod by_length;
mod by_weight;
mod converge;
mod demo_job;
mod digest;
mod fold;
mod how;
mod job;
mod known;
mod lists;
mod look_alike;
mod looks;
mod on_hand;
mod properties;
mod rules;
mod samples;
mod schedule;
mod shipments;
mod shots;
mod spares;
mod verdicts;
mod voiding;
mod wire;
