//! Sums of money, exact.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::rules::{Refusal, range};

/// The largest sum in one event: ten thousand million of a currency with cents.
const MOST: i64 = 1_000_000_000_000;

/// A sum of money: a whole count of a currency's smallest unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Money {
    /// In the currency's smallest unit, such as cents.
    pub minor: i64,
    /// Its currency.
    pub currency: Currency,
}

/// A currency by its three letters (ISO 4217).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency([u8; 3]);

impl Currency {
    /// The dollar of the United States.
    pub const USD: Self = Self(*b"USD");

    /// Its three letters.
    pub fn letters(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or("XXX")
    }

    /// How many digits stand behind the point: 2, but for a few currencies (ISO 4217; this list from memory).
    pub fn digits(&self) -> u32 {
        match &self.0 {
            b"CLP" | b"ISK" | b"JPY" | b"KRW" | b"PYG" | b"UGX" | b"VND" | b"XAF" | b"XOF"
            | b"XPF" => 0,
            b"BHD" | b"IQD" | b"JOD" | b"KWD" | b"LYD" | b"OMR" | b"TND" => 3,
            _ => 2,
        }
    }
}

impl TryFrom<String> for Currency {
    type Error = BadMoney;

    fn try_from(text: String) -> Result<Self, BadMoney> {
        text.parse()
    }
}

impl std::str::FromStr for Currency {
    type Err = BadMoney;

    fn from_str(text: &str) -> Result<Self, BadMoney> {
        let letters: Result<[u8; 3], _> = text.trim().to_ascii_uppercase().into_bytes().try_into();
        match letters {
            Ok(letters) if letters.iter().all(u8::is_ascii_uppercase) => Ok(Self(letters)),
            _ => Err(BadMoney::Currency(text.chars().take(20).collect())),
        }
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.letters().into()
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.letters())
    }
}

/// Why a text is not a sum of money.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BadMoney {
    /// Not a currency.
    #[error("`{0}` is no currency; write its three letters, such as USD")]
    Currency(String),
    /// Not a sum.
    #[error("`{0}` is no sum of money; write it as 12.50")]
    Sum(String),
    /// More digits behind the point than the currency has.
    #[error("`{0}` has more digits behind the point than the currency has")]
    TooFine(String),
}

impl Money {
    /// Reads a sum as people write it: `12.50`, `12,50`, `1,250.00`, `$12`.
    pub fn read(text: &str, currency: Currency) -> Result<Self, BadMoney> {
        let shown = || text.chars().take(40).collect::<String>();
        let bad = || BadMoney::Sum(shown());
        let plain: String = (text.trim())
            .trim_start_matches(['$', '€', '£'])
            .chars()
            .filter(|c| !matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\'' | '_'))
            .collect();
        let (whole, part) = split_at_point(&plain).ok_or_else(bad)?;
        let digits = currency.digits() as usize;
        if part.len() > digits {
            return Err(BadMoney::TooFine(shown()));
        }
        let all = format!("{whole}{part:0<digits$}");
        if (whole.is_empty() && part.is_empty()) || !all.bytes().all(|b| b.is_ascii_digit()) {
            return Err(bad());
        }
        let minor = all.parse::<i64>().map_err(|_| bad())?;
        match minor <= MOST {
            true => Ok(Self { minor, currency }),
            false => Err(bad()),
        }
    }

    /// So many times the sum; the largest sum there is when that is too much.
    pub fn times(self, pieces: i64) -> Self {
        Self {
            minor: self.minor.saturating_mul(pieces),
            currency: self.currency,
        }
    }

    /// Checks it against every limit.
    pub(crate) fn check(&self, field: &'static str) -> Result<(), Refusal> {
        range(field, self.minor.into(), 0, MOST.into())
    }
}

/// The whole part without what groups its digits, and the part behind the point. The last of `.` and `,` is the point,
/// unless it stands before three digits and is the only kind there is: then it groups.
fn split_at_point(text: &str) -> Option<(String, String)> {
    let last = text.rfind(['.', ',']);
    let Some(at) = last else {
        return Some((text.into(), String::new()));
    };
    let (before, after) = (&text[..at], &text[at + 1..]);
    let mark = &text[at..=at];
    let groups = |whole: &str, by: &str| -> Option<String> {
        let parts: Vec<&str> = whole.split(by).collect();
        let fits = parts.len() == 1 || parts.iter().skip(1).all(|part| part.len() == 3);
        (fits && parts.iter().all(|part| !part.is_empty())).then(|| parts.concat())
    };
    let other = if mark == "." { "," } else { "." };
    if before.contains(mark) || (after.len() == 3 && mark == "," && !before.contains(other)) {
        return Some((groups(text, mark)?, String::new()));
    }
    let whole = match before {
        "" => String::new(),
        before => groups(before, other)?,
    };
    (!after.is_empty()).then(|| (whole, after.into()))
}

impl fmt::Display for Money {
    /// `USD 1 250.00`: the letters first, thousands apart.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digits = self.currency.digits();
        let unit = 10_i64.pow(digits);
        let whole = (self.minor / unit).unsigned_abs().to_string();
        let grouped: Vec<&str> = (whole.as_bytes().rchunks(3).rev())
            .map(|chunk| std::str::from_utf8(chunk).unwrap_or(""))
            .collect();
        let sign = if self.minor < 0 { "−" } else { "" };
        write!(f, "{} {sign}{}", self.currency, grouped.join("\u{a0}"))?;
        match digits {
            0 => Ok(()),
            digits => write!(
                f,
                ".{:0width$}",
                (self.minor % unit).unsigned_abs(),
                width = digits as usize
            ),
        }
    }
}
