//! What was put on a page later: stamps, typed notes, filled-in fields.

use hayro_syntax::object::dict::keys::{ANNOTS, AP, CONTENTS, F, RECT, SUBTYPE};
use hayro_syntax::object::{Array, Dict, Name, Rect, String as PdfString};
use hayro_syntax::page::Page as Sheet;

use super::words::Turned;
use crate::geometry::{Page, Word};
use crate::limits;

/// One such thing.
pub struct Note {
    /// Left, top, right, bottom on the page as it is held.
    place: [f32; 4],
    /// A field of a form: what is typed in it belongs to the page.
    field: bool,
    /// It is drawn on the page; otherwise only `says` tells what it says.
    pub drawn: bool,
    says: String,
}

/// Returns what was put on a page and can be seen.
pub fn of(sheet: &Sheet<'_>) -> Vec<Note> {
    const HIDDEN: u32 = 2;
    let Some(all) = sheet.raw().get::<Array<'_>>(ANNOTS) else {
        return Vec::new();
    };
    let transform = sheet.initial_transform(true).as_coeffs();
    let mut notes = Vec::new();
    for note in all.iter::<Dict<'_>>().take(limits::MAX_NOTES) {
        let kind = note.get::<Name<'_>>(SUBTYPE);
        let kind = kind.as_ref().map_or(&b""[..], |kind| kind.as_ref());
        if note.get::<u32>(F).unwrap_or(0) & HIDDEN != 0 || matches!(kind, b"Link" | b"Popup") {
            continue;
        }
        let drawn = note.get::<Dict<'_>>(AP).is_some();
        let says = note.get::<PdfString<'_>>(CONTENTS);
        let place = note.get::<Rect>(RECT);
        notes.push(Note {
            place: place.map_or([0.0; 4], |rect| held(rect, transform)),
            field: kind == b"Widget",
            drawn,
            says: says.map(|says| text(&says)).unwrap_or_default(),
        });
    }
    notes
}

/// Puts the words of notes on the page: those of fields among its words, all others apart.
pub fn put(page: &mut Page, notes: &[Note], later: Vec<Turned>, [width, height]: [f32; 2]) {
    let upright = super::upright::page(later, Vec::new(), [width, height]);
    let in_field = |word: &Word| {
        let [left, top, right, bottom] = word.place;
        let (x, y) = (f32::midpoint(left, right), f32::midpoint(top, bottom));
        let holds = |[left, top, right, bottom]: [f32; 4]| {
            (left - 2.0..right + 2.0).contains(&x) && (top - 2.0..bottom + 2.0).contains(&y)
        };
        notes.iter().any(|note| note.field && holds(note.place))
    };
    let mut said: Vec<String> = Vec::new();
    for word in upright.words.into_iter().chain(upright.stamps) {
        if in_field(&word) {
            page.words.push(word);
        } else {
            said.push(word.text.clone());
            page.stamps.push(word);
        }
    }
    // A note that is not drawn, or drawn as a picture, may say in words what it is.
    let drawn = said.join(" ");
    for note in notes.iter().filter(|note| !note.field) {
        let mut words = note.says.split_whitespace().take(200).peekable();
        if words.peek().is_some_and(|first| drawn.contains(first)) {
            continue;
        }
        for text in words {
            page.stamps.push(Word {
                text: text.to_owned(),
                place: note.place,
                sure: 1.0,
                struck: false,
            });
        }
    }
}

/// A text of the file: with a byte order mark, or in a code that agrees with Latin letters.
fn text(bytes: &[u8]) -> String {
    let read = match bytes {
        [0xfe, 0xff, rest @ ..] => encoding_rs::UTF_16BE.decode(rest).0.into_owned(),
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        plain => encoding_rs::WINDOWS_1252.decode(plain).0.into_owned(),
    };
    read.replace(|c: char| c.is_control(), " ")
}

/// Where a box of the file stands on the page as it is held.
fn held(rect: Rect, [a, b, c, d, e, f]: [f64; 6]) -> [f32; 4] {
    let at = |x: f64, y: f64| [a * x + c * y + e, b * x + d * y + f];
    let (p, q) = (at(rect.x0, rect.y0), at(rect.x1, rect.y1));
    [
        p[0].min(q[0]),
        p[1].min(q[1]),
        p[0].max(q[0]),
        p[1].max(q[1]),
    ]
    .map(|at| at as f32)
}
