//! Texts from outside, made fit for a file that another program will read.

use std::borrow::Cow;

/// Returns the text as one line without what no reader can see: control characters become spaces; marks that turn the
/// direction of writing, characters without width and those that XML 1.0 forbids are left out.
pub(crate) fn one_line(text: &str) -> String {
    let seen: String = (text.chars())
        .filter(|c| !is_unseen(*c))
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let words: Vec<&str> = seen.split_whitespace().collect();
    words.join(" ")
}

/// Returns the text as one line, or other words where it is empty.
pub(crate) fn or(text: &str, other: &str) -> String {
    match one_line(text) {
        empty if empty.is_empty() => other.to_owned(),
        line => line,
    }
}

/// Whether a spreadsheet would take the line for a formula.
pub(crate) fn is_formula(line: &str) -> bool {
    line.starts_with(starts_formula)
}

/// Returns the text as a cell of a CSV file: never a formula, at its start or after a semicolon, at which some
/// spreadsheets split a line although commas do too.
pub(crate) fn csv_cell(text: &str) -> String {
    let line = one_line(text);
    let mut cell = String::with_capacity(line.len() + 1);
    let mut at_start = true;
    for c in line.chars() {
        if at_start && starts_formula(c) {
            cell.push('\'');
        }
        at_start = c == ';' || (at_start && (c.is_whitespace() || c == '"'));
        cell.push(c);
    }
    cell
}

/// Returns the text in the basic characters of X12: capital letters, digits and plain signs, none of which is a
/// delimiter here; at most so many. What has no such form becomes a space.
pub(crate) fn x12(text: &str, most: usize) -> String {
    let line = one_line(text);
    let ascii = match line.is_ascii() {
        true => Cow::Borrowed(line.as_str()),
        false => Cow::Owned(deunicode::deunicode_with_tofu(&line, " ")),
    };
    let basic: String = (ascii.chars())
        .map(|c| match c.to_ascii_uppercase() {
            // The asterisk and the colon are basic characters too; the one separates elements here, the other elsewhere.
            c @ ('A'..='Z' | '0'..='9') => c,
            c @ ('!' | '"' | '&' | '\'' | '(' | ')' | '+' | ',' | '-' | '.' | '/' | ';' | '?'
            | '=') => c,
            ':' => ',',
            '[' | '{' => '(',
            ']' | '}' => ')',
            '_' => '-',
            '*' => 'X',
            _ => ' ',
        })
        .collect();
    let words: Vec<&str> = basic.split_whitespace().collect();
    let cut: String = words.join(" ").chars().take(most).collect();
    cut.trim_end().to_owned()
}

/// The signs at which a spreadsheet begins a formula, and their wide forms.
fn starts_formula(c: char) -> bool {
    matches!(c, '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠')
}

fn is_unseen(c: char) -> bool {
    matches!(
        c,
        '\u{ad}' | '\u{61c}' | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}'
            | '\u{e0000}'..='\u{e007f}'
    )
}
