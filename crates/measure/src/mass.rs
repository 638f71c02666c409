//! A mass is a whole count of micrograms.

use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

use serde::{Deserialize, Serialize};

use crate::cursor::Cursor;
use crate::number::{Comma, Number};
use crate::read_error::shorten;
use crate::write_length::{decimal, nearest};
use crate::{ReadError, System};

/// A mass; a whole count of micrograms (1 lb is exactly 453 592 370 µg).
///
/// An `i64` of micrograms reaches nine million tonnes, and no mass beyond 1000 t is read. The operators
/// `+ - *` panic rather than wrap when a result is out of range; where a quantity from outside multiplies a
/// mass, use [`Mass::checked_mul`] and [`Mass::checked_add`]. As data it is that whole count.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Mass(i64);

/// A unit that a mass may be written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MassUnit {
    /// 453 592 370 µg, by the international yard and pound agreement of 1959.
    Pound,
    /// 1/16 lb, 28 349 523.125 µg.
    Ounce,
    /// 1000 g.
    Kilogram,
    /// The gram.
    Gram,
}

const POUND: i64 = 453_592_370;
const KILOGRAM: i64 = 1_000_000_000;
const MOST_MICROGRAMS: i128 = 1_000_000_000_000_000;
const MOST: &str = "1000 t";
const RIGHT: &str = "12.5 lb, 12 lb 4 oz, 5.7 kg or 450 g";
const RIGHT_POUNDS: &str = "12 lb 4 oz";
const OUT_OF_RANGE: &str = "a mass beyond nine million tonnes";

impl Mass {
    /// No mass.
    pub const ZERO: Mass = Mass(0);

    /// A count of micrograms.
    pub const fn micrograms(n: i64) -> Self {
        Self(n)
    }

    /// A count of grams. Panics out of range, as all constructors here do.
    pub const fn grams(n: i64) -> Self {
        Self::count(n, 1_000_000)
    }

    /// A count of pounds.
    pub const fn pounds(n: i64) -> Self {
        Self::count(n, POUND)
    }

    const fn count(n: i64, unit: i64) -> Self {
        match n.checked_mul(unit) {
            Some(micrograms) => Self(micrograms),
            None => panic!("{}", OUT_OF_RANGE),
        }
    }

    /// The count of micrograms.
    pub const fn as_micrograms(self) -> i64 {
        self.0
    }

    /// Kilograms, for printing.
    pub fn to_kilograms(self) -> f64 {
        self.0 as f64 / 1e9
    }

    /// Pounds, for printing.
    pub fn to_pounds(self) -> f64 {
        self.0 as f64 / POUND as f64
    }

    /// Nearest microgram to a count of kilograms, half away from zero; nothing when it is not finite or out
    /// of range.
    pub fn from_kilograms(kg: f64) -> Option<Self> {
        let micrograms = (kg * 1e9).round();
        (micrograms.is_finite() && micrograms.abs() < 9e18).then_some(Self(micrograms as i64))
    }

    /// Reads a mass, and nothing else than a mass: `12.5 lb`, `12 lb 4 oz`, `5.7 kg`, `450 g`. A number
    /// without a unit takes `bare`, or is refused when that is nothing.
    ///
    /// An ounce is no whole count of micrograms (28 349 523.125), so what is read in ounces is rounded to the
    /// nearest, half away from zero; so are fractions. Commas part thousands in pounds, ounces and grams and
    /// are refused before three digits in kilograms, where they may mean either; see [`crate::Length::read`].
    ///
    /// # Errors
    /// [`ReadError`] says what stood there and what would be right. Beyond ±1000 t nothing is read.
    pub fn read(text: &str, bare: Option<MassUnit>) -> Result<Self, ReadError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(ReadError::Empty { right: RIGHT });
        }
        let mut cursor = Cursor::new(text);
        cursor.eat_spaces();
        let mass = mass(&mut cursor, bare)?;
        cursor.eat_spaces();
        if !cursor.rest().is_empty() {
            let (text, rest) = (shorten(text), shorten(cursor.rest()));
            return Err(ReadError::Trailing { text, rest });
        }
        Ok(mass)
    }

    /// Reads the longest mass with a unit at the start of `text`, and how many bytes it took, leading spaces
    /// counted in. The byte count always falls between two characters.
    pub fn read_start(text: &str) -> Option<(Self, usize)> {
        let mut cursor = Cursor::new(text);
        cursor.eat_spaces();
        let mass = mass(&mut cursor, None).ok()?;
        Some((mass, cursor.at()))
    }

    /// Writes the mass in pounds or kilograms with this many places (at most nine), rounded half away from
    /// zero: `12.5 lb`, `5.67 kg`. With nine places it is read back the same.
    pub fn write(self, system: System, places: u8) -> String {
        let places = usize::from(places.min(9));
        let (unit, name) = match system {
            System::FeetInch => (POUND, "lb"),
            System::Metric => (KILOGRAM, "kg"),
        };
        let power = (0..places).fold(1, |power: u128, _| power * 10);
        let parts = nearest(
            u128::from(self.0.unsigned_abs()) * power,
            u128::from(unit.unsigned_abs()),
        );
        let sign = if self.0 < 0 && parts > 0 { "-" } else { "" };
        format!("{sign}{} {name}", decimal(parts, places))
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
}

