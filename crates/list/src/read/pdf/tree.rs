//! The pages of a file, walked by us: the library goes round a ring of pages for ever.
//!
//! It walks the pages as soon as a file is opened. So we put a table of contents of our own behind the file, as a
//! later version of it, with one empty page; everything else is reached through the library by its number.

use std::fmt::Write as _;
use std::sync::Arc;

use hayro_syntax::object::dict::keys::{
    CONTENTS, CROP_BOX, KIDS, MEDIA_BOX, PAGES, RESOURCES, ROTATE,
};
use hayro_syntax::object::{Array, Dict, ObjectIdentifier, Rect, Stream};
use hayro_syntax::page::{A4, Resources};
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};
use kurbo::Affine;

use super::gate::{self, Gate};
use super::layers::Layers;
use super::packing;
use crate::error::Refusal;
use crate::limits;

/// A file that the library has opened, and where its own table of contents is.
pub struct Opened {
    /// Its objects; of its pages it knows only our empty one.
    pub pdf: Pdf,
    root: ObjectIdentifier,
}

/// One page.
pub struct Sheet<'a> {
    /// Its entries.
    pub dict: Dict<'a>,
    /// Its fonts and other things that it draws with.
    pub resources: Resources<'a>,
    /// Width and height as a reader holds it, in points.
    pub size: [f64; 2],
    /// From the file's places to those from the top left.
    pub transform: Affine,
}

/// Most parts of one page's drawing; programs write one or three.
const MOST_PARTS: usize = 1_000;

/// Deepest tree of pages; programs write three levels for thousands of pages.
const DEEPEST: usize = 32;

/// Opens a file whose parts were checked.
pub fn open(bytes: &[u8]) -> Result<Opened, Refusal> {
    let root = last_reference(bytes, b"/Root").ok_or(Refusal::DamagedPdf)?;
    let lock = lock(bytes);
    if !lock.is_empty() {
        check_locked(bytes, &lock)?;
    }
    let before = last_start(bytes).map_or_else(String::new, |at| format!("/Prev {at}"));
    let pdf = with_own_contents(bytes, &[], &format!("{before}{lock}"))?;
    Ok(Opened { pdf, root })
}

impl Opened {
    /// Returns the layers that are switched off.
    pub fn layers(&self) -> Layers {
        let root = self.pdf.xref().get::<Dict<'_>>(self.root);
        root.map_or_else(Layers::default, |root| Layers::of(&root))
    }

    /// Returns the pages in their order.
    pub fn sheets(&self) -> Result<Vec<Sheet<'_>>, Refusal> {
        let xref = self.pdf.xref();
        let root = xref.get::<Dict<'_>>(self.root).ok_or(Refusal::DamagedPdf)?;
        let top = root.get::<Dict<'_>>(PAGES).ok_or(Refusal::DamagedPdf)?;
        let own = self.pdf.pages().first().ok_or(Refusal::DamagedPdf)?;
        let mut walk = Walk {
            sheets: Vec::new(),
            nodes: 0,
        };
        let above = Above {
            media: A4,
            crop: None,
            turn: 0,
            resources: own.resources().clone(),
        };
        walk.down(top, above, 0)?;
        if walk.sheets.is_empty() {
            return Err(Refusal::DamagedPdf);
        }
        Ok(walk.sheets)
    }
}

/// What a page has from those above it.
#[derive(Clone)]
struct Above<'a> {
    media: Rect,
    crop: Option<Rect>,
    turn: i32,
    resources: Resources<'a>,
}

struct Walk<'a> {
    sheets: Vec<Sheet<'a>>,
    nodes: usize,
}

impl<'a> Walk<'a> {
    fn down(&mut self, node: Dict<'a>, above: Above<'a>, depth: usize) -> Result<(), Refusal> {
        self.nodes += 1;
        if depth > DEEPEST || self.nodes > 20 * limits::MAX_PAGES {
            return Err(Refusal::PdfLoop("pages"));
        }
        let own = node.get::<Dict<'_>>(RESOURCES).unwrap_or_default();
        let here = Above {
            media: node.get::<Rect>(MEDIA_BOX).unwrap_or(above.media),
            crop: node.get::<Rect>(CROP_BOX).or(above.crop),
            turn: node.get::<i32>(ROTATE).unwrap_or(above.turn),
            resources: Resources::from_parent(own, above.resources),
        };
        if let Some(kids) = node.get::<Array<'_>>(KIDS) {
            for kid in kids.iter::<Dict<'_>>() {
                self.down(kid, here.clone(), depth + 1)?;
            }
            return Ok(());
        }
        if self.sheets.len() >= limits::MAX_PAGES {
            return Err(Refusal::TooManyPages);
        }
        self.sheets.push(sheet(node, here));
        Ok(())
    }
}

