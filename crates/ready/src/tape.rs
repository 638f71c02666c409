//! How wrong a tape may be and still be right by law.

use measure::Length;

/// The class that is printed on a tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TapeClass {
    /// EC class I: 0.1 mm + 0.1 mm a metre. Directive 2014/32/EU annex X, S2t.
    One,
    /// EC class II: 0.3 mm + 0.2 mm a metre; S2t.
    Two,
    /// EC class III: 0.6 mm + 0.4 mm a metre; values S2t, formula M.
    Three,
    /// Metal tapes in the United States: NIST Handbook 44 section 5.52, S2.
    Handbook44,
}

/// Handbook 44: up to so many feet, so many sixty-fourths of an inch.
const HANDBOOK_44: [(i64, i64); 5] = [(6, 2), (30, 4), (55, 8), (80, 12), (100, 16)];

impl TapeClass {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Handbook44, Self::One, Self::Two, Self::Three];

    /// The word that stands for it in forms and on the command line.
    pub fn key(self) -> &'static str {
        match self {
            Self::One => "1",
            Self::Two => "2",
            Self::Three => "3",
            Self::Handbook44 => "us",
        }
    }

    /// The class of a word.
    pub fn of(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.key() == key)
    }

    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::One => "class I (EC)",
            Self::Two => "class II (EC)",
            Self::Three => "class III (EC)",
            Self::Handbook44 => "steel tape, United States",
        }
    }

    /// How far off a length from its zero may be, either way; nothing past the end of the table (100 ft).
    pub fn limit(self, length: Length) -> Option<Length> {
        let micrometres = |fixed: i64, each: i64| {
            let metre = Length::millimetres(1_000).as_nanometres();
            // The length is raised to the next whole metre (S2t).
            let metres = length.as_nanometres().max(0).checked_add(metre - 1)? / metre;
            Some(Length::nanometres((fixed + each * metres) * 1_000))
        };
        match self {
            Self::One => micrometres(100, 100),
            Self::Two => micrometres(300, 200),
            Self::Three => micrometres(600, 400),
            Self::Handbook44 => (HANDBOOK_44.into_iter())
                .find(|(feet, _)| length <= Length::feet(*feet))
                .map(|(_, parts)| Length::sixty_fourths(parts)),
        }
    }

    /// The same for a length that is measured with a tape of this length: in whole tapes and a rest, whose limits add up.
    /// The tape is taken to be no shorter than a metre, and a tape past its table as if it were at its end.
    pub fn limit_over(self, length: Length, tape: Length) -> Length {
        let longest = match self {
            Self::Handbook44 => Length::feet(100),
            _ => Length::millimetres(1_000_000),
        };
        let tape = tape.clamp(Length::millimetres(1_000), longest);
        let whole = length.as_nanometres().max(0) / tape.as_nanometres();
        let rest = Length::nanometres(length.as_nanometres().max(0) % tape.as_nanometres());
        let of = |length| self.limit(length).unwrap_or_default();
        let over_rest = if rest == Length::ZERO { rest } else { of(rest) };
        of(tape).checked_mul(whole).unwrap_or_default() + over_rest
    }
}
