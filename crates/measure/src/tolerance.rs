//! How far a part may be from what it is called.

use crate::Length;

/// How far above and below its nominal measure a part may be; never less than nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Tolerance {
    plus: Length,
    minus: Length,
}

impl Tolerance {
    /// The nominal measure and no other.
    pub const EXACT: Tolerance = Tolerance {
        plus: Length::ZERO,
        minus: Length::ZERO,
    };

    /// So much above and so much below, both given without a sign; nothing when one is negative.
    pub fn new(plus: Length, minus: Length) -> Option<Self> {
        (plus >= Length::ZERO && minus >= Length::ZERO).then_some(Self { plus, minus })
    }

    /// The same above and below; nothing when negative.
    pub fn either_way(by: Length) -> Option<Self> {
        Self::new(by, by)
    }

    /// This many thousandths of the nominal measure either way, to the nearest nanometre, half up: 10 is ±1 %.
    pub fn thousandths(nominal: Length, thousandths: u16) -> Self {
        let share = i128::from(nominal.as_nanometres()).abs() * i128::from(thousandths);
        let by = i64::try_from((share + 500) / 1000).unwrap_or(i64::MAX);
        let by = Length::nanometres(by);
        Self {
            plus: by,
            minus: by,
        }
    }

    /// How far above.
    pub const fn plus(self) -> Length {
        self.plus
    }

    /// How far below.
    pub const fn minus(self) -> Length {
        self.minus
    }

    /// Whether `value` may be a part of this nominal measure; the ends belong to it.
    pub fn holds(self, nominal: Length, value: Length) -> bool {
        // The difference of two lengths may be out of an i64's range.
        let over = i128::from(value.as_nanometres()) - i128::from(nominal.as_nanometres());
        let (plus, minus) = (self.plus.as_nanometres(), self.minus.as_nanometres());
        (-i128::from(minus)..=i128::from(plus)).contains(&over)
    }

    /// The tolerance as an instrument sees it that may itself be off by so much either way, such as half a
    /// step of a tape; nothing when that is negative or the sum is out of range.
    pub fn widened(self, by: Length) -> Option<Self> {
        let (plus, minus) = (self.plus.checked_add(by)?, self.minus.checked_add(by)?);
        (by >= Length::ZERO).then_some(Self { plus, minus })
    }
}
