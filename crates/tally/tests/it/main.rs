//! The tests of the tally, linked once.

mod digest;
mod fold;
mod on_hand;
mod rules;
mod samples;
mod voiding;
mod wire;
