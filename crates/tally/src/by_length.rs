//! Counting coils and rolls by length: how many pieces can be cut from what is here.
//!
//! A piece is cut from one coil, never joined across two, and a cut takes nothing away. Marks that
//! are supplied as whole rolls are counted by [`Coils::whole`]; a rest is not a roll.

use std::fmt::Write as _;

use measure::{Grid, Length, System};
use serde::{Deserialize, Serialize};

use crate::Against;

/// The most whole coils.
const MAX_COILS: i64 = crate::MAX_QUANTITY;
/// The longest coil or rest: 1000 km, the most that [`Length`] reads.
const MAX_LENGTH: Length = Length::millimetres(1_000_000_000);

/// Whole coils or rolls of one mark, and a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Coils {
    /// How many are whole.
    pub whole: i64,
    /// What a whole one holds; nought when there is none and it is not known.
    #[serde(with = "nanometres")]
    pub each: Length,
    /// What is left of a started one.
    #[serde(with = "nanometres")]
    pub rest: Length,
    /// The rest may be so much longer or shorter; nought when it was measured well.
    #[serde(with = "nanometres")]
    pub rest_within: Length,
}

/// What can be cut from coils.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cut {
    /// From what.
    pub coils: Coils,
    /// The length of a piece.
    pub piece: Length,
    /// How many, if the rest is as long as it is said to be.
    pub pieces: i64,
    /// How many, if the rest is as short as it may be.
    pub least: i64,
    /// How many, if the rest is as long as it may be.
    pub most: i64,
    /// What is left then in all, if the rest is as long as it is said to be.
    pub left_over: Length,
}

/// Why coils are refused; says what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LengthRefused {
    /// A number of coils that cannot be.
    #[error("{0} whole coils; it must be from 0 to {max}", max = MAX_COILS)]
    Whole(i64),
    /// A length below nothing or beyond 1000 km.
    #[error("{0} must be from nothing to 1000 km")]
    Range(&'static str),
    /// Whole coils of no length.
    #[error("whole coils of no length: what does the label say that one holds?")]
    Empty,
    /// Neither coils nor a rest.
    #[error("neither whole coils nor a rest: if there is nothing, count 0 pieces")]
    Nothing,
    /// A rest beyond a whole coil.
    #[error(
        "the rest is longer than a whole coil: count whole coils apart, the rest is what is left of one"
    )]
    RestOverCoil,
    /// An error of the rest beyond the rest.
    #[error("the rest may be off by more than all of it: measure it, or leave it out")]
    RestUnknown,
    /// A piece of no length.
    #[error("a piece must be longer than nothing")]
    Piece,
    /// More pieces than are ever counted.
    #[error("that makes more than {max} pieces: is the length of a piece right?", max = crate::MAX_QUANTITY)]
    TooMany,
}

impl Coils {
    /// Returns all that is here, end to end, if the rest is as long as it is said to be.
    ///
    /// # Errors
    /// [`LengthRefused`] says what is wrong and what would be right.
    pub fn total(self) -> Result<Length, LengthRefused> {
        self.check()?;
        self.each
            .checked_mul(self.whole)
            .and_then(|whole| whole.checked_add(self.rest))
            .filter(|total| *total <= MAX_LENGTH)
            .ok_or(LengthRefused::Range("all together"))
    }

    /// Returns how many pieces of this length can be cut.
    ///
    /// # Errors
    /// [`LengthRefused`] says what is wrong and what would be right.
    pub fn cut(self, piece: Length) -> Result<Cut, LengthRefused> {
        let total = self.total()?;
        if piece <= Length::ZERO {
            return Err(LengthRefused::Piece);
        }
        let from = |length: Length| length.as_nanometres() / piece.as_nanometres();
        let whole = self
            .whole
            .checked_mul(from(self.each))
            .ok_or(LengthRefused::TooMany)?;
        let (shortest, longest) = self.rest_from_to();
        let most = whole.saturating_add(from(longest));
        if most > crate::MAX_QUANTITY {
            return Err(LengthRefused::TooMany);
        }
        let pieces = whole + from(self.rest);
        let used = piece.as_nanometres() * pieces;
        Ok(Cut {
            coils: self,
            piece,
            pieces,
            least: whole + from(shortest),
            most,
            left_over: Length::nanometres(total.as_nanometres() - used),
        })
    }

    /// How short and how long the rest may be; never longer than a whole coil.
    fn rest_from_to(self) -> (Length, Length) {
        let (rest, within) = (self.rest.as_nanometres(), self.rest_within.as_nanometres());
        let longest = match self.each {
            Length::ZERO => rest + within,
            each => (rest + within).min(each.as_nanometres()),
        };
        (
            Length::nanometres(rest - within),
            Length::nanometres(longest),
        )
    }

    fn check(self) -> Result<(), LengthRefused> {
        if !(0..=MAX_COILS).contains(&self.whole) {
            return Err(LengthRefused::Whole(self.whole));
        }
        range("a coil", self.each)?;
        range("the rest", self.rest)?;
        range("what the rest may be off by", self.rest_within)?;
        if self.whole > 0 && self.each == Length::ZERO {
            return Err(LengthRefused::Empty);
        }
        if self.whole == 0 && self.rest == Length::ZERO {
            return Err(LengthRefused::Nothing);
        }
        if self.each > Length::ZERO && self.rest > self.each {
            return Err(LengthRefused::RestOverCoil);
        }
        if self.rest_within > self.rest {
            return Err(LengthRefused::RestUnknown);
        }
        Ok(())
    }
}

fn range(what: &'static str, length: Length) -> Result<(), LengthRefused> {
    match (Length::ZERO..=MAX_LENGTH).contains(&length) {
        true => Ok(()),
        false => Err(LengthRefused::Range(what)),
    }
}

impl Cut {
    /// Holds the pieces against a needed number.
    pub fn against(&self, needed: i64) -> Against {
        Against::of(self.least, self.most, needed)
    }

    /// Returns it in words: `2 coils of 250 ft give 4 pieces of 100 ft, 100 ft left over`.
    pub fn in_words(&self, system: System, grid: Grid) -> String {
        let write = |length: Length| length.write(system, grid);
        let Coils {
            whole,
            each,
            rest,
            rest_within,
        } = self.coils;
        let mut sources = Vec::new();
        if whole > 0 {
            sources.push(format!("{} of {}", number(whole, "coil"), write(each)));
        }
        if rest > Length::ZERO {
            sources.push(format!("a rest of {}", write(rest)));
        }
        let one = whole + i64::from(rest > Length::ZERO) == 1;
        let mut words = format!(
            "{} {} {} of {}",
            sources.join(" and "),
            if one { "gives" } else { "give" },
            number(self.pieces, "piece"),
            write(self.piece)
        );
        if self.left_over > Length::ZERO {
            let _ = write!(words, ", {} left over", write(self.left_over));
        }
        if self.least < self.most {
            let (within, least, most) = (write(rest_within), self.least, self.most);
            let _ = write!(
                words,
                "; the rest may be {within} off, so {least} to {most}"
            );
        }
        words
    }
}

fn number(count: i64, thing: &str) -> String {
    match count {
        0 => format!("no {thing}"),
        1 => format!("1 {thing}"),
        _ => format!("{count} {thing}s"),
    }
}

/// Lengths as whole nanometres, for the log.
mod nanometres {
    use measure::Length;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(super) fn serialize<S: Serializer>(length: &Length, to: S) -> Result<S::Ok, S::Error> {
        length.as_nanometres().serialize(to)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
        i64::deserialize(from).map(Length::nanometres)
    }
}