fn sheet<'a>(dict: Dict<'a>, here: Above<'a>) -> Sheet<'a> {
    let held = here
        .crop
        .map_or(here.media, |crop| crop.intersect(here.media));
    let sound = |rect: Rect| {
        let sides = [rect.x1 - rect.x0, rect.y1 - rect.y0];
        sides.iter().all(|side| (1.0..100_000.0).contains(side))
    };
    let page = [held, here.media]
        .into_iter()
        .find(|rect| sound(*rect))
        .unwrap_or(A4);
    let Rect { x0, y0, x1, y1 } = page;
    let (width, height) = (x1 - x0, y1 - y0);
    let (size, to_top_left) = match here.turn.rem_euclid(360) {
        90 => ([height, width], [0.0, 1.0, 1.0, 0.0, -y0, -x0]),
        180 => ([width, height], [-1.0, 0.0, 0.0, 1.0, x1, -y0]),
        270 => ([height, width], [0.0, -1.0, -1.0, 0.0, y1, x1]),
        _ => ([width, height], [1.0, 0.0, 0.0, -1.0, -x0, y1]),
    };
    Sheet {
        dict,
        resources: here.resources,
        size,
        transform: Affine::new(to_top_left),
    }
}

impl Sheet<'_> {
    /// Returns what the page says is to be drawn, all its parts one after the other.
    pub fn contents(&self) -> Result<Vec<u8>, Refusal> {
        let mut all = Vec::new();
        if let Some(one) = self.dict.get::<Stream<'_>>(CONTENTS) {
            all.extend_from_slice(&packing::plain(&one).ok_or(Refusal::DamagedPdf)?);
        } else if let Some(several) = self.dict.get::<Array<'_>>(CONTENTS) {
            for part in several.iter::<Stream<'_>>().take(MOST_PARTS) {
                // A part that is damaged is left out, as every program does.
                if let Some(part) = packing::plain(&part) {
                    all.extend_from_slice(&part);
                }
                all.push(b'\n');
                if all.len() > limits::MAX_PDF_PART {
                    return Err(Refusal::TooMuchDrawn);
                }
            }
        }
        Ok(all)
    }
}

/// Opens the file with a table of contents of ours behind it: one empty page. `objects` are further entries, each the
/// number, generation and place of an object; `more` goes into the trailer.
fn with_own_contents(
    bytes: &[u8],
    objects: &[(u32, u32, usize)],
    more: &str,
) -> Result<Pdf, Refusal> {
    /// Above every number that a file of this size can have used.
    const OWN: usize = 60_000_000;
    let mut tail = String::from("\n");
    let mut entries = String::new();
    for (number, generation, at) in objects {
        let _ = write!(entries, "{number} 1\n{at:010} {generation:05} n \n");
    }
    let own = [
        format!("<</Type/Catalog/Pages {} 0 R>>", OWN + 1),
        format!("<</Type/Pages/Count 1/Kids[{} 0 R]>>", OWN + 2),
        format!("<</Type/Page/MediaBox[0 0 9 9]/Parent {} 0 R>>", OWN + 1),
    ];
    for (index, object) in own.iter().enumerate() {
        let number = OWN + index;
        let _ = write!(
            entries,
            "{number} 1\n{:010} 00000 n \n",
            bytes.len() + tail.len()
        );
        let _ = write!(tail, "{number} 0 obj\n{object}\nendobj\n");
    }
    let at = bytes.len() + tail.len();
    let _ = write!(
        tail,
        "xref\n{entries}trailer\n<</Size {}/Root {OWN} 0 R{more}>>\nstartxref\n{at}\n%%EOF\n",
        OWN + 3
    );
    let mut whole = Vec::with_capacity(bytes.len() + tail.len());
    whole.extend_from_slice(bytes);
    whole.extend_from_slice(tail.as_bytes());
    Pdf::new(Arc::new(whole)).map_err(|error| match error {
        LoadPdfError::Decryption(DecryptionError::PasswordProtected) => Refusal::Locked,
        LoadPdfError::Decryption(_) => Refusal::UnknownLock,
        LoadPdfError::Invalid => Refusal::DamagedPdf,
    })
}

