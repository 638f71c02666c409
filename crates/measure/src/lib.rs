//! Lengths and masses, exact, as the trade reads and writes them.

mod length;
mod mass;

pub use length::{Grid, Length, ReadError, System, Unit};
pub use mass::Mass;
