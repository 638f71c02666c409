//! Whether a file is data of a sender's system: looked at cheaply, so that no other file is slowed.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::xml::UBL;
use crate::error::Refusal;
use crate::limits;

/// How far into a file prose may stand before the data, in bytes: a mail's greeting, a form's heading.
const FAR: usize = 64 << 10;

/// What a file is.
pub enum Found {
    /// XML that names UBL.
    Ubl(String),
    /// X12, from its first segment on.
    X12(String),
    /// Data that is known and not read.
    Refused(Refusal),
}

/// Says what a file is; nothing when it is none of these.
pub fn what_is(bytes: &[u8]) -> Option<Found> {
    if bytes.len() > limits::MAX_FILE_BYTES {
        return None;
    }
    let (encoding, body) = encoding(bytes)?;
    let head = first_visible(encoding, body)?;
    if head == b'<' {
        return if is_html(body) {
            None
        } else {
            xml(encoding, body)
        };
    }
    if encoding == UTF_8 && !mentions(body) {
        return None;
    }
    let text = decode(encoding, body);
    let start = start_of_x12(&text)?;
    if is_edifact(&text[start..]) {
        let what = edifact(&text[start..]);
        return Some(Found::Refused(Refusal::OtherDocument(what)));
    }
    Some(Found::X12(text))
}

/// The encoding by byte order mark or by the pattern of zero bytes, and what follows the mark.
fn encoding(bytes: &[u8]) -> Option<(&'static Encoding, &[u8])> {
    if let Some((encoding, mark)) = Encoding::for_bom(bytes) {
        return Some((encoding, &bytes[mark..]));
    }
    Some(match bytes.get(..4)? {
        [a, 0, b, 0] if *a > 0 && *b > 0 => (UTF_16LE, bytes),
        [0, a, 0, b] if *a > 0 && *b > 0 => (UTF_16BE, bytes),
        _ => (UTF_8, bytes),
    })
}

fn first_visible(encoding: &'static Encoding, body: &[u8]) -> Option<u8> {
    let wide = encoding != UTF_8;
    let mut seen = body.iter().filter(|b| !(wide && **b == 0));
    seen.find(|b| !b.is_ascii_whitespace()).copied()
}

fn is_html(body: &[u8]) -> bool {
    let start: Vec<u8> = body
        .iter()
        .filter(|b| **b > b' ')
        .take(13)
        .map(u8::to_ascii_lowercase)
        .collect();
    start.starts_with(b"<!doctypehtml") || start.starts_with(b"<html")
}

/// Whether the first part of a text holds the word that an interchange, a group or a set begins with.
fn mentions(body: &[u8]) -> bool {
    let head = &body[..body.len().min(FAR)];
    let begins = |at: usize, word: &[u8]| {
        let before = at.checked_sub(1).map_or(b'\n', |i| head[i]);
        let after = head.get(at + word.len()).copied().unwrap_or(b'A');
        !before.is_ascii_alphanumeric()
            && !after.is_ascii_alphanumeric()
            && head[at..].len() >= word.len()
            && head[at..at + word.len()].eq_ignore_ascii_case(word)
    };
    (0..head.len()).any(|at| match head[at].to_ascii_uppercase() {
        b'I' => begins(at, b"ISA"),
        b'G' => begins(at, b"GS"),
        b'S' => begins(at, b"ST"),
        b'U' => {
            begins(at, b"UNA:")
                || begins(at, b"UNB")
                || begins(at, b"UNH")
                || head[at..].starts_with(b"UNA:+")
        }
        _ => false,
    })
}

fn decode(encoding: &'static Encoding, body: &[u8]) -> String {
    let text: Cow<'_, str> = match std::str::from_utf8(body) {
        Ok(text) if encoding == UTF_8 => Cow::Borrowed(text),
        _ if encoding == UTF_8 => WINDOWS_1252.decode_without_bom_handling(body).0,
        _ => encoding.decode_without_bom_handling(body).0,
    };
    text.into_owned()
}

/// Returns where X12 or EDIFACT begins in a text: at its start, or at the start of a line after some prose.
pub fn start_of_x12(text: &str) -> Option<usize> {
    let head = crate::read::text::cut(text, FAR);
    let trimmed = text.len() - text.trim_start_matches(is_blank).len();
    if is_start(&text[trimmed..], true) {
        return Some(trimmed);
    }
    let mut at = 0;
    for line in head.split_inclusive(['\n', '\r']) {
        let inner = line.trim_start_matches([' ', '\t', '>', '|']);
        let start = at + line.len() - inner.len();
        // Within prose only the envelope is a sure sign.
        if is_start(&text[start..], false) {
            return Some(start);
        }
        at += line.len();
    }
    None
}

fn is_blank(c: char) -> bool {
    c.is_whitespace() || c == '\u{FEFF}' || c == '\0'
}