fn mass(cursor: &mut Cursor, bare: Option<MassUnit>) -> Result<Mass, ReadError> {
    let text = cursor.rest();
    let negative = cursor.eat('-');
    let number = Number::read(cursor).map_err(|fault| ReadError::number(fault, text, RIGHT))?;
    let unit = match unit(cursor) {
        Some(unit) => unit,
        None => bare_unit(cursor, bare, text)?,
    };
    let mut micrograms = micrograms(&number, unit, text)?;
    if unit == MassUnit::Pound {
        micrograms += ounces_after_pounds(cursor, &number, text)?;
    }
    if cursor.next_is(|c| c.is_numeric() || c == '^') {
        return Err(unknown_unit(text, cursor));
    }
    if micrograms > MOST_MICROGRAMS {
        let text = shorten(text);
        return Err(ReadError::TooLarge { text, limit: MOST });
    }
    let micrograms = i64::try_from(micrograms).expect("within the limit above");
    Ok(Mass(if negative { -micrograms } else { micrograms }))
}

/// Steps over a unit if one is next, with the spaces or the hyphen before it.
fn unit(cursor: &mut Cursor) -> Option<MassUnit> {
    let mut ahead = *cursor;
    if !ahead.eat_spaces() && ahead.peek_second().is_some_and(char::is_alphabetic) {
        ahead.eat('-');
    }
    let word = ahead.eat_word(12)?;
    let unit = unit_of(&word)?;
    if word.len() <= 3 {
        ahead.eat('.');
    }
    *cursor = ahead;
    Some(unit)
}

/// The unit that a word in lower case names.
pub(crate) fn unit_of(word: &str) -> Option<MassUnit> {
    Some(match word {
        "lb" | "lbs" | "pound" | "pounds" => MassUnit::Pound,
        "oz" | "ounce" | "ounces" => MassUnit::Ounce,
        "kg" | "kgs" | "kilogram" | "kilograms" | "kilogramme" | "kilogrammes" => {
            MassUnit::Kilogram
        }
        "g" | "gram" | "grams" | "gramme" | "grammes" => MassUnit::Gram,
        _ => return None,
    })
}

/// The ounces that follow pounds, in micrograms; nought when none do.
fn ounces_after_pounds(
    cursor: &mut Cursor,
    pounds: &Number,
    text: &str,
) -> Result<i128, ReadError> {
    let mut ahead = *cursor;
    ahead.eat_spaces();
    if ahead.eat(',') {
        ahead.eat_spaces();
    }
    if !ahead.at_number() {
        return Ok(0);
    }
    let ounces = Number::read(&mut ahead).map_err(|fault| ReadError::number(fault, text, RIGHT))?;
    if unit(&mut ahead) != Some(MassUnit::Ounce) {
        return Ok(0);
    }
    let right = RIGHT_POUNDS;
    if !pounds.is_whole() {
        let text = shorten(text);
        return Err(ReadError::NotWhole { text, right });
    }
    if !ounces.is_under(16) {
        let (text, most) = (shorten(text), 16);
        return Err(ReadError::TooManySmall { text, most, right });
    }
    *cursor = ahead;
    micrograms(&ounces, MassUnit::Ounce, text)
}

/// The unit of a number that has none of its own; only ever for a text that is one mass.
fn bare_unit(cursor: &Cursor, bare: Option<MassUnit>, text: &str) -> Result<MassUnit, ReadError> {
    let right = RIGHT;
    let mut ahead = *cursor;
    ahead.eat_spaces();
    if ahead.at_number() {
        let text = shorten(text);
        return Err(ReadError::TwoNumbers { text, right });
    }
    if ahead.peek().is_some() {
        return Err(unknown_unit(text, &ahead));
    }
    bare.ok_or_else(|| {
        let text = shorten(text);
        ReadError::NoUnit { text, right }
    })
}

/// Micrograms of a number in a unit.
fn micrograms(number: &Number, unit: MassUnit, text: &str) -> Result<i128, ReadError> {
    let metric = matches!(unit, MassUnit::Kilogram | MassUnit::Gram);
    match number.comma {
        Comma::Decimal if !metric => {
            let text = shorten(text);
            Err(ReadError::DecimalComma { text })
        }
        Comma::Either if unit == MassUnit::Kilogram => {
            let text = shorten(text);
            Err(ReadError::UnclearComma { text })
        }
        _ => Ok(match unit {
            MassUnit::Pound => number.times(POUND),
            MassUnit::Ounce => number.over(16).times(POUND),
            MassUnit::Kilogram => number.times(KILOGRAM),
            MassUnit::Gram => number.times(1_000_000),
        }),
    }
}

fn unknown_unit(text: &str, cursor: &Cursor) -> ReadError {
    let word = cursor.rest().split_whitespace().next().unwrap_or_default();
    let (text, unit, right) = (shorten(text), shorten(word), RIGHT);
    ReadError::UnknownUnit { text, unit, right }
}

/// Panics when the sum is out of range.
impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.checked_add(other).expect(OUT_OF_RANGE)
    }
}

/// Panics when the difference is out of range.
impl Sub for Mass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.checked_sub(other).expect(OUT_OF_RANGE)
    }
}

/// Panics when the multiple is out of range.
impl Mul<i64> for Mass {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        self.checked_mul(n).expect(OUT_OF_RANGE)
    }
}

/// Panics when the sum is out of range.
impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(masses: I) -> Self {
        masses.fold(Self::ZERO, |sum, mass| sum + mass)
    }
}
