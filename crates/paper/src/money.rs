use std::fmt;

use serde::{Serialize, Serializer};

use crate::print::PaperError;

/// A sum of money: a whole count of a currency's smallest unit. Never a float.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sum {
    /// How many of the smallest unit: cents.
    pub minor: i64,
    /// The currency by its letters (ISO 4217): `USD`.
    pub currency: String,
    /// How many digits the currency has behind the point.
    pub digits: u8,
}

/// The most digits behind a point that a currency has; ISO 4217 knows up to four (M).
const MOST_DIGITS: u8 = 4;

/// The biggest sum that one line or one total may come to; it keeps every total exact.
const MOST_MINOR: i64 = 1_000_000_000_000_000;

impl Sum {
    /// So many times the sum.
    pub(crate) fn times(&self, pieces: i64) -> Option<Self> {
        let minor = self.minor.checked_mul(pieces)?;
        (minor <= MOST_MINOR).then(|| Self {
            minor,
            ..self.clone()
        })
    }

    /// Refuses a sum that cannot be.
    pub(crate) fn check(
        &self,
        table: &'static str,
        index: usize,
        of: &str,
    ) -> Result<(), PaperError> {
        let refuse = |field, found, wanted| PaperError::Row {
            table,
            row: index + 1,
            mark: of.chars().take(64).collect(),
            field,
            found,
            wanted,
        };
        if !(0..=MOST_MINOR).contains(&self.minor) {
            return Err(refuse(
                "price",
                self.minor,
                "a sum from 0 to 1 000 000 000 000 000",
            ));
        }
        if self.digits > MOST_DIGITS {
            return Err(refuse(
                "price",
                self.digits.into(),
                "a number of digits from 0 to 4",
            ));
        }
        Ok(())
    }
}

/// Adds sums up, currency by currency in the order in which they come; `None` where that is beyond counting.
pub(crate) fn totals<'a>(sums: impl Iterator<Item = &'a Sum>) -> Option<Vec<Sum>> {
    let mut totals: Vec<Sum> = Vec::new();
    for sum in sums {
        let same = |total: &&mut Sum| total.currency == sum.currency && total.digits == sum.digits;
        match totals.iter_mut().find(same) {
            Some(total) => {
                total.minor = (total.minor.checked_add(sum.minor)).filter(|n| *n <= MOST_MINOR)?;
            }
            None => totals.push(sum.clone()),
        }
    }
    Some(totals)
}

impl fmt::Display for Sum {
    /// `USD 1 250.00`: the letters first, thousands apart.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digits = usize::from(self.digits.min(MOST_DIGITS));
        let unit = 10_u64.pow(digits as u32);
        let whole = (self.minor.unsigned_abs() / unit).to_string();
        let grouped: Vec<&str> = (whole.as_bytes().rchunks(3).rev())
            .map(|chunk| std::str::from_utf8(chunk).unwrap_or_default())
            .collect();
        let sign = if self.minor < 0 { "−" } else { "" };
        write!(f, "{} {sign}{}", self.currency, grouped.join("\u{a0}"))?;
        match digits {
            0 => Ok(()),
            _ => write!(f, ".{:0digits$}", self.minor.unsigned_abs() % unit),
        }
    }
}

impl Serialize for Sum {
    /// As it is to be read.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
