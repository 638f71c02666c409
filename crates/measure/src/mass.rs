//! A mass is a whole count of micrograms.

/// A mass; a whole count of micrograms (1 lb is exactly 453 592 370 µg).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(i64);

impl Mass {
    /// No mass.
    pub const ZERO: Mass = Mass(0);
    /// A count of micrograms.
    pub const fn micrograms(n: i64) -> Self {
        Self(n)
    }
    /// A count of grams.
    pub const fn grams(n: i64) -> Self {
        Self(n * 1_000_000)
    }
    /// The count of micrograms.
    pub const fn as_micrograms(self) -> i64 {
        self.0
    }
    /// Kilograms, for printing.
    pub fn to_kilograms(self) -> f64 {
        self.0 as f64 * 1e-9
    }
    /// Pounds, for printing.
    pub fn to_pounds(self) -> f64 {
        self.0 as f64 / 453_592_370.0
    }
    /// Nearest microgram to a count of kilograms; nothing when it is not finite or out of range.
    pub fn from_kilograms(kg: f64) -> Option<Self> {
        let ug = (kg * 1e9).round();
        (ug.is_finite() && ug.abs() < 9e18).then_some(Self(ug as i64))
    }
}
impl std::ops::Add for Mass {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl std::ops::Mul<i64> for Mass {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl std::iter::Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(i: I) -> Self {
        i.fold(Self::ZERO, |a, b| a + b)
    }
}
