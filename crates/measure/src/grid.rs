//! What a written length is rounded to, and how it is written.

use crate::Length;

/// The two ways of writing a measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum System {
    /// Feet, inches and a fraction: 10 ft 6-1/2 in. Masses in pounds.
    FeetInch,
    /// Millimetres and metres. Masses in kilograms.
    Metric,
}

/// The step that a length is rounded to; always more than nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Grid(Length);

impl Grid {
    /// 1/16 in, what a tape shows.
    pub const SIXTEENTH: Grid = Grid(Length::sixty_fourths(4));
    /// 1 mm.
    pub const MILLIMETRE: Grid = Grid(Length::millimetres(1));
    /// 1 cm.
    pub const CENTIMETRE: Grid = Grid(Length::millimetres(10));
    /// 1 nm, the finest there is: nothing is rounded.
    pub const NANOMETRE: Grid = Grid(Length::nanometres(1));

    /// A grid of this step; nothing when the step is nought or less.
    pub fn new(step: Length) -> Option<Self> {
        (step > Length::ZERO).then_some(Self(step))
    }

    /// A grid of one part of an inch: 64 for 1/64 in. Nothing for 0, and for parts that are no whole count of
    /// nanometres (3, 128), whose multiples would not be exact.
    pub fn inch_fraction(parts: u32) -> Option<Self> {
        let inch = Length::inches(1).as_nanometres();
        let parts = i64::from(parts);
        (parts > 0 && inch % parts == 0).then(|| Self(Length::nanometres(inch / parts)))
    }

    /// The length of one step.
    pub const fn step(self) -> Length {
        self.0
    }
}
