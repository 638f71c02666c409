//! A length is a whole count of nanometres.

use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

use crate::{Grid, ReadError, System, read_length, write_length};

/// A length; a whole count of nanometres, so that sums of inch fractions and of millimetres are exact.
///
/// An `i64` of nanometres reaches nine million kilometres, and no length beyond 1000 km is read. The operators
/// `+ - *` panic rather than wrap when a result is out of range; where a quantity from outside multiplies a
/// length, use [`Length::checked_mul`] and [`Length::checked_add`]. As data it is that whole count.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Length(i64);

/// A unit that a length may be written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// 304.8 mm.
    Foot,
    /// 25.4 mm.
    Inch,
    /// 1000 mm.
    Metre,
    /// 10 mm.
    Centimetre,
    /// The millimetre.
    Millimetre,
}

impl Unit {
    /// The length of one unit. The inch is 25.4 mm by the international yard and pound agreement of 1959.
    pub const fn as_length(self) -> Length {
        match self {
            Unit::Foot => Length::feet(1),
            Unit::Inch => Length::inches(1),
            Unit::Metre => Length::millimetres(1000),
            Unit::Centimetre => Length::millimetres(10),
            Unit::Millimetre => Length::millimetres(1),
        }
    }
}

/// Why a length is not the sum, product or count that was asked for, in the panics below.
const OUT_OF_RANGE: &str = "a length beyond nine million kilometres";

impl Length {
    /// No length.
    pub const ZERO: Length = Length(0);

    /// A count of nanometres.
    pub const fn nanometres(n: i64) -> Self {
        Self(n)
    }

    /// A count of millimetres. Panics out of range, as all constructors here do.
    pub const fn millimetres(n: i64) -> Self {
        Self::count(n, 1_000_000)
    }

    /// A count of 1/64 in.
    pub const fn sixty_fourths(n: i64) -> Self {
        Self::count(n, 396_875)
    }

    /// A count of 1/10 000 in, the last place of the wall and gauge tables.
    pub const fn ten_thousandths(n: i64) -> Self {
        Self::count(n, 2_540)
    }

    /// A count of mil, thousandths of an inch: film, and the ODs and walls of tube.
    pub const fn mils(n: i64) -> Self {
        Self::count(n, 25_400)
    }

    /// A count of inches.
    pub const fn inches(n: i64) -> Self {
        Self::count(n, 25_400_000)
    }

    /// A count of feet.
    pub const fn feet(n: i64) -> Self {
        Self::count(n, 304_800_000)
    }

    const fn count(n: i64, unit: i64) -> Self {
        match n.checked_mul(unit) {
            Some(nanometres) => Self(nanometres),
            None => panic!("{}", OUT_OF_RANGE),
        }
    }

    /// The count of nanometres.
    pub const fn as_nanometres(self) -> i64 {
        self.0
    }

    /// Metres, for geometry.
    pub fn to_metres(self) -> f64 {
        self.0 as f64 / 1e9
    }

