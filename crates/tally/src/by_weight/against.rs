//! What a count with an interval says of a needed number.

use std::fmt;

/// What a count with an interval says of a needed number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// Fewer, whatever the truth in the interval.
    Short {
        /// At the least.
        least: i64,
        /// At the most.
        most: i64,
    },
    /// Perhaps fewer, perhaps not.
    CouldBeShort {
        /// By so many at the most.
        short: i64,
        /// Or over by so many at the most; 0 when it cannot be over.
        over: i64,
    },
    /// The needed number and no other.
    Right,
    /// Not fewer, perhaps more.
    CouldBeOver {
        /// By so many at the most.
        over: i64,
    },
    /// More, whatever the truth in the interval.
    Over {
        /// At the least.
        least: i64,
        /// At the most.
        most: i64,
    },
}

impl Against {
    /// Holds from `least` to `most` pieces against a needed number.
    pub fn of(least: i64, most: i64, needed: i64) -> Self {
        let short = needed.saturating_sub(least);
        let over = most.saturating_sub(needed);
        match (short, over) {
            (_, ..0) => Self::Short {
                least: over.saturating_neg(),
                most: short,
            },
            (..0, _) => Self::Over {
                least: short.saturating_neg(),
                most: over,
            },
            (0, 0) => Self::Right,
            (0, over) => Self::CouldBeOver { over },
            (short, over) => Self::CouldBeShort { short, over },
        }
    }

    /// Returns whether it is settled that the number is short or that it is not.
    pub fn is_decided(self) -> bool {
        !matches!(self, Self::CouldBeShort { .. })
    }
}

impl fmt::Display for Against {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Short { least, most } => write!(f, "is short by {}", Range(least, most)),
            Self::CouldBeShort { short, over: 0 } => {
                write!(f, "could be short, by {short} at most")
            }
            Self::CouldBeShort { short, over } => {
                write!(
                    f,
                    "could be short, by {short} at most, or over, by {over} at most"
                )
            }
            Self::Right => f.write_str("cannot be short, is exactly right"),
            Self::CouldBeOver { over } => {
                write!(f, "cannot be short, could be over, by {over} at most")
            }
            Self::Over { least, most } => {
                write!(f, "cannot be short, is over by {}", Range(least, most))
            }
        }
    }
}

struct Range(i64, i64);

impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self(least, most) if least == most => write!(f, "{least}"),
            Self(least, most) => write!(f, "{least} to {most}"),
        }
    }
}
