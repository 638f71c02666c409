//! Which part is this? Readings lead to candidates with probabilities, and to the next thing to measure.
//!
//! **Invariant:** this crate never reads a clock, a file, a network or a source of randomness.