    /// Inches, for printing and tables.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / 25_400_000.0
    }

    /// Nearest step of the grid to a count of metres, half away from zero; nothing when it is not finite or
    /// out of range.
    pub fn from_metres(metres: f64, grid: Grid) -> Option<Self> {
        let step = grid.step().as_nanometres();
        let steps = (metres * 1e9 / step as f64).round();
        // Beyond 1e15 a float no longer tells neighbouring steps apart with room to spare.
        (steps.is_finite() && steps.abs() < 1e15).then_some(())?;
        (steps as i64).checked_mul(step).map(Self)
    }

    /// Reads a length, and nothing else than a length; a number without a unit takes `bare`, or is refused
    /// when that is nothing.
    ///
    /// Read are feet and inches (`10' 6-1/2"`, `10'-6½"`, `10ft 6 1/2in`, `10 ft, 6 in.`), inches (`126.5"`,
    /// `1-5/8 in`, `6''`) and metric (`3.2 m`, `320 cm`, `3200mm`), in either case and with typographic
    /// quotes, primes, dashes, spaces, fractions and full-width characters.
    ///
    /// - A fraction that is no whole count of nanometres (1/3 in) is rounded to the nearest, half away from zero.
    /// - A comma with three digits after it parts thousands in millimetres, inches and feet (`3,200 mm` is
    ///   3.2 m) and is refused in metres and centimetres, where it may mean either. With any other count of
    ///   digits after it, or after a lone 0, it is a decimal comma, which metric units take (`3,2 m`, `0,125 m`).
    /// - After feet stand less than twelve inches, and the feet are whole. A number that ends the text after
    ///   feet is inches (`10' 6`).
    /// - Two numbers without a unit between them are refused, whatever `bare` is, save a mixed number (`1 5/8`).
    /// - A fraction of one or more is refused: `61/2` is what becomes of 6½ when its characters are taken apart.
    ///
    /// # Errors
    /// [`ReadError`] says what stood there and what would be right. Beyond ±1000 km nothing is read.
    pub fn read(text: &str, bare: Option<Unit>) -> Result<Self, ReadError> {
        read_length::whole(text, bare)
    }

    /// Reads the longest length at the start of `text`, and how many bytes it took, leading spaces counted in.
    ///
    /// As [`Length::read`], but any text may follow: of `1 5/8 in. OD` it takes `1 5/8 in.`, and with feet for
    /// `bare` of `24x96` it takes `24`. A number without a unit is not taken when it is the beginning of a
    /// word, a code, a date or a range (`10-6`, `1/2/2024`, `16ga`), nor when a unit of another kind follows
    /// (`16 ga`, `12 lb`). Inches without a unit are taken only close to a foot mark (`10'6`, `10'-6`).
    ///
    /// The byte count always falls between two characters of `text`.
    pub fn read_start(text: &str, bare: Option<Unit>) -> Option<(Self, usize)> {
        read_length::start(text, bare)
    }

    /// Writes the length in a system, rounded to a grid, half away from zero.
    ///
    /// Feet and inches: `10 ft 6-1/2 in`, `6-1/2 in`, `10 ft`, `-10 ft 6 in`, `0 in`. On a grid that is no
    /// binary fraction of an inch the inches are decimal, as short as reads back the same: `3.937 in`.
    ///
    /// Metric: on a grid of whole centimetres metres, with the places the grid needs (`3.20 m`); on any finer
    /// or broken grid millimetres, with places only where they are not nought (`3200 mm`, `3201.5875 mm`).
    ///
    /// What is written of a length on the grid, within ±1000 km, is read back as the same length.
    pub fn write(self, system: System, grid: Grid) -> String {
        write_length::write(self, system, grid)
    }

    /// The nearest step of a grid, half away from zero; at the end of the range the last step within it.
    pub fn round(self, grid: Grid) -> Self {
        let step = i128::from(grid.step().0);
        let steps = (2 * i128::from(self.0).abs() + step) / (2 * step);
        let last = i128::from(i64::MAX) / step;
        let nanometres = steps.min(last) * step;
        let nanometres = i64::try_from(nanometres).expect("the last step is within an i64");
        Self(if self.0 < 0 { -nanometres } else { nanometres })
    }

    /// The sum, or nothing when it is out of range.
    pub fn checked_add(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// The difference, or nothing when it is out of range.
    pub fn checked_sub(self, other: Self) -> Option<Self> {
        self.0.checked_sub(other.0).map(Self)
    }

    /// The multiple, or nothing when it is out of range.
    pub fn checked_mul(self, n: i64) -> Option<Self> {
        self.0.checked_mul(n).map(Self)
    }

    /// The length without its sign; nothing for the one length that has no opposite.
    pub fn checked_abs(self) -> Option<Self> {
        self.0.checked_abs().map(Self)
    }
}

/// Panics when the sum is out of range.
impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.checked_add(other).expect(OUT_OF_RANGE)
    }
}

/// Panics when the difference is out of range.
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.checked_sub(other).expect(OUT_OF_RANGE)
    }
}

/// Panics when the opposite is out of range.
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self::ZERO - self
    }
}

/// Panics when the multiple is out of range.
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        self.checked_mul(n).expect(OUT_OF_RANGE)
    }
}

/// Panics when the sum is out of range.
impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, |sum, length| sum + length)
    }
}
