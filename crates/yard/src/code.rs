//! The join code: what a phone shows to be let in, and the secrets of phones.

use std::fmt::Write as _;

/// Letters that are not taken for each other, spoken or read: no 0 O 1 I L U.
const LETTERS: &[u8; 30] = b"23456789ABCDEFGHJKMNPQRSTVWXYZ";
const LENGTH: usize = 10;

/// The code that lets phones join: ten letters, 49 bits, shown in two groups of five.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JoinCode(String);

impl JoinCode {
    /// A new code from the system's random source.
    pub fn fresh() -> Result<Self, getrandom::Error> {
        let mut code = String::with_capacity(LENGTH);
        while code.len() < LENGTH {
            let mut byte = [0u8];
            getrandom::fill(&mut byte)?;
            // Bytes past the last whole multiple are drawn again, so that each letter is as likely.
            if let Some(letter) =
                (byte[0] < 240).then(|| LETTERS[usize::from(byte[0]) % LETTERS.len()])
            {
                code.push(char::from(letter));
            }
        }
        Ok(Self(code))
    }

    /// A code as someone typed it: small letters, spaces and strokes do not matter.
    pub fn typed(text: &str) -> Self {
        let letters = text
            .chars()
            .filter(|c| c.is_ascii_alphanumeric())
            .take(2 * LENGTH);
        Self(letters.map(|c| c.to_ascii_uppercase()).collect())
    }

    /// The letters alone.
    pub fn letters(&self) -> &str {
        &self.0
    }

    /// Whether it is the same code; takes as long whatever the first difference is.
    pub fn is(&self, other: &JoinCode) -> bool {
        let (a, b) = (self.0.as_bytes(), other.0.as_bytes());
        a.len() == b.len() && a.iter().zip(b).fold(0, |differs, (x, y)| differs | (x ^ y)) == 0
    }
}

impl std::fmt::Display for JoinCode {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0.split_at_checked(LENGTH / 2) {
            Some((one, other)) => write!(f, "{one}-{other}"),
            None => f.write_str(&self.0),
        }
    }
}

/// A secret for one phone, 256 bits in hexadecimal.
pub(crate) fn fresh_secret() -> Result<String, getrandom::Error> {
    let mut bytes = [0u8; 32];
    getrandom::fill(&mut bytes)?;
    Ok(bytes
        .iter()
        .fold(String::with_capacity(64), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        }))
}
