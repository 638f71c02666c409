//! Which part is this? Readings lead to candidates with probabilities, and to the next thing to measure.
//!
//! **Invariant:** this crate never reads a clock, a file, a network or a source of randomness.

mod again;
mod answer;
pub mod error_model;
mod evidence;
mod kit;
mod look_alike;
mod looks;
mod next;
mod normal;
mod odd;
mod perfect;
mod question;
mod readable;
mod reading;
mod tables;
mod tools;
mod way;
mod words;
mod words_next;

pub use answer::{Answer, Candidate, Decided};
pub use error_model::CONFIDENCE;
pub use kit::{Kit, KnownPart};
pub use look_alike::{LookAlike, Quickest};
pub use next::Next;
pub use odd::Odd;
pub use question::Asked;
pub use reading::{BendLook, Coating, EndLook, Kind, Marks, Reading, Size, TapeClass, Tool, Which};
pub use tables::Tables;
pub use tools::Tools;
pub use words::percent;
