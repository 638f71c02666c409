//! How sure a figure is.

use std::fmt;

/// How sure a figure of a table is: where it was seen, if anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sure {
    /// S: seen in a passage of the standard, handbook or agency page itself.
    Seen,
    /// S2: seen in a secondary page that names the standard.
    SecondHand,
    /// S2t: seen in a supplier's or trade page only.
    TradePage,
    /// D: computed here from a formula; as sure as what went into it.
    Derived,
    /// M: recalled, not seen; to be checked before anything leans on it.
    Memory,
}

impl Sure {
    /// The short mark: S, S2, S2t, D or M.
    pub const fn mark(self) -> &'static str {
        match self {
            Sure::Seen => "S",
            Sure::SecondHand => "S2",
            Sure::TradePage => "S2t",
            Sure::Derived => "D",
            Sure::Memory => "M",
        }
    }
}

impl fmt::Display for Sure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Sure::Seen => "seen in the source itself",
            Sure::SecondHand => "seen second-hand",
            Sure::TradePage => "seen on a trade page",
            Sure::Derived => "computed",
            Sure::Memory => "from memory, not yet checked",
        })
    }
}
