//! Film thickness in mil, thousandths of an inch.

use crate::Length;
use crate::cursor::Cursor;
use crate::number::Number;

/// Reads a film thickness at the start of `text`, and how many bytes it took, leading spaces counted in:
/// `6 mil`, `6-mil`, `6mil.`, `5.9 mils`. Rounded to the nearest nanometre, half up; nothing beyond an inch,
/// which is no film.
///
/// It stands apart from [`Length::read_start`], which refuses `6 mil`, so that a film's thickness is never
/// taken for how long or wide it is.
pub fn read_start(text: &str) -> Option<(Length, usize)> {
    let mut cursor = Cursor::new(text);
    cursor.eat_spaces();
    let number = Number::read(&mut cursor).ok()?;
    if !cursor.eat_spaces() {
        cursor.eat('-');
    }
    match cursor.eat_word(4)?.as_str() {
        "mil" | "mils" => {
            cursor.eat('.');
        }
        _ => return None,
    }
    if cursor.next_is(char::is_numeric) || !number.is_under(1000) {
        return None;
    }
    let mil = Length::mils(1).as_nanometres();
    let nanometres = i64::try_from(number.times(mil)).ok()?;
    Some((Length::nanometres(nanometres), cursor.at()))
}
