//! What is at hand to measure with.

use measure::{Mass, System};

use crate::reading::{Marks, TapeClass};

/// What is at hand to measure with. Readings with other tools are taken too; this says only what may be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tools {
    /// How tape and caliper are marked.
    pub marks: Marks,
    /// A tape, and how true it is.
    pub tape: Option<TapeClass>,
    /// A string, or a tape that bends around a tube.
    pub string: bool,
    /// A caliper.
    pub caliper: bool,
    /// A plate with slots of the common thicknesses.
    pub gauge_plate: bool,
    /// A scale, and the step in which it shows masses.
    pub scale: Option<Mass>,
}

impl Tools {
    /// A tape and a string, a caliper, and a scale to 10 g; no gauge plate.
    pub fn usual(system: System) -> Self {
        let (marks, tape) = match system {
            System::FeetInch => (Marks::Inch, TapeClass::Handbook44),
            System::Metric => (Marks::Metric, TapeClass::EcII),
        };
        Self {
            marks,
            tape: Some(tape),
            string: true,
            caliper: true,
            gauge_plate: false,
            scale: Some(Mass::grams(10)),
        }
    }

    /// A tape and nothing else.
    pub fn tape_only(system: System) -> Self {
        Self {
            string: false,
            caliper: false,
            gauge_plate: false,
            scale: None,
            ..Self::usual(system)
        }
    }
}
