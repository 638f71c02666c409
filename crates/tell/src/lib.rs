//! Which part is this? Readings lead to candidates with probabilities, and to the next thing to measure.
//!
//! **Invariant:** this crate never reads a clock, a file, a network or a source of randomness.

/// Stands in until readings are there.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
pub enum Reading {}
