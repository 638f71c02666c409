//! A length as an instrument shows it.

use crate::{Grid, Length, System};

impl Length {
    /// As a tape shows it: to 1/16 in or to 1 mm.
    pub fn tape(self, system: System) -> String {
        let grid = match system {
            System::FeetInch => Grid::SIXTEENTH,
            System::Metric => Grid::MILLIMETRE,
        };
        self.write(system, grid)
    }

    /// As a caliper shows it: inches to three places or millimetres to one. It is for reading, not for reading back.
    pub fn caliper(self, system: System) -> String {
        match system {
            System::FeetInch => format!("{:.3} in", self.to_inches()),
            System::Metric => format!("{:.1} mm", self.to_metres() * 1e3),
        }
    }
}
