//! What is struck out: drawn through, marked with tildes, or called void. Common practice, no source.

use crate::grid::Line;
use crate::table::line_kind::stands_at;

/// A line drawn through the letter before it: short and long overlay.
const OVERLAYS: [char; 2] = ['\u{335}', '\u{336}'];

/// Splits a text into what is struck out and what stands; nothing when no letter is struck.
pub fn struck_out(text: &str) -> Option<(String, String)> {
    let overlaid = !text.is_ascii() && text.contains(OVERLAYS);
    if !overlaid && !text.contains("~~") {
        return None;
    }
    let (mut struck, mut stands) = (String::new(), String::new());
    if overlaid {
        let mut chars = text.chars().peekable();
        while let Some(c) = chars.next() {
            let over = chars.peek().is_some_and(|next| OVERLAYS.contains(next));
            if over {
                struck.push(c);
                while chars.next_if(|next| OVERLAYS.contains(next)).is_some() {}
            } else {
                stands.push(c);
            }
        }
    } else {
        // Odd stretches between pairs of tildes are struck; one that is never closed strikes nothing.
        let stretches: Vec<&str> = text.split("~~").collect();
        if stretches.len() < 3 {
            return None;
        }
        for (index, stretch) in stretches.iter().enumerate() {
            let closed = index + 1 < stretches.len();
            let to = if index % 2 == 1 && closed {
                &mut struck
            } else {
                &mut stands
            };
            to.push_str(stretch);
        }
    }
    let plain = |text: String| text.trim().to_owned();
    let (struck, stands) = (plain(struck), plain(stands));
    (!struck.is_empty()).then_some((struck, stands))
}

/// Takes the marks of a line out of a description whose row is not struck as a whole, and says what it goes through.
/// Where nothing else is said the words stay: whether the row is meant to go, a person must say.
pub fn drawn_through(description: &mut String) -> Option<String> {
    let (struck, stands) = struck_out(description)?;
    let doubt = format!("a line goes through {struck:?} alone");
    let says = stands.contains(char::is_alphanumeric);
    *description = if says { stands } else { struck };
    Some(doubt)
}

/// Whether a line is struck out as a whole, or says that it is void.
pub fn is_struck(line: &Line) -> bool {
    if line.struck {
        return true;
    }
    let mut any = false;
    let all = line.filled().all(|(_, text)| match struck_out(text) {
        // A space or a comma between struck words is struck too.
        Some((_, stands)) => {
            any = true;
            !stands.contains(char::is_alphanumeric)
        }
        None => !text.contains(char::is_alphanumeric),
    });
    any && all || line.filled().any(|(_, text)| is_void(text))
}

/// Words that void a row when they are all that a cell says.
const VOID: [&str; 18] = [
    "void",
    "voided",
    "cancelled",
    "canceled",
    "cancel",
    "cxl",
    "cxld",
    "deleted",
    "delete",
    "struck",
    "struck out",
    "omitted",
    "omit",
    "not ordered",
    "n/a not ordered",
    "na not ordered",
    "do not ship",
    "removed from order",
];

/// A cell that says so and nothing else, or begins or ends with it: "VOID - ground post", "Hinge (cancelled)".
fn is_void(text: &str) -> bool {
    // A cheap first look at each of very many cells: all these words have one of these letters, and few cells are short.
    if text.len() > 120 || !may_be_void(text) {
        return false;
    }
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '/')
        .filter(|word| !word.is_empty())
        .collect();
    let bare = words.join(" ");
    if VOID.contains(&bare.as_str()) {
        return true;
    }
    // Within a longer text the word must be set apart: by brackets, a dash or a colon.
    let apart = |c: char| {
        matches!(
            c,
            '(' | ')' | '[' | ']' | '*' | ':' | '–' | '—' | '-' | ';' | '|'
        )
    };
    let parts: Vec<&str> = lower
        .split(apart)
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let strong = |part: &&&str| {
        VOID.contains(*part) && !matches!(**part, "cancel" | "delete" | "omit" | "struck")
    };
    parts.len() > 1
        && (parts.first().is_some_and(|p| strong(&p)) || parts.last().is_some_and(|p| strong(&p)))
}

/// Each of the words has one of these in it.
fn may_be_void(text: &str) -> bool {
    let text = text.as_bytes();
    let is = |at: usize, sign: &[u8]| stands_at(text, at, sign);
    text.iter()
        .enumerate()
        .any(|(at, first)| match first | 0x20 {
            b'v' => is(at, b"void"),
            b'c' => is(at, b"cancel") || is(at, b"cxl"),
            b'd' => is(at, b"delete") || is(at, b"do not"),
            b's' => is(at, b"struck"),
            b'o' => is(at, b"omit"),
            b'n' => is(at, b"not ord"),
            b'r' => is(at, b"removed"),
            _ => false,
        })
}
