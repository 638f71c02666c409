//! Reads lengths as people and lists write them.

use crate::cursor::Cursor;
use crate::number::{Comma, Number};
use crate::read_error::shorten;
use crate::{Length, ReadError, Unit};

/// No building kit reaches over 1000 km; a larger number is a slip, and sums of what is read stay in range.
const MOST_NANOMETRES: i128 = 1_000_000_000_000_000;
const MOST: &str = "1000 km";
const RIGHT: &str = "10' 6-1/2\", 10 ft 6 in, 126.5 in or 3200 mm";
const RIGHT_FEET: &str = "10' 6-1/2\" or 10 ft 6-1/2 in";

/// Reads the whole of `text`.
pub(crate) fn whole(text: &str, bare: Option<Unit>) -> Result<Length, ReadError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ReadError::Empty { right: RIGHT });
    }
    let mut cursor = Cursor::new(text);
    cursor.eat_spaces();
    let length = length(&mut cursor, bare, Extent::Whole)?;
    cursor.eat_spaces();
    if !cursor.rest().is_empty() {
        let (text, rest) = (shorten(text), shorten(cursor.rest()));
        return Err(ReadError::Trailing { text, rest });
    }
    Ok(length)
}

/// Reads the longest length at the start of `text`; also returns how many bytes it took.
pub(crate) fn start(text: &str, bare: Option<Unit>) -> Option<(Length, usize)> {
    let mut cursor = Cursor::new(text);
    cursor.eat_spaces();
    let length = length(&mut cursor, bare, Extent::Start).ok()?;
    Some((length, cursor.at()))
}

/// Whether the text is one length and nothing else.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Extent {
    Whole,
    Start,
}

fn length(cursor: &mut Cursor, bare: Option<Unit>, extent: Extent) -> Result<Length, ReadError> {
    let text = cursor.rest();
    let negative = cursor.eat('-');
    let number = Number::read(cursor).map_err(|fault| ReadError::number(fault, text, RIGHT))?;
    let nanometres = match unit(cursor) {
        Some((Unit::Foot, spelling)) => {
            let feet = nanometres(&number, Unit::Foot, text)?;
            feet + inches_after_feet(cursor, &number, spelling, text, extent)?
        }
        Some((unit, _)) => nanometres(&number, unit, text)?,
        None => nanometres(&number, bare_unit(cursor, bare, text, extent)?, text)?,
    };
    // `10 m²`, `10m3`, `6"5`: what was taken for a unit was not one.
    if cursor.next_is(|c| c.is_numeric() || c == '^') {
        return Err(unknown_unit(text, cursor));
    }
    if nanometres > MOST_NANOMETRES {
        let text = shorten(text);
        return Err(ReadError::TooLarge { text, limit: MOST });
    }
    let nanometres = i64::try_from(nanometres).expect("within the limit above");
    Ok(Length::nanometres(if negative {
        -nanometres
    } else {
        nanometres
    }))
}

/// How a unit was spelled.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Spelling {
    Mark,
    Word,
}

/// Steps over a unit if one is next, with the spaces before it.
fn unit(cursor: &mut Cursor) -> Option<(Unit, Spelling)> {
    let mut ahead = *cursor;
    let spaced = ahead.eat_spaces();
    if let Some(unit) = mark(&mut ahead) {
        // `4 "A" posts` is no four inches.
        let quotes_a_word = spaced && ahead.next_is(char::is_alphabetic);
        return (!quotes_a_word).then(|| {
            *cursor = ahead;
            (unit, Spelling::Mark)
        });
    }
    // `6-ft post`: the hyphen belongs to the word.
    if !spaced && ahead.peek_second().is_some_and(char::is_alphabetic) {
        ahead.eat('-');
    }
    let unit = unit_word(&mut ahead)?;
    *cursor = ahead;
    Some((unit, Spelling::Word))
}

fn mark(cursor: &mut Cursor) -> Option<Unit> {
    if cursor.eat('"') {
        return Some(Unit::Inch);
    }
    if !cursor.eat('\'') {
        return None;
    }
    // Two single quotes are one inch mark.
    Some(if cursor.eat('\'') {
        Unit::Inch
    } else {
        Unit::Foot
    })
}

fn unit_word(cursor: &mut Cursor) -> Option<Unit> {
    let start = *cursor;
    let mut word = cursor.eat_word(16)?;
    // `10ftx12ft`: the x stands between two lengths.
    if word.len() > 1 && word.ends_with('x') && cursor.at_number() {
        word.pop();
        *cursor = start;
        word.chars().for_each(|_| cursor.bump());
    }
    let (unit, abbreviated) = match word.as_str() {
        "ft" => (Unit::Foot, true),
        "foot" | "feet" => (Unit::Foot, false),
        "in" => (Unit::Inch, true),
        "inch" | "inches" => (Unit::Inch, false),
        "m" => (Unit::Metre, true),
        "metre" | "metres" | "meter" | "meters" => (Unit::Metre, false),
        "cm" => (Unit::Centimetre, true),
        "centimetre" | "centimetres" | "centimeter" | "centimeters" => (Unit::Centimetre, false),
        "mm" => (Unit::Millimetre, true),
        "millimetre" | "millimetres" | "millimeter" | "millimeters" => (Unit::Millimetre, false),
        _ => return None,
    };
    if abbreviated {
        cursor.eat('.');
    }
    Some(unit)
}

