//! "Incl. in hardware box 2", "see kit B": what comes inside something else. Common practice, no source.

use crate::table::line_kind::stands_at;

/// Words that say so beyond doubt. With a count of its own such a thing may be counted twice.
const SURELY: [&str; 15] = [
    "incl. in",
    "incl in",
    "included in",
    "inc. in",
    "inc in",
    "incl. with",
    "incl with",
    "included with",
    "inc. with",
    "comes with",
    "come with",
    "supplied with",
    "see kit",
    "part of kit",
    "part of the",
];

/// Words that say where it lies; only without a count do they mean that another row has it.
const PERHAPS: [&str; 8] = [
    "packed with",
    "packed inside",
    "shipped inside",
    "shipped in",
    "see box",
    "see bag",
    "see above",
    "part of",
];

/// What a text says of the thing's coming inside another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inside {
    /// It is counted there.
    Surely,
    /// It lies there.
    Perhaps,
}

/// Returns whether a line says that its thing comes inside another, and the words that say it.
pub fn inside<'a>(texts: impl Iterator<Item = &'a str>) -> Option<(Inside, &'a str)> {
    let mut perhaps = None;
    for text in texts {
        let may = may_say(text.as_bytes());
        if !may || text.len() > 300 {
            continue;
        }
        let lower = text.to_ascii_lowercase();
        if matches!(lower.trim_end_matches('.'), "incl" | "included" | "inc") {
            return Some((Inside::Surely, text));
        }
        if let Some(at) = find(&lower, &SURELY) {
            return Some((Inside::Surely, &text[at..]));
        }
        perhaps = perhaps.or_else(|| Some((Inside::Perhaps, &text[find(&lower, &PERHAPS)?..])));
    }
    perhaps
}

fn find(lower: &str, phrases: &[&str]) -> Option<usize> {
    phrases.iter().find_map(|phrase| {
        let mut all = lower.match_indices(phrase);
        all.find_map(|(at, _)| {
            let alone = !lower[..at].ends_with(char::is_alphanumeric)
                && !lower[at + phrase.len()..].starts_with(char::is_alphanumeric);
            alone.then_some(at)
        })
    })
}

/// Each of the words has one of these in it: a cheap first look at each of very many cells.
fn may_say(text: &[u8]) -> bool {
    let is = |at: usize, sign: &[u8]| stands_at(text, at, sign);
    text.iter()
        .enumerate()
        .any(|(at, first)| match first | 0x20 {
            b'i' => is(at, b"inc") || is(at, b"ins"),
            b'w' => is(at, b"with"),
            b's' => is(at, b"see ") || is(at, b"shipped in"),
            b'p' => is(at, b"part of"),
            _ => false,
        })
}
