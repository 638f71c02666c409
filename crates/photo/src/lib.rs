//! Pictures from phones, which are hostile until looked at: what they are, small copies of them, and round tubes found
//! in them.
//!
//! **Invariant:** nothing is decoded without bounds, and this crate never reads a clock, a file or a network.

mod ring_fit;
mod ring_plane;
mod ring_sure;
mod ring_votes;
mod rings;

pub use rings::{Ring, rings};
#[doc(hidden)] pub use rings::DUMP;
