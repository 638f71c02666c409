//! Which part is this? Readings lead to candidates with probabilities, and to the next thing to measure.
//!
//! [`Kit::of`] the parts of an order → [`Kit::answer`] to what was read → [`Kit::next`] thing to read; [`Kit::look_alikes`].
//!
//! # The model in short
//!
//! A piece is of one of the order's marks, each as likely as its share of all pieces; or a part known of another order;
//! or anything. What is read of it is a whole number of the tool's marks, or one of a few looks, and each has an exact
//! chance under each of these:
//!
//! - **A size** is that of the part and the piece's own deviation (normal, from the part's tolerance), seen through the
//!   tool's error (normal), rounded to its marks: a difference of two values of the normal distribution, not a density.
//!   Beside that stand a tape's slips (a foot, 100 mm, 10 mm), and anything at all, spread over the logarithm.
//! - **Read again**, a piece's own deviation is the same and the tool's error is not: the chance of all readings of one
//!   size is the integral over that deviation, with whatever tool they were read ([`Size::Across`] and [`Size::Around`] are
//!   of one size). No more than the last six count.
//! - **A look** is right but for stated confusions, and anything at all now and then. Looks are taken as independent of
//!   each other. Who looks again sees with the same eyes: the last look counts.
//! - **What a part has not**, or the list does not tell (the wall of a bolt, the length of a clamp), is read as anything.
//!
//! Bayes' rule makes probabilities of that. No reading is impossible under any of them, so no answer is ever undefined.
//! Every figure stands in [`error_model`] with its source.
//!
//! What to read next is that which leads to a decision soonest, in seconds of effort: with many candidates the most bits a
//! second, with few the best of the courses that the asking can take, a few questions deep.
//!
//! **Known limits.** Chord and length of a straight piece are taken as read apart, though they are one. A tape's own
//! error is taken as new at each reading. The chances of a finer tool after a coarser one, in choosing what to ask, are
//! those before the coarser was read. Holes are known only of punched ends.
//!
//! **Invariant:** this crate never reads a clock, a file, a network or a source of randomness.

mod again;
mod ahead;
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