/// The inches that follow feet, in nanometres; nought when none do.
///
/// Inches without a unit are taken when they stand close to a foot mark (`10'6`, `10'-6½`) or when they end
/// a text that is one length. At the start of a longer text the 6 of `10' 6` may as well be a quantity.
fn inches_after_feet(
    cursor: &mut Cursor,
    feet: &Number,
    spelling: Spelling,
    text: &str,
    extent: Extent,
) -> Result<i128, ReadError> {
    let mut ahead = *cursor;
    let mut spaced = ahead.eat_spaces();
    if ahead.eat('-') || (spelling == Spelling::Word && ahead.eat(',')) {
        spaced |= ahead.eat_spaces();
    }
    if !ahead.at_number() {
        return Ok(0);
    }
    let inches = Number::read(&mut ahead).map_err(|fault| ReadError::number(fault, text, RIGHT))?;
    let taken = match unit(&mut ahead) {
        Some((Unit::Inch, _)) => true,
        Some(_) => false,
        None if extent == Extent::Whole => ahead.rest().trim().is_empty(),
        None => spelling == Spelling::Mark && !spaced && ends_here(&ahead),
    };
    if !taken {
        return Ok(0);
    }
    if !feet.is_whole() {
        let (text, right) = (shorten(text), RIGHT_FEET);
        return Err(ReadError::NotWhole { text, right });
    }
    if !inches.is_under(12) {
        let (text, most, right) = (shorten(text), 12, RIGHT_FEET);
        return Err(ReadError::TooManySmall { text, most, right });
    }
    *cursor = ahead;
    nanometres(&inches, Unit::Inch, text)
}

/// The unit of a number that has none of its own.
fn bare_unit(
    cursor: &Cursor,
    bare: Option<Unit>,
    text: &str,
    extent: Extent,
) -> Result<Unit, ReadError> {
    let right = RIGHT;
    let mut ahead = *cursor;
    ahead.eat_spaces();
    let nothing_follows = extent == Extent::Whole || bare.is_none() || !ends_here(cursor);
    if nothing_follows && leads_to_number(ahead) {
        let text = shorten(text);
        return Err(ReadError::TwoNumbers { text, right });
    }
    let word_follows = extent == Extent::Whole && ahead.next_is(char::is_alphabetic);
    if word_follows || !ends_here(cursor) || is_another_measure(ahead) {
        return Err(unknown_unit(text, &ahead));
    }
    bare.ok_or_else(|| {
        let text = shorten(text);
        ReadError::NoUnit { text, right }
    })
}

/// A number is ahead, maybe after a hyphen.
fn leads_to_number(mut cursor: Cursor) -> bool {
    cursor.eat('-');
    cursor.eat_spaces();
    cursor.at_number()
}

/// A number without a unit may end here: nothing that would make it part of a word, a code, a date or a
/// range follows closely. `24x96` is two numbers.
fn ends_here(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    match ahead.peek() {
        Some('x' | 'X') => {
            ahead.bump();
            ahead.eat_spaces();
            ahead.at_number()
        }
        Some('-' | '/' | ':' | '.' | ',') => {
            ahead.bump();
            !ahead.next_is(char::is_alphanumeric)
        }
        Some(c) => !c.is_alphanumeric() && !matches!(c, '%' | '°' | '#' | '^' | '_'),
        None => true,
    }
}

/// The word ahead makes the number a gauge or a mass.
fn is_another_measure(mut cursor: Cursor) -> bool {
    let word = cursor.eat_word(16).unwrap_or_default();
    matches!(word.as_str(), "ga" | "gauge" | "mil" | "mils")
        || crate::mass::unit_of(&word).is_some()
}

/// Nanometres of a number in a unit.
fn nanometres(number: &Number, unit: Unit, text: &str) -> Result<i128, ReadError> {
    let metric = !matches!(unit, Unit::Foot | Unit::Inch);
    match number.comma {
        Comma::Decimal if !metric => {
            let text = shorten(text);
            Err(ReadError::DecimalComma { text })
        }
        // Three decimals of a millimetre or of an inch are not written with a comma; of a metre they may be.
        Comma::Either if matches!(unit, Unit::Metre | Unit::Centimetre) => {
            let text = shorten(text);
            Err(ReadError::UnclearComma { text })
        }
        _ => Ok(number.times(unit.as_length().as_nanometres())),
    }
}

fn unknown_unit(text: &str, cursor: &Cursor) -> ReadError {
    let word = cursor.rest().split_whitespace().next().unwrap_or_default();
    let (text, unit, right) = (shorten(text), shorten(word), RIGHT);
    ReadError::UnknownUnit { text, unit, right }
}
