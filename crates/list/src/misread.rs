//! Rows that were recognised on a picture: which of their words may be misread. Nothing is put right in silence.

use crate::grid::Line;
use crate::quantity::{self, Quantity};

/// A count that was read less surely than this is to be looked at. Wrong digits on the test pictures were below it, with
/// few right ones (ours).
const COUNT: f32 = 0.8;
/// Words that were read less surely than this are.
const WORDS: f32 = 0.5;
/// What a ruled line or a fold leaves beside a number.
const MARKS: &[char] = &[
    '(', ')', '[', ']', '{', '}', '|', '«', '»', '‘', '’', '\'', '`', '.', ',', ':', ';', '_', '—',
    '-', '~', '°', '"', '“', '”', '*',
];

/// Reads a count in whose place letters were recognised: only a number can stand there. Its doubt says so.
pub(crate) fn count(line: &Line, written: &str, unit: &str) -> Option<Quantity> {
    line.seen.as_ref()?;
    let digits = digits(written)?;
    let quantity = quantity::read(&digits, unit)?;
    let pieces = quantity.pieces;
    Some(Quantity {
        doubt: Some(format!(
            "the count was read as {written:?} and taken for {pieces}: look at the picture"
        )),
        ..quantity
    })
}

/// The digits that letters were taken for; nothing where a letter looks like none.
fn digits(written: &str) -> Option<String> {
    let bare = written.trim().trim_matches(MARKS);
    if bare.is_empty() || bare.chars().count() > 6 {
        return None;
    }
    let read: String = bare.chars().map(looks_like).collect::<Option<_>>()?;
    // A word of such letters alone, such as "Sols", is a word.
    let has_digit = bare.contains(|c: char| c.is_ascii_digit());
    (has_digit || bare.chars().count() == 1).then_some(read)
}

fn looks_like(c: char) -> Option<char> {
    Some(match c {
        '0'..='9' => c,
        'O' | 'o' | 'Q' | 'D' => '0',
        'l' | 'I' | 'i' | '|' | '!' => '1',
        'Z' | 'z' => '2',
        'S' | 's' => '5',
        'G' => '6',
        'B' => '8',
        'g' | 'q' => '9',
        _ => return None,
    })
}

/// What a person should look at on the picture; nothing where all was read surely, or there is no picture.
pub(crate) fn doubt(line: &Line, count: Option<usize>) -> Option<String> {
    let seen = line.seen.as_ref()?;
    let per_cent = |sure: f32| (100.0 * sure).round();
    let of_count = count.and_then(|column| seen.sure.get(column).copied());
    if let Some(sure) = of_count.filter(|sure| *sure < COUNT) {
        let sure = per_cent(sure);
        return Some(format!(
            "the count was read with {sure} %: look at the picture"
        ));
    }
    let least = seen.sure.iter().copied().fold(1.0, f32::min);
    if least < WORDS {
        let least = per_cent(least);
        return Some(format!(
            "the words were read with {least} %: look at the picture"
        ));
    }
    // "1 %" on a list of parts is most often "1 ½" or its like, and which one the words do not tell.
    let mut before = ' ';
    let fraction = line.text().chars().any(|c| {
        let odd = c == '%' && before.is_ascii_digit();
        if !c.is_whitespace() {
            before = c;
        }
        odd
    });
    fraction.then(|| "a fraction may have been read as %: look at the picture".to_owned())
}

/// Two doubts as one.
pub(crate) fn both(first: Option<String>, second: Option<String>) -> Option<String> {
    match (first, second) {
        (Some(first), Some(second)) => Some(format!("{first}; {second}")),
        (first, second) => first.or(second),
    }
}
