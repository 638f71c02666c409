use std::collections::BTreeSet;

use serde_json::Value;

use crate::print::PaperError;

/// The most characters of one field that are printed; of a longer one the paper says how many more
/// there are. Nobody reads more in a table, and a paper must not run to a hundred pages because
/// somebody pasted a book into a description.
pub const FIELD_CHARS: usize = 2_000;

/// Most rows and entries in one paper; a kit has a hundred or two.
const MOST_ENTRIES: usize = 5_000;

/// Most characters in one paper; about three hundred full pages.
const MOST_CHARS: usize = 1_000_000;

/// Most marks above or below one letter that are printed: more would run into other rows.
const MOST_MARKS: usize = 3;

/// Stands for what cannot be printed.
const STRAY: char = '\u{fffd}';

/// Makes every text in a paper printable, and returns the characters that could not be.
///
/// A character is replaced if no font here has it (an accent: no font together with its letter),
/// if it has no ink (controls, zero-width characters), or if it moves other text (direction
/// overrides, towers of accents): what a reader does not see must not change what the reader sees.
/// Line breaks stay.
///
/// # Errors
/// [`PaperError::TooMuch`] if the paper as a whole is beyond reading.
pub(crate) fn make_printable(
    paper: &mut Value,
    one_font_has: &dyn Fn(&[char]) -> bool,
) -> Result<BTreeSet<char>, PaperError> {
    let mut strays = BTreeSet::new();
    let (mut chars, mut entries) = (0, 0);
    each_text(paper, &mut entries, &mut |text| {
        *text = clip(&one_kind_of_line_break(text));
        chars += text.chars().count();
        *text = replace_strays(text, one_font_has, &mut strays);
    });
    at_most("rows and entries", entries, MOST_ENTRIES)?;
    at_most("characters", chars, MOST_CHARS)?;
    Ok(strays)
}

/// Replaces what cannot be printed in the letters of a drawing; its markup is plain letters.
pub(crate) fn make_drawable(svg: &str, one_font_has: &dyn Fn(&[char]) -> bool) -> String {
    svg.chars()
        .map(|c| match c {
            ' '..='~' => c,
            c if one_font_has(&[c]) => c,
            _ => '?',
        })
        .collect()
}

/// The characters in words: `U+0000, U+202E`, a few of them.
pub(crate) fn name_strays(strays: &BTreeSet<char>) -> String {
    const NAMED: usize = 16;
    let mut names: Vec<String> = strays
        .iter()
        .take(NAMED)
        .map(|&c| format!("U+{:04X}", u32::from(c)))
        .collect();
    if strays.len() > NAMED {
        names.push(format!("and {} more", strays.len() - NAMED));
    }
    names.join(", ")
}

fn each_text(value: &mut Value, entries: &mut usize, change: &mut dyn FnMut(&mut String)) {
    match value {
        Value::String(text) => change(text),
        Value::Array(items) => {
            // Numbers in a row are the points of a drawing; who draws bounds them.
            *entries += items.iter().filter(|item| !item.is_number()).count();
            for item in items {
                each_text(item, entries, change);
            }
        }
        Value::Object(fields) => {
            for field in fields.values_mut() {
                each_text(field, entries, change);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn at_most(what: &'static str, found: usize, most: usize) -> Result<(), PaperError> {
    if found > most {
        return Err(PaperError::TooMuch { what, found, most });
    }
    Ok(())
}

fn one_kind_of_line_break(text: &str) -> String {
    text.replace("\r\n", "\n")
        .replace(['\r', '\u{85}', '\u{2028}', '\u{2029}'], "\n")
        .replace('\t', " ")
}

fn clip(text: &str) -> String {
    match text.char_indices().nth(FIELD_CHARS) {
        Some((end, _)) => {
            let left = text[end..].chars().count();
            format!("{} … ({left} more characters not printed)", &text[..end])
        }
        None => text.to_owned(),
    }
}

fn replace_strays(
    text: &str,
    one_font_has: &dyn Fn(&[char]) -> bool,
    strays: &mut BTreeSet<char>,
) -> String {
    // The letter so far, with the marks on it; empty after a stray, which carries none.
    let mut letter: Vec<char> = Vec::new();
    let mut printed = String::with_capacity(text.len());
    for c in text.chars() {
        let joins = is_mark(c);
        if !joins {
            letter.clear();
        }
        let has_place = !joins || (1..=MOST_MARKS).contains(&letter.len());
        letter.push(c);
        let is_plain = c == '\n' || c == STRAY || (' '..='~').contains(&c);
        if is_plain || (has_place && !is_inkless(c) && one_font_has(&letter)) {
            printed.push(c);
        } else {
            strays.insert(c);
            printed.push(STRAY);
            letter.clear();
        }
    }
    printed
}

/// Controls and characters without ink of their own, by the ranges that Unicode (section 23) calls
/// format characters, variation selectors, private use and noncharacters.
fn is_inkless(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}'
            | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{e000}'..='\u{f8ff}'
            | '\u{fdd0}'..='\u{fdef}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
            | '\u{fff0}'..='\u{fffc}' | '\u{fffe}'..='\u{ffff}' | '\u{e0000}'..='\u{10ffff}')
}

/// Marks that sit on the letter before them, in the scripts that the fonts here cover.
fn is_mark(c: char) -> bool {
    matches!(c,
        '\u{300}'..='\u{36f}' | '\u{483}'..='\u{489}' | '\u{591}'..='\u{5bd}'
        | '\u{5bf}' | '\u{5c1}'..='\u{5c2}' | '\u{5c4}'..='\u{5c5}' | '\u{5c7}'
        | '\u{610}'..='\u{61a}' | '\u{64b}'..='\u{65f}' | '\u{670}'
        | '\u{6d6}'..='\u{6ed}' | '\u{900}'..='\u{903}' | '\u{e31}' | '\u{e34}'..='\u{e3a}'
        | '\u{e47}'..='\u{e4e}' | '\u{eb1}' | '\u{eb4}'..='\u{ebc}' | '\u{ec8}'..='\u{ece}'
        | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{20d0}'..='\u{20ff}'
        | '\u{fe20}'..='\u{fe2f}')
}