/// Checks the parts of a locked file, which show what they unpack to only once they are unlocked. Only objects that
/// stand in the file as they are can be reached for that, so nothing is unpacked yet.
fn check_locked(bytes: &[u8], lock: &str) -> Result<(), Refusal> {
    let objects = objects(bytes);
    let pdf = with_own_contents(bytes, &objects, lock)?;
    let mut gate = Gate::default();
    for (number, generation, _) in objects {
        let (Ok(number), Ok(generation)) = (i32::try_from(number), i32::try_from(generation))
        else {
            continue;
        };
        let id = ObjectIdentifier::new(number, generation);
        if let Some(part) = pdf.xref().get::<Stream<'_>>(id) {
            gate.part(part.dict().data(), &part.raw_data())?;
        }
    }
    Ok(())
}

/// Finds the objects that stand in the file as they are: number, generation, place. The last of each number counts.
fn objects(bytes: &[u8]) -> Vec<(u32, u32, usize)> {
    let mut found = std::collections::BTreeMap::new();
    let mut from = 0;
    while let Some(step) = gate::find(&bytes[from..], b" obj") {
        let at = from + step;
        from = at + 4;
        let digits = |end: usize| {
            let start = bytes[..end].iter().rposition(|byte| !byte.is_ascii_digit());
            let start = start.map_or(0, |start| start + 1);
            let text = std::str::from_utf8(&bytes[start..end]).ok()?;
            text.parse::<u32>().ok().map(|number| (number, start))
        };
        let Some((generation, start)) = digits(at) else {
            continue;
        };
        let Some((number, start)) = start.checked_sub(1).and_then(digits) else {
            continue;
        };
        if found.len() < 500_000 {
            found.insert(number, (generation, start));
        }
    }
    let entries = found.into_iter();
    entries
        .map(|(number, (generation, start))| (number, generation, start))
        .collect()
}

/// Returns the trailer's entries that say how the file is locked, as they stand; empty when it is not.
fn lock(bytes: &[u8]) -> String {
    let Some(id) = last_reference(bytes, b"/Encrypt") else {
        return String::new();
    };
    let ids = last(bytes, b"/ID").and_then(|at| {
        let rest = &bytes[at + 3..];
        let end = rest.iter().take(400).position(|byte| *byte == b']')?;
        // The two may be written as raw bytes, which are no text; then the lock is not known.
        std::str::from_utf8(&rest[..=end]).ok()
    });
    format!(
        "/Encrypt {} {} R/ID{}",
        id.obj_number,
        id.gen_number,
        ids.unwrap_or("[<><>]")
    )
}

/// Reads the reference after the last place of a name.
fn last_reference(bytes: &[u8], name: &[u8]) -> Option<ObjectIdentifier> {
    let rest = &bytes[last(bytes, name)? + name.len()..];
    let text = String::from_utf8_lossy(&rest[..rest.len().min(40)]).into_owned();
    let mut words = text.split_ascii_whitespace();
    let number = words.next()?.parse().ok()?;
    let generation = words.next()?.parse().ok()?;
    let sign = words.next()?.starts_with('R');
    sign.then(|| ObjectIdentifier::new(number, generation))
}

/// Reads where the file says that its own table of contents is.
fn last_start(bytes: &[u8]) -> Option<u64> {
    let rest = &bytes[last(bytes, b"startxref")? + 9..];
    let text = String::from_utf8_lossy(&rest[..rest.len().min(40)]).into_owned();
    text.split_ascii_whitespace().next()?.parse().ok()
}

/// Finds the last place of a name that ends there.
fn last(bytes: &[u8], name: &[u8]) -> Option<usize> {
    let mut at = bytes.len().checked_sub(name.len())?;
    loop {
        let after = bytes.get(at + name.len());
        if bytes[at..].starts_with(name) && after.is_none_or(|byte| !byte.is_ascii_alphabetic()) {
            return Some(at);
        }
        at = at.checked_sub(1)?;
    }
}
