//! Bytes into clean text: the encoding found by content, and what no list should hold taken out and counted.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::error::Refusal;

/// Returns the text of a file, its line ends made plain.
///
/// A byte order mark decides; without one, the pattern of zero bytes tells UTF-16, and bytes that are no UTF-8 are
/// taken for Windows-1252, the usual "save as CSV" of a western office.
pub fn decode(bytes: &[u8]) -> Result<String, Refusal> {
    let (encoding, body) = match Encoding::for_bom(bytes) {
        Some((encoding, mark)) => (encoding, &bytes[mark..]),
        None => (guess(bytes)?, bytes),
    };
    let (text, _) = encoding.decode_without_bom_handling(body);
    if text.contains('\r') {
        return Ok(text.replace("\r\n", "\n").replace('\r', "\n"));
    }
    Ok(text.into_owned())
}

/// Returns the text of a page or of XML, which may name its encoding in its first bytes.
pub fn decode_declared(bytes: &[u8]) -> Result<String, Refusal> {
    let head = &bytes[..bytes.len().min(1_024)];
    let named = || {
        let head = String::from_utf8_lossy(head).to_ascii_lowercase();
        let at = ["charset=", "encoding="]
            .iter()
            .find_map(|word| Some(head.find(word)? + word.len()))?;
        let label = head[at..].trim_start_matches(['"', '\'']);
        let end = label.find(|c: char| !c.is_ascii_alphanumeric() && !matches!(c, '-' | '_'))?;
        Encoding::for_label(&label.as_bytes()[..end])
    };
    let marked = Encoding::for_bom(bytes).is_some() || head.contains(&0);
    match named().filter(|_| !marked) {
        // A page that claims UTF-8 wrongly is no better read as that.
        Some(encoding) if encoding != UTF_8 => {
            let (text, _) = encoding.decode_without_bom_handling(bytes);
            Ok(text.replace("\r\n", "\n").replace('\r', "\n"))
        }
        _ => decode(bytes),
    }
}

fn guess(bytes: &[u8]) -> Result<&'static Encoding, Refusal> {
    let head = &bytes[..bytes.len().min(4_096)];
    let zeros = |parity: usize| {
        head.iter()
            .skip(parity)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let pairs = head.len() / 2;
    if pairs > 0 && zeros(1) * 10 > pairs * 6 && zeros(0) * 10 < pairs {
        return Ok(UTF_16LE);
    }
    if pairs > 0 && zeros(0) * 10 > pairs * 6 && zeros(1) * 10 < pairs {
        return Ok(UTF_16BE);
    }
    // A stray zero byte is cleaned and counted; many control bytes mean that this is no text at all.
    let odd = head
        .iter()
        .filter(|b| **b < 32 && !matches!(**b, b'\t' | b'\n' | b'\r' | 12))
        .count();
    if odd * 10 > head.len() {
        return Err(Refusal::NotText);
    }
    if std::str::from_utf8(bytes).is_ok() {
        Ok(UTF_8)
    } else {
        Ok(WINDOWS_1252)
    }
}

/// Returns the text without control characters, zero bytes, and marks that change the direction of writing,
/// trimmed and with plain spaces; and how many such characters there were.
pub fn clean(text: &str) -> (Cow<'_, str>, usize) {
    let trimmed = text.trim();
    if trimmed.bytes().all(|b| (32..127).contains(&b)) {
        return (Cow::Borrowed(trimmed), 0);
    }
    let mut kept = String::with_capacity(trimmed.len());
    let mut removed = 0;
    for c in trimmed.chars() {
        match c {
            '\t' | '\n' | '\r' => kept.push(' '),
            _ if is_unwanted(c) => removed += 1,
            _ if c.is_whitespace() => kept.push(' '),
            _ => kept.push(c),
        }
    }
    if kept.trim().len() != kept.len() {
        kept = kept.trim().to_owned();
    }
    (Cow::Owned(kept), removed)
}

/// Whether a character that is taken out may have made the text look other than it is. Invisible joints and spaces, which
/// pages are full of, do not.
pub fn alters(c: char) -> bool {
    let plain = matches!(c, '\t' | '\n' | '\r');
    c.is_control() && !plain || matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

fn is_unwanted(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}')
}

/// Cuts a text at a character boundary, to at most so many bytes.
pub fn cut(text: &str, bytes: usize) -> &str {
    let mut end = text.len().min(bytes);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}
