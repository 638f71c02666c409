//! Why a text was not read as a length or a mass.

use crate::number::Fault;

/// Why a text was not read as a length or a mass: what stood there, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// Nothing but spaces.
    #[error("nothing stands here; write it like {right}")]
    Empty {
        /// An example of what would be right.
        right: &'static str,
    },
    /// It does not begin with a number.
    #[error("`{text}` does not begin with a number; write it like {right}")]
    NoNumber {
        /// What stood there, shortened.
        text: String,
        /// An example of what would be right.
        right: &'static str,
    },
    /// A number alone, where the place gives no unit.
    #[error("`{text}` has no unit; write it like {right}")]
    NoUnit {
        /// What stood there, shortened.
        text: String,
        /// An example of what would be right.
        right: &'static str,
    },
    /// Two numbers and no word on which is which.
    #[error("`{text}` has two numbers and no unit between them; write it like {right}")]
    TwoNumbers {
        /// What stood there, shortened.
        text: String,
        /// An example of what would be right.
        right: &'static str,
    },
    /// A word that is no unit of this kind.
    #[error("`{text}` has `{unit}` where a unit should stand; write it like {right}")]
    UnknownUnit {
        /// What stood there, shortened.
        text: String,
        /// The word in the unit's place, shortened.
        unit: String,
        /// An example of what would be right.
        right: &'static str,
    },
    /// Something follows the measure.
    #[error("`{text}` goes on with `{rest}` after the measure; leave that out")]
    Trailing {
        /// What stood there, shortened.
        text: String,
        /// What follows, shortened.
        rest: String,
    },
    /// A fraction over nought.
    #[error("`{text}` has a fraction over 0; write a fraction such as 1/2 or 5/16")]
    ZeroDenominator {
        /// What stood there, shortened.
        text: String,
    },
    /// A fraction of one or more.
    #[error("`{text}` has a fraction of one or more; if it is a mixed number write it like 6-1/2")]
    ImproperFraction {
        /// What stood there, shortened.
        text: String,
    },
    /// Points and commas that make no number, or a date.
    #[error("`{text}` has points, commas or slashes that make no one number; write 1234.5 or 5/8")]
    Separators {
        /// What stood there, shortened.
        text: String,
    },
    /// A comma that may part thousands or decimals.
    #[error(
        "the comma in `{text}` may part thousands or decimals; write 3200 or 3.2, without a comma"
    )]
    UnclearComma {
        /// What stood there, shortened.
        text: String,
    },
    /// A decimal comma where the unit takes none.
    #[error(
        "`{text}` has a decimal comma, which only metric units take; write a point or a fraction"
    )]
    DecimalComma {
        /// What stood there, shortened.
        text: String,
    },
    /// A broken count of the larger unit before the smaller: 10.5 ft 6 in.
    #[error(
        "`{text}` has part of a unit in front of a smaller unit; write whole feet or pounds, like {right}"
    )]
    NotWhole {
        /// What stood there, shortened.
        text: String,
        /// An example of what would be right.
        right: &'static str,
    },
    /// Twelve inches or more after feet, sixteen ounces or more after pounds.
    #[error(
        "`{text}` has {most} or more of the smaller unit after the larger; write it like {right}"
    )]
    TooManySmall {
        /// What stood there, shortened.
        text: String,
        /// How many of the smaller make one of the larger.
        most: u8,
        /// An example of what would be right.
        right: &'static str,
    },
    /// More digits than any measure has.
    #[error(
        "`{text}` has more digits than a measure can have; write at most 12 before and after the point"
    )]
    TooManyDigits {
        /// What stood there, shortened.
        text: String,
    },
    /// Beyond what is read at all.
    #[error("`{text}` is beyond {limit}, the most that is read; check the unit")]
    TooLarge {
        /// What stood there, shortened.
        text: String,
        /// The most that is read.
        limit: &'static str,
    },
}

impl ReadError {
    pub(crate) fn number(fault: Fault, text: &str, right: &'static str) -> Self {
        let text = shorten(text);
        match fault {
            Fault::None => Self::NoNumber { text, right },
            Fault::TooManyDigits => Self::TooManyDigits { text },
            Fault::ZeroDenominator => Self::ZeroDenominator { text },
            Fault::ImproperFraction => Self::ImproperFraction { text },
            Fault::Separators => Self::Separators { text },
        }
    }
}

/// At most forty characters of a text, fit for one line.
pub(crate) fn shorten(text: &str) -> String {
    const MOST: usize = 40;
    let line = text
        .trim()
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c });
    let mut short: String = line.clone().take(MOST).collect();
    if line.count() > MOST {
        short.push('…');
    }
    short
}
