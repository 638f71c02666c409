//! Lengths and masses, exact, as the trade reads and writes them.
//!
//! **Invariant:** nothing here reads a clock, a disk, a network or a random source, and no text makes a
//! reader panic.

mod cursor;
mod grid;
mod length;
mod mass;
mod number;
mod read_error;
mod read_length;
mod write_length;

pub use grid::{Grid, System};
pub use length::{Length, Unit};
pub use mass::{Mass, MassUnit};
pub use read_error::ReadError;