/// Whether a text begins with a segment that opens an interchange, a group or a set.
fn is_start(text: &str, bare: bool) -> bool {
    let word = |word: &str| {
        let found = text
            .get(..word.len())
            .filter(|t| t.eq_ignore_ascii_case(word));
        let after = found.and_then(|_| text[word.len()..].chars().next());
        after.filter(|c| !c.is_alphanumeric() && !matches!(c, ' ' | '\n' | '\r' | '"' | '\'' | '.'))
    };
    let digits = |from: usize, n: usize| {
        text.get(from..from + n)
            .is_some_and(|t| t.bytes().all(|b| b.is_ascii_digit()))
    };
    if let Some(separator) = word("ISA") {
        // The authorization and the security qualifier: two places each, in any file that was not mended by hand.
        let mut elements = text.split(separator).skip(1);
        let short = |t: Option<&str>| t.is_some_and(|t| t.trim().len() <= 2);
        let group = format!("GS{separator}");
        // At the very start a broken ISA is still one, so that it can be told what is wrong with it.
        return short(elements.next())
            && (elements.nth(14).is_some() || bare && text.contains(&group));
    }
    if is_edifact(text) {
        return true;
    }
    let Some(separator) = word("ST").or_else(|| word("GS")).filter(|_| bare) else {
        return false;
    };
    let after = 2 + separator.len_utf8();
    digits(after, 3)
        || text
            .get(after..after + 2)
            .is_some_and(|t| t.bytes().all(|b| b.is_ascii_alphabetic()))
            && text[after + 2..].starts_with(separator)
}

fn is_edifact(text: &str) -> bool {
    let start = text.get(..4).unwrap_or("");
    start == "UNA:" || (matches!(start, "UNB+" | "UNH+"))
}

fn edifact(text: &str) -> String {
    let unh = text.find("UNH+").map(|at| &text[at..]);
    let kind = unh
        .and_then(|unh| unh.split('+').nth(2))
        .and_then(|id| id.split(':').next());
    match kind.map(str::trim) {
        Some("DESADV") => {
            "a UN/EDIFACT DESADV despatch advice, whose syntax is not read".to_owned()
        }
        Some(kind) if kind.len() == 6 && kind.is_ascii() => format!("a UN/EDIFACT {kind} message"),
        _ => "a UN/EDIFACT message".to_owned(),
    }
}

fn xml(encoding: &'static Encoding, body: &[u8]) -> Option<Found> {
    let (encoding, body) = match encoding == UTF_8 {
        true => match declared(body) {
            Declared::None => (UTF_8, body),
            Declared::Known(encoding) => (encoding, body),
            Declared::Unknown(label) if speaks_ubl(body) => {
                return Some(Found::Refused(Refusal::Broken {
                    at: "line 1, in the XML declaration".to_owned(),
                    why: format!("the encoding {label:?} is not known; UTF-8 would be right"),
                }));
            }
            Declared::Unknown(_) => return None,
        },
        false => (encoding, body),
    };
    if encoding != UTF_16LE && encoding != UTF_16BE && !speaks_ubl(body) {
        return None;
    }
    let (text, _) = encoding.decode_without_bom_handling(body);
    let text = text.into_owned();
    (encoding == UTF_8 || speaks_ubl(text.as_bytes())).then_some(Found::Ubl(text))
}

/// Whether bytes hold the beginning of UBL's namespaces, or a despatch advice that lacks its namespace.
fn speaks_ubl(bytes: &[u8]) -> bool {
    let finder = |needle: &[u8]| {
        let mut rest = bytes;
        while let Some(at) = rest.iter().position(|b| *b == needle[0]) {
            rest = &rest[at..];
            if rest.starts_with(needle) {
                return true;
            }
            rest = &rest[1..];
        }
        false
    };
    finder(UBL.as_bytes()) || finder(b"<DespatchAdvice")
}

enum Declared {
    None,
    Known(&'static Encoding),
    Unknown(String),
}

/// The encoding that an XML declaration names.
fn declared(body: &[u8]) -> Declared {
    let head: String = body.iter().take(200).map(|b| char::from(*b)).collect();
    let declaration = head.trim_start();
    let Some(declaration) = declaration
        .strip_prefix("<?xml")
        .and_then(|d| d.split("?>").next())
    else {
        return Declared::None;
    };
    let value = declaration
        .split_once("encoding")
        .map(|(_, after)| after.trim_start_matches([' ', '=', '\t']));
    let Some(label) = value.and_then(|v| v.split(['"', '\'']).nth(1)) else {
        return Declared::None;
    };
    match Encoding::for_label(label.as_bytes()) {
        // It says UTF-16 and is plainly not: every byte of the declaration was read one by one.
        Some(encoding) if encoding == UTF_16LE || encoding == UTF_16BE => Declared::None,
        Some(encoding) => Declared::Known(encoding),
        None => Declared::Unknown(label.chars().take(40).collect()),
    }
}
