//! Lengths and masses, exact, as the trade reads and writes them; tolerances; the tube and gauge tables.
//!
//! **Invariant:** nothing here reads a clock, a disk, a network or a random source, and no text makes a
//! reader panic.

mod cursor;
pub mod gauge;
mod grid;
mod instrument;
mod length;
mod mass;
pub mod mil;
mod number;
mod read_error;
mod read_length;
mod steel;
mod sure;
mod tolerance;
pub mod tube;
mod write_length;

pub use gauge::Gauge;
pub use grid::{Grid, System};
pub use length::{Length, Unit};
pub use mass::{Mass, MassUnit};
pub use read_error::ReadError;
pub use sure::Sure;
pub use tolerance::Tolerance;
