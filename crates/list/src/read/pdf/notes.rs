//! What was put on a page later: stamps, typed notes, filled-in fields.

use hayro_syntax::object::dict::keys::{
    ANNOTS, AP, AS, BBOX, CONTENTS, F, MATRIX, N, RECT, RESOURCES, SUBTYPE,
};
use hayro_syntax::object::{Array, Dict, Name, Rect, Stream, String as PdfString};
use hayro_syntax::page::Resources;
use kurbo::{Affine, Shape};

use super::follow::Follower;
use super::tree::Sheet;
use crate::error::Refusal;
use crate::geometry::Word;
use crate::limits;

/// Longest text of a note that is read, in bytes.
const LONGEST: usize = 4_000;

/// One such thing.
pub struct Note<'a> {
    /// A field of a form: what is typed in it belongs to the page.
    pub field: bool,
    /// How it is drawn, where it says so.
    pub drawn: Option<Drawing<'a>>,
    /// What it says in words of its own.
    pub says: Vec<Word>,
}

/// How a note is drawn.
pub struct Drawing<'a> {
    /// The steps, packed.
    pub contents: Stream<'a>,
    /// What it draws with.
    pub resources: Resources<'a>,
    /// From its places to those from the page's top left.
    pub transform: Affine,
}

/// Returns what was put on a page and can be seen; the reading of it is counted.
pub fn of<'a>(sheet: &Sheet<'a>, counted: &mut Follower<'a>) -> Result<Vec<Note<'a>>, Refusal> {
    const HIDDEN: u32 = 2;
    let Some(all) = sheet.dict.get::<Array<'_>>(ANNOTS) else {
        return Ok(Vec::new());
    };
    let mut notes = Vec::new();
    for note in all.iter::<Dict<'a>>().take(limits::MAX_NOTES) {
        counted.step(10)?;
        counted.bytes(note.data().len() as u64)?;
        let kind = note.get::<Name<'_>>(SUBTYPE);
        let kind = kind.as_ref().map_or(&b""[..], |kind| kind.as_ref());
        let hidden = note.get::<u32>(F).unwrap_or(0) & HIDDEN != 0;
        if hidden || matches!(kind, b"Link" | b"Popup") {
            continue;
        }
        let rect = note.get::<Rect>(RECT).unwrap_or(Rect::ZERO);
        let says = note.get::<PdfString<'_>>(CONTENTS);
        counted.bytes(says.as_ref().map_or(0, |says| says.len() as u64))?;
        let says = says.map(|says| text(&says[..says.len().min(LONGEST)]));
        let says = says.unwrap_or_default();
        let held = sheet.transform.transform_rect_bbox(kurbo(rect));
        let place = [held.x0, held.y0, held.x1, held.y1].map(|at| at as f32);
        let word = |text: &str| Word {
            text: text.to_owned(),
            place,
            sure: 1.0,
            struck: false,
        };
        notes.push(Note {
            field: kind == b"Widget",
            drawn: drawing(&note, rect, sheet),
            says: says.split_whitespace().take(200).map(word).collect(),
        });
    }
    Ok(notes)
}

/// Fits the drawing's own box, turned by its matrix, into the note's place, as ISO 32000-1, 12.5.5 says.
fn drawing<'a>(note: &Dict<'a>, rect: Rect, sheet: &Sheet<'a>) -> Option<Drawing<'a>> {
    let ways = note.get::<Dict<'_>>(AP)?;
    let drawn = ways.get::<Stream<'_>>(N).or_else(|| {
        let state = note.get::<Name<'_>>(AS)?;
        ways.get::<Dict<'_>>(N)?.get::<Stream<'_>>(state.as_ref())
    })?;
    let matrix = Affine::new(
        drawn
            .dict()
            .get::<[f64; 6]>(MATRIX)
            .unwrap_or([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]),
    );
    let own = matrix.transform_rect_bbox(kurbo(drawn.dict().get::<Rect>(BBOX)?).bounding_box());
    let rect = kurbo(rect);
    let scale = |to: f64, from: f64| if from.abs() < 1.0e-6 { 1.0 } else { to / from };
    let (sx, sy) = (
        scale(rect.width(), own.width()),
        scale(rect.height(), own.height()),
    );
    let fit = Affine::new([
        sx,
        0.0,
        0.0,
        sy,
        rect.x0 - own.x0 * sx,
        rect.y0 - own.y0 * sy,
    ]);
    let with = drawn.dict().get::<Dict<'_>>(RESOURCES).unwrap_or_default();
    Some(Drawing {
        resources: Resources::from_parent(with, sheet.resources.clone()),
        transform: sheet.transform * fit * matrix,
        contents: drawn,
    })
}

fn kurbo(rect: Rect) -> kurbo::Rect {
    kurbo::Rect::new(rect.x0, rect.y0, rect.x1, rect.y1)
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
