//! Numbers of pieces: in digits of any script, with thousands, with a fraction for dozens, in words.

use std::borrow::Cow;

/// The most pieces that one row may say; more is a slip or an attack.
pub const MOST: i64 = 1_000_000_000;

/// A whole number at the start of a text, and what follows it: `12`, `1,200`, `12.0`, `12,00`, `-3`.
pub fn number(text: &str) -> Option<(i64, &str)> {
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let mut end = unsigned
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(unsigned.len());
    if end == 0 || end > 12 {
        return None;
    }
    let mut digits = unsigned[..end].to_owned();
    while let Some(group) = unsigned[end..].strip_prefix(',')
        && group.len() >= 3
        && group.as_bytes()[..3].iter().all(u8::is_ascii_digit)
        && !group[3..].starts_with(|c: char| c.is_ascii_digit())
        && digits.len() <= 9
    {
        digits.push_str(&group[..3]);
        end += 4;
    }
    let mut rest = &unsigned[end..];
    if let Some(decimals) = rest.strip_prefix('.') {
        let zeros = decimals.find(|c| c != '0').unwrap_or(decimals.len());
        if decimals[zeros..].starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        rest = &decimals[zeros..];
    }
    let count: i64 = digits.parse().ok().filter(|n| *n <= MOST)?;
    Some((
        if unsigned.len() < text.len() {
            -count
        } else {
            count
        },
        rest,
    ))
}

/// A number with a fraction, such as `3-1/2`, `3 1/2`, `1/2`, `2.5`, `2,5`, `3½`, as so many halves, thirds, …; and
/// what follows it.
pub fn fraction(text: &str) -> Option<((i64, i64), &str)> {
    let digits = |text: &str| -> Option<(i64, usize)> {
        let len = text
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(text.len());
        (1..=6)
            .contains(&len)
            .then(|| text[..len].parse().ok().map(|n| (n, len)))?
    };
    let over = |text: &str| -> Option<(i64, i64, usize)> {
        const SIGNS: [(char, i64, i64); 5] = [
            ('½', 1, 2),
            ('¼', 1, 4),
            ('¾', 3, 4),
            ('⅓', 1, 3),
            ('⅔', 2, 3),
        ];
        if let Some((sign, top, bottom)) = SIGNS.iter().find(|(sign, ..)| text.starts_with(*sign)) {
            return Some((*top, *bottom, sign.len_utf8()));
        }
        let (top, len) = digits(text)?;
        let below = text[len..].strip_prefix('/')?;
        let (bottom, below) = digits(below)?;
        (bottom > 0 && bottom <= 12).then_some((top, bottom, len + 1 + below))
    };
    if let Some((top, bottom, len)) = over(text) {
        return Some(((top, bottom), &text[len..]));
    }
    let (whole, len) = digits(text)?;
    let after = &text[len..];
    if let Some(decimals) = after.strip_prefix(['.', ',']) {
        let (tenths, len) = digits(decimals).filter(|(_, len)| *len <= 2)?;
        let scale = if len == 1 { 10 } else { 100 };
        return Some(((whole * scale + tenths, scale), &decimals[len..]));
    }
    let fraction = after.trim_start_matches([' ', '-']);
    let (top, bottom, len) = over(fraction)?;
    Some(((whole * bottom + top, bottom), &fraction[len..]))
}

/// The numbers under twenty in words, from nothing on.
pub const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
/// The tens in words, from twenty on.
pub const TENS: [&str; 8] = [
    "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];

/// A number in words at the start of a text, and what follows it: "two", "twenty-six", "a hundred".
pub fn in_words(text: &str) -> Option<(i64, &str)> {
    let (word, rest) = word(text)?;
    let of = |words: &[&str], word: &str| words.iter().position(|w| *w == word).map(|n| n as i64);
    if let Some(ones) = of(&ONES, &word) {
        return Some((ones, rest));
    }
    let tens = (of(&TENS, &word)? + 2) * 10;
    let joined = rest.trim_start_matches([' ', '-']);
    match self::word(joined).and_then(|(word, rest)| Some((of(&ONES, &word)?, rest))) {
        Some((ones @ 1..=9, rest)) => Some((tens + ones, rest)),
        _ => Some((tens, rest)),
    }
}

/// The word that a text begins with, in lower case, and what follows it.
fn word(text: &str) -> Option<(String, &str)> {
    let len = text
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(text.len());
    (1..=9)
        .contains(&len)
        .then(|| (text[..len].to_ascii_lowercase(), &text[len..]))
}

/// The text with digits of other scripts and full-width signs made plain.
pub fn plain_digits(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let plain = |c: char| match c {
        // Full-width forms stand in the order of ASCII.
        '\u{ff01}'..='\u{ff5e}' => char::from_u32(c as u32 - 0xfee0).unwrap_or(c),
        '\u{0660}'..='\u{0669}' => digit(c, 0x0660),
        '\u{06f0}'..='\u{06f9}' => digit(c, 0x06f0),
        '\u{0966}'..='\u{096f}' => digit(c, 0x0966),
        '\u{2212}' | '\u{2010}' | '\u{2011}' => '-',
        '\u{3000}' | '\u{a0}' | '\u{2009}' | '\u{202f}' | '\u{2007}' => ' ',
        _ => c,
    };
    Cow::Owned(text.chars().map(plain).collect())
}

fn digit(c: char, zero: u32) -> char {
    char::from_digit(c as u32 - zero, 10).unwrap_or(c)
}

/// `1 200` and `1'200` as `1200`: groups of three, and nothing else that could be meant.
pub fn without_gaps(text: &str) -> Cow<'_, str> {
    let digits = |part: &str, len: std::ops::RangeInclusive<usize>| {
        len.contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit())
    };
    for gap in [' ', '\'', '’'] {
        let mut groups = text.split(gap);
        let first = groups.next().is_some_and(|first| digits(first, 1..=3));
        let mut several = false;
        let threes = groups.all(|group| {
            several = true;
            digits(group, 3..=3)
        });
        if first && several && threes {
            return Cow::Owned(text.replace(gap, ""));
        }
    }
    Cow::Borrowed(text)
}
