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

/// Takes signatures out: a line of two dashes and the few lines below it (RFC 3676, 4.3) that are quoted as deep as it
/// is. An answer below a quoted mail is no part of that mail's signature. The lines stay as empty ones, so that the
/// others keep their numbers; what they said comes back with its numbers from 1, the mark left out.
pub fn without_signatures<'a>(raw: &str, plain: &'a str) -> (Cow<'a, str>, Vec<(usize, &'a str)>) {
    let is_mark = |line: &&str| matches!(*line, "-- " | "--");
    if !plain.split('\n').any(|line| is_mark(&line)) {
        return (Cow::Borrowed(plain), Vec::new());
    }
    // Where no marks of quoting were taken out, all lines are as deep.
    let is_quoted = raw.len() != plain.len();
    let depths: Vec<usize> = raw
        .split('\n')
        .map(|line| if is_quoted { depth(line) } else { 0 })
        .collect();
    let lines: Vec<&str> = plain.split('\n').collect();
    let mut below: Vec<(usize, &str)> = Vec::new();
    let mut kept = lines.clone();
    let mut at = 0;
    while at < lines.len() {
        let as_deep = || {
            depths[at..]
                .iter()
                .take_while(|depth| **depth == depths[at])
        };
        let most = MOST_LINES + 2;
        let count = as_deep().take(most).count();
        if is_mark(&lines[at]) && count < most {
            kept[at..at + count].fill("");
            let said = (at + 1..at + count).map(|line| (line + 1, lines[line].trim()));
            below.extend(said.filter(|(_, line)| !line.is_empty()));
            at += count;
        } else {
            at += 1;
        }
    }
    (Cow::Owned(kept.join("\n")), below)
}

/// How many marks of quoting a line begins with.
fn depth(line: &str) -> usize {
    let marks = line.chars().take_while(|c| matches!(c, '>' | ' '));
    marks.filter(|c| *c == '>').count()
}
