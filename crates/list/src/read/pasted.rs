//! What a mail program adds to a list that is pasted: marks of quoting, and a signature below.

use std::borrow::Cow;

/// A signature has no more lines than this.
const MOST_LINES: usize = 15;

/// Returns the text without marks of quoting at the start of lines, where two lines or more have one; lines keep
/// their numbers.
pub fn without_quoting(text: &str) -> Cow<'_, str> {
    let quoted = |line: &&str| line.starts_with('>');
    if text.split('\n').filter(quoted).take(2).count() < 2 {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for (index, line) in text.split('\n').enumerate() {
        if index > 0 {
            plain.push('\n');
        }
        let mut rest = line;
        while let Some(inner) = rest.strip_prefix('>') {
            rest = inner
                .strip_prefix(' ')
                .filter(|inner| inner.starts_with('>'))
                .unwrap_or(inner);
        }
        // One space after the mark belongs to it, so that columns keep their places.
        let own = if rest.len() < line.len() {
            rest.strip_prefix(' ').unwrap_or(rest)
        } else {
            rest
        };
        plain.push_str(own);
    }
    Cow::Owned(plain)
}

/// Parts a text from the signature below it, which begins with a line of two dashes (RFC 3676, 4.3).
pub fn signature(text: &str) -> (&str, Option<&str>) {
    let is_mark = |line: &str| matches!(line, "-- " | "--" | "-- \r" | "--\r");
    let mut from = text.len();
    for line in text.rsplit('\n').take(MOST_LINES + 1) {
        let start = from - line.len();
        if is_mark(line) {
            let below = text.get(start + line.len()..).unwrap_or("").trim();
            return (&text[..start], (!below.is_empty()).then_some(below));
        }
        from = start.saturating_sub(1);
    }
    (text, None)
}
