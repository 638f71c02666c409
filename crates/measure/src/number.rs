//! A number as people write it: whole, decimal, fraction or mixed.

use crate::cursor::{Cursor, vulgar};

/// Digits beyond these are refused: nobody measures so, and the products below stay far inside an `i128`.
const MOST_DIGITS: usize = 12;
const MOST_FRACTION_DIGITS: usize = 6;

/// A number that is not negative, exact as `top / bottom`.
#[derive(Clone, Copy)]
pub(crate) struct Number {
    top: i128,
    bottom: i128,
    pub(crate) comma: Comma,
}

/// What a comma in a number can mean.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Comma {
    /// There is none, or it can only part thousands: `1,234,567`, `1,234.5`.
    Settled,
    /// It can only be a decimal comma: `3,2`, `0,125`.
    Decimal,
    /// Exactly three digits follow a single comma: `3,200`.
    Either,
}

/// Why no number could be read.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fault {
    None,
    TooManyDigits,
    ZeroDenominator,
    ImproperFraction,
    Separators,
}

impl Number {
    fn whole(top: i128) -> Self {
        Self::fraction(top, 1)
    }

    fn fraction(top: i128, bottom: i128) -> Self {
        let comma = Comma::Settled;
        Self { top, bottom, comma }
    }

    pub(crate) fn is_whole(&self) -> bool {
        self.top % self.bottom == 0
    }

    pub(crate) fn is_under(&self, limit: i128) -> bool {
        self.top < limit * self.bottom
    }

    /// The number divided by `parts`.
    pub(crate) fn over(&self, parts: i128) -> Self {
        Self {
            bottom: self.bottom * parts,
            ..*self
        }
    }

    /// The number times `unit`, to the nearest whole, half away from zero.
    pub(crate) fn times(&self, unit: i64) -> i128 {
        (2 * self.top * i128::from(unit) + self.bottom) / (2 * self.bottom)
    }

    /// Reads the longest number at the cursor.
    pub(crate) fn read(cursor: &mut Cursor) -> Result<Self, Fault> {
        if let Some((top, bottom)) = cursor.peek().and_then(vulgar) {
            cursor.bump();
            return Ok(Self::fraction(top, bottom));
        }
        if !cursor.at_number() {
            return Err(Fault::None);
        }
        let first = digits(cursor, MOST_DIGITS)?;
        let digit_after = cursor.peek_second().is_some_and(|c| c.is_ascii_digit());
        match cursor.peek() {
            Some('.') if digit_after => decimal(cursor, first.value),
            Some(',') if digit_after => with_comma(cursor, first),
            Some('/') if digit_after => fraction_below(cursor, first.value),
            _ => mixed(cursor, first.value),
        }
    }
}

impl Number {
    /// Reads digits alone, whatever follows.
    pub(crate) fn read_whole(cursor: &mut Cursor) -> Option<i128> {
        let digits = digits(cursor, MOST_DIGITS).ok()?;
        (digits.count > 0).then_some(digits.value)
    }
}

struct Digits {
    value: i128,
    count: usize,
}

fn digits(cursor: &mut Cursor, most: usize) -> Result<Digits, Fault> {
    let (mut value, mut count) = (0, 0);
    while let Some(digit) = cursor.peek().and_then(|c| c.to_digit(10)) {
        if count == most {
            return Err(Fault::TooManyDigits);
        }
        value = value * 10 + i128::from(digit);
        count += 1;
        cursor.bump();
    }
    Ok(Digits { value, count })
}

/// The point and the digits after it.
fn decimal(cursor: &mut Cursor, whole: i128) -> Result<Number, Fault> {
    cursor.bump();
    let part = digits(cursor, MOST_DIGITS)?;
    if more_separators(cursor) {
        return Err(Fault::Separators);
    }
    Ok(with_decimals(whole, &part))
}

fn with_decimals(whole: i128, part: &Digits) -> Number {
    let bottom = (0..part.count).fold(1, |power, _| power * 10);
    Number::fraction(whole * bottom + part.value, bottom)
}

/// The commas and the digits after them.
///
/// Groups of three after a first group of one to three digits that is not nought may be thousands; anything
/// else after a single comma can only be decimals.
fn with_comma(cursor: &mut Cursor, first: Digits) -> Result<Number, Fault> {
    cursor.bump();
    let second = digits(cursor, MOST_DIGITS)?;
    let may_part_thousands = second.count == 3 && first.count <= 3 && first.value > 0;
    if !may_part_thousands {
        if more_separators(cursor) {
            return Err(Fault::Separators);
        }
        let comma = Comma::Decimal;
        return Ok(Number {
            comma,
            ..with_decimals(first.value, &second)
        });
    }
    let mut value = first.value * 1000 + second.value;
    let mut groups = 2;
    while cursor.peek() == Some(',') && cursor.peek_second().is_some_and(|c| c.is_ascii_digit()) {
        cursor.bump();
        let group = digits(cursor, MOST_DIGITS)?;
        groups += 1;
        if group.count != 3 || groups > MOST_DIGITS / 3 {
            return Err(Fault::Separators);
        }
        value = value * 1000 + group.value;
    }
    if more_separators(cursor) {
        return decimal(cursor, value);
    }
    let comma = if groups == 2 {
        Comma::Either
    } else {
        Comma::Settled
    };
    Ok(Number {
        comma,
        ..Number::whole(value)
    })
}

fn more_separators(cursor: &Cursor) -> bool {
    cursor.next_is(|c| c == '.' || c == ',')
        && cursor.peek_second().is_some_and(|c| c.is_ascii_digit())
}

/// The slash and the denominator.
///
/// An improper fraction is refused: the trade writes 1-1/2, and `61/2` is what becomes of 6½ when a program
/// takes its characters apart.
fn fraction_below(cursor: &mut Cursor, top: i128) -> Result<Number, Fault> {
    cursor.bump();
    let bottom = digits(cursor, MOST_FRACTION_DIGITS)?.value;
    match bottom {
        0 => Err(Fault::ZeroDenominator),
        // A second slash makes it a date.
        _ if cursor.peek() == Some('/') => Err(Fault::Separators),
        _ if top >= bottom => Err(Fault::ImproperFraction),
        _ => Ok(Number::fraction(top, bottom)),
    }
}

/// A whole number, and the fraction after it if there is one: `6½`, `6-1/2`, `6 1/2`.
///
/// A hyphen with spaces round it joins nothing: `1 - 1/2 in pipe` is one piece of 1/2 in pipe.
fn mixed(cursor: &mut Cursor, whole: i128) -> Result<Number, Fault> {
    let mut ahead = *cursor;
    if !ahead.eat('-') {
        ahead.eat_spaces();
    }
    let fraction = if let Some((top, bottom)) = ahead.peek().and_then(vulgar) {
        ahead.bump();
        Number::fraction(top, bottom)
    } else if ahead.at() > cursor.at() && ahead.next_is(|c| c.is_ascii_digit()) {
        let Ok(top) = digits(&mut ahead, MOST_FRACTION_DIGITS) else {
            return Ok(Number::whole(whole));
        };
        let slash = ahead.peek() == Some('/');
        if !slash || !ahead.peek_second().is_some_and(|c| c.is_ascii_digit()) {
            return Ok(Number::whole(whole));
        }
        fraction_below(&mut ahead, top.value)?
    } else {
        return Ok(Number::whole(whole));
    };
    *cursor = ahead;
    Ok(Number::fraction(
        whole * fraction.bottom + fraction.top,
        fraction.bottom,
    ))
}
