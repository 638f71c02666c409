//! GS1's numbers for pallets, things and places, each with its check digit.
//!
//! The check digit: from the right of the digits before it, weights 3, 1, 3, 1 …; what is missing to the next ten.
//! Worked example: 1 0614141 123456789 gives 143 and so 7 (the same number stands in public GS1 link examples).

/// What a number of digits is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gs1 {
    /// Serial shipping container code of one handling unit, 18 digits.
    Sscc,
    /// Trade item number of 8, 12, 13 or 14 digits.
    Gtin,
    /// Location or party number, 13 digits.
    Gln,
}

impl Gs1 {
    /// Returns its short name.
    pub fn name(self) -> &'static str {
        match self {
            Gs1::Sscc => "SSCC",
            Gs1::Gtin => "GTIN",
            Gs1::Gln => "GLN",
        }
    }

    fn lengths(self) -> &'static [usize] {
        match self {
            Gs1::Sscc => &[18],
            Gs1::Gtin => &[8, 12, 13, 14],
            Gs1::Gln => &[13],
        }
    }

    fn right(self) -> &'static str {
        match self {
            Gs1::Sscc => "18 digits, or 20 that begin with 00,",
            Gs1::Gtin => "8, 12, 13 or 14 digits",
            Gs1::Gln => "13 digits",
        }
    }
}

/// Why a number is none of its kind, in words that say what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoNumber {
    /// Letters, or too few or too many digits.
    #[error("{kind} {text:?} is no {kind}: {right} would be right", kind = .kind.name(), right = .kind.right())]
    Shape {
        /// What it should be.
        kind: Gs1,
        /// What it is.
        text: String,
    },
    /// The last digit does not follow from the others.
    #[error("{kind} {text}: its check digit is {is}, and {right} would be right; a digit is wrong", kind = .kind.name())]
    CheckDigit {
        /// What it should be.
        kind: Gs1,
        /// The digits.
        text: String,
        /// The last one.
        is: u8,
        /// What it would be.
        right: u8,
    },
}

/// Returns the check digit that follows digits, given without it. Nothing when there are other characters.
pub fn check_digit(before: &str) -> Option<u8> {
    let mut sum = 0;
    for (place, byte) in before.bytes().rev().enumerate() {
        let digit = byte.is_ascii_digit().then(|| u32::from(byte - b'0'))?;
        sum += digit * if place % 2 == 0 { 3 } else { 1 };
    }
    u8::try_from((10 - sum % 10) % 10).ok()
}

/// Reads a number: spaces and brackets that are for people are left out, and so is the `00` or `01` that a scanner
/// puts before an SSCC or a GTIN of 14 digits. The digits come back, with what is wrong with them.
pub fn read(kind: Gs1, text: &str) -> (String, Result<(), NoNumber>) {
    let digits: String = text
        .chars()
        .filter(|c| !matches!(c, ' ' | '(' | ')' | '-' | '.' | '\u{1D}'))
        .collect();
    let digits = match kind {
        Gs1::Sscc if digits.len() == 20 => digits.strip_prefix("00").unwrap_or(&digits),
        Gs1::Gtin if digits.len() == 16 => digits.strip_prefix("01").unwrap_or(&digits),
        _ => &digits,
    };
    let is_number =
        kind.lengths().contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    if !is_number {
        let text = crate::read::text::cut(text, 60).to_owned();
        return (digits.to_owned(), Err(NoNumber::Shape { kind, text }));
    }
    let (before, last) = digits.split_at(digits.len() - 1);
    let is = last.bytes().next().map_or(0, |b| b - b'0');
    let right = check_digit(before).unwrap_or(0);
    let judged = if is == right {
        Ok(())
    } else {
        Err(NoNumber::CheckDigit {
            kind,
            text: digits.to_owned(),
            is,
            right,
        })
    };
    (digits.to_owned(), judged)
}

/// Whether a text has the shape of an SSCC: 18 digits, or 20 that begin with 00.
pub fn looks_like_sscc(text: &str) -> bool {
    let (digits, judged) = read(Gs1::Sscc, text);
    digits.len() == 18 && !matches!(judged, Err(NoNumber::Shape { .. }))
}
