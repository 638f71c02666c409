//! Decimal numbers exactly as data files write them, and amounts with their unit.

use std::fmt;

use measure::{Length, Mass};

use super::units::{Counts, Unit};

/// Digits beyond this are no quantity of anything.
const MOST_DIGITS: usize = 30;

/// The most pieces that one line may say; more is a slip or an attack.
const MOST_PIECES: i128 = 1_000_000_000;

/// An exact decimal number: `digits` / 10^`places`, with no trailing zeros after the point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Decimal {
    digits: i128,
    places: u32,
}

impl Decimal {
    /// Reads `12`, `12.50`, `-3`, `.5`, `12.`: what XML Schema's decimal and X12's type R allow. Nothing for all else,
    /// a decimal comma too.
    pub fn read(text: &str) -> Option<Self> {
        let unsigned = text.strip_prefix(['-', '+']).unwrap_or(text);
        let (whole, part) = unsigned.split_once('.').unwrap_or((unsigned, ""));
        let part = part.trim_end_matches('0');
        let given = unsigned.bytes().any(|b| b.is_ascii_digit());
        let plain = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
        let whole_digits = whole.trim_start_matches('0');
        if !given || !plain(whole) || !plain(part) || whole_digits.len() + part.len() > MOST_DIGITS
        {
            return None;
        }
        let all = format!("{whole_digits}{part}");
        let digits: i128 = if all.is_empty() { 0 } else { all.parse().ok()? };
        Some(Self {
            digits: if text.starts_with('-') {
                -digits
            } else {
                digits
            },
            places: part.len() as u32,
        })
    }

    /// Returns the number times a whole one, when that is a whole number that can be a count of pieces.
    pub fn whole_times(self, n: i64) -> Option<i64> {
        let product = self.digits.checked_mul(i128::from(n))?;
        let scale = 10_i128.checked_pow(self.places)?;
        let whole = (product % scale == 0).then_some(product / scale)?;
        (whole.abs() <= MOST_PIECES)
            .then(|| i64::try_from(whole).ok())
            .flatten()
    }

    /// Returns the number when it is whole.
    pub fn whole(self) -> Option<i64> {
        self.whole_times(1)
    }

    /// Whether it is less than nothing.
    pub fn is_negative(self) -> bool {
        self.digits < 0
    }

    /// Returns the exact sum; nothing when it has too many digits.
    pub fn plus(self, other: Self) -> Option<Self> {
        let places = self.places.max(other.places);
        let at = |d: Self| {
            d.digits
                .checked_mul(10_i128.checked_pow(places - d.places)?)
        };
        Some(Self::tidy(at(self)?.checked_add(at(other)?)?, places))
    }

    /// Returns the exact product; nothing when it has too many digits.
    pub fn times(self, other: Self) -> Option<Self> {
        let digits = self.digits.checked_mul(other.digits)?;
        let places = self.places.checked_add(other.places)?;
        Some(Self::tidy(digits, places))
    }

    fn tidy(mut digits: i128, mut places: u32) -> Self {
        while places > 0 && digits % 10 == 0 {
            digits /= 10;
            places -= 1;
        }
        Self { digits, places }
    }
}

impl From<i64> for Decimal {
    fn from(whole: i64) -> Self {
        Self {
            digits: i128::from(whole),
            places: 0,
        }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = self.places as usize;
        let digits = format!("{:0>1$}", self.digits.unsigned_abs(), places + 1);
        let (whole, part) = digits.split_at(digits.len() - places);
        let sign = if self.digits < 0 { "-" } else { "" };
        let point = if part.is_empty() { "" } else { "." };
        write!(f, "{sign}{whole}{point}{part}")
    }
}

/// A number with its unit, as the file has them and as they were understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Amount {
    /// The number as the file writes it.
    pub written: String,
    /// The number; nothing when the text is none.
    pub number: Option<Decimal>,
    /// The unit's code as the file writes it; empty when it gives none.
    pub unit: String,
    /// What the code means; nothing when it is not known.
    pub means: Option<Unit>,
}

impl Amount {
    /// Returns the pieces that this is, where its unit counts pieces and they come out whole.
    pub fn pieces(&self) -> Option<i64> {
        match self.means?.counts {
            Counts::Pieces(each) => self.number?.whole_times(each),
            _ => None,
        }
    }

    /// Returns the length that this is, exact to the nanometre.
    pub fn length(&self) -> Option<Length> {
        match self.means?.counts {
            Counts::Length(unit, times) => {
                let number = self.number?.times(Decimal::from(times))?;
                Length::read(&format!("{number} {unit}"), None).ok()
            }
            _ => None,
        }
    }

    /// Returns the mass that this is.
    pub fn mass(&self) -> Option<Mass> {
        match self.means?.counts {
            Counts::Mass(unit, times) => {
                let number = self.number?.times(Decimal::from(times))?;
                Mass::read(&format!("{number} {unit}"), None).ok()
            }
            _ => None,
        }
    }

    /// Returns number, code and meaning for people: "90 KGM (kilogram)".
    pub fn in_words(&self) -> String {
        let code = self.unit.trim();
        let means = self
            .means
            .filter(|unit| !unit.name.eq_ignore_ascii_case(code))
            .map_or_else(String::new, |unit| format!(" ({})", unit.name));
        format!("{} {code}{means}", self.written)
            .trim_end()
            .to_owned()
    }
}
