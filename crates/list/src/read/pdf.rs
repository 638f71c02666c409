//! PDF with text into pages of words.
//!
//! `gate` looks at the file before the library does, and refuses what would take its memory or stack. `tree` finds the
//! pages, `follow` goes through what each draws and reckons what that costs, `glyphs` notes it, `words` joins letters,
//! `upright` turns the page by what stands on it, `notes` takes what was put on it later.
//! [`geometry`](crate::geometry) makes rows of it. Of a scan, `pictures` draws the pages.

mod follow;
mod gate;
mod glyphs;
mod layers;
mod notes;
mod packing;
mod pictures;
mod steps;
mod tree;
mod upright;
mod words;

use std::panic::{AssertUnwindSafe, catch_unwind};

use hayro_interpret::{Context, Device, InterpreterCache, InterpreterSettings, interpret};
use hayro_syntax::Pdf;
use hayro_syntax::content::TypedIter;
use hayro_syntax::page::Resources;
use kurbo::{Affine, Rect};

use crate::error::Refusal;
use crate::geometry::{self, Page};
use crate::grid::{Sheets, Warning};
use follow::{Follower, Part};
use gate::Gate;
use glyphs::{Drawn, Letter, TooMuch};
use pictures::Painted;
pub use pictures::Picture;

/// Where a file may say at the latest that it is a PDF, in bytes: mail and web forms put things before it.
const LATEST_SIGN: usize = 1024;

/// Whether the bytes are a PDF.
pub fn is_pdf(bytes: &[u8]) -> bool {
    let start = &bytes[..bytes.len().min(LATEST_SIGN)];
    // Text that speaks of PDF in its first lines does not begin a line with its sign and a version.
    let mut signs = start
        .windows(7)
        .enumerate()
        .filter(|(_, at)| at.starts_with(b"%PDF-"));
    signs.any(|(at, sign)| {
        let at_line = at == 0 || matches!(start[at - 1], b'\n' | b'\r' | 0) || !start.is_ascii();
        at_line && sign[5].is_ascii_digit()
    })
}

/// Whether a PDF has pictures of pages in the place of text, so that [`page_pictures`] of it are to be recognised.
pub fn pages_are_pictures(bytes: &[u8]) -> bool {
    is_pdf(bytes) && matches!(pages(bytes), Err(Refusal::PagesArePictures))
}

/// Draws the pages of a scan, in their order: of what is on them, the pictures. At most `most` pages.
///
/// # Errors
///
/// As [`pages`]; more than `most` pages are [`Refusal::TooManyPages`].
pub fn page_pictures(bytes: &[u8], most: usize) -> Result<Vec<Picture>, Refusal> {
    guarded(|| {
        Gate::default().file(bytes)?;
        let opened = tree::open(bytes)?;
        let sheets = opened.sheets()?;
        if sheets.len() > most {
            return Err(Refusal::TooManyPages);
        }
        let xref = opened.pdf.xref();
        let cache = InterpreterCache::new();
        let mut follower = Follower::new(xref, opened.layers());
        let mut pages = Vec::with_capacity(sheets.len());
        for sheet in &sheets {
            let (page, scale) = Picture::white(sheet.size);
            let transform = Affine::scale(scale) * sheet.transform;
            let contents = sheet.contents()?;
            let followed = follower.follow(&contents, &sheet.resources, transform)?;
            let mut painted = Painted {
                page,
                steps: follower.steps,
            };
            for part in &followed.placed {
                interpret_part(part, &cache, &opened.pdf, &mut painted);
            }
            follower.steps = painted.steps;
            pages.push(painted.page);
        }
        Ok(pages)
    })
}

/// Reads a PDF into one sheet.
pub fn read(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let (pages, mut warnings) = pages(bytes)?;
    let mut sheets = geometry::sheets(&pages)?;
    warnings.append(&mut sheets.warnings);
    Ok(Sheets { warnings, ..sheets })
}

/// Reads a PDF into pages of words, and what a person should know of them.
///
/// The library is other people's code over hostile bytes: should it panic, that is damage in the file.
pub fn pages(bytes: &[u8]) -> Result<(Vec<Page>, Vec<Warning>), Refusal> {
    guarded(|| read_pages(bytes))
}

fn guarded<T>(read: impl FnOnce() -> Result<T, Refusal>) -> Result<T, Refusal> {
    catch_unwind(AssertUnwindSafe(read)).unwrap_or_else(|panic| {
        Err(if panic.is::<TooMuch>() {
            Refusal::TooMuchDrawn
        } else {
            Refusal::DamagedPdf
        })
    })
}

fn read_pages(bytes: &[u8]) -> Result<(Vec<Page>, Vec<Warning>), Refusal> {
    Gate::default().file(bytes)?;
    let opened = tree::open(bytes)?;
    let sheets = opened.sheets()?;
    let mut drawing = Drawing {
        cache: InterpreterCache::new(),
        pdf: &opened.pdf,
        follower: Follower::new(opened.pdf.xref(), opened.layers()),
    };
    let mut pages = Vec::with_capacity(sheets.len());
    let mut seen = Seen::default();
    for sheet in &sheets {
        let [width, height] = sheet.size;
        let contents = sheet.contents()?;
        let mut drawn = drawing.draw(&contents, &sheet.resources, sheet.transform)?;
        let mut stamps = Vec::new();
        for note in notes::of(sheet, &mut drawing.follower)? {
            let mut letters = match &note.drawn {
                Some(note) => drawing.note(note)?,
                None => Vec::new(),
            };
            if note.field {
                drawn.letters.append(&mut letters);
                continue;
            }
            let words = words::words(&letters).into_iter().map(|turned| turned.word);
            let before = stamps.len();
            stamps.extend(words);
            // A note that is drawn as a picture, or not at all, may say in words what it is.
            if stamps.len() == before {
                stamps.extend(note.says);
            }
        }
        let words = words::once(words::words(&drawn.letters));
        let covered = drawn.pictures / (width * height).max(1.0);
        seen.page(&words, covered, drawn.layers_off);
        let mut page = upright::page(words, drawn.rules, [width as f32, height as f32]);
        page.stamps.append(&mut stamps);
        pages.push(page);
    }
    seen.judge(&pages).map(|warnings| (pages, warnings))
}

/// The drawing of one file's pages.
struct Drawing<'a> {
    cache: InterpreterCache<'a>,
    pdf: &'a Pdf,
    follower: Follower<'a>,
}

fn interpret_part<'a>(
    part: &Part<'a>,
    cache: &InterpreterCache<'a>,
    pdf: &'a Pdf,
    on: &mut impl Device<'a>,
) {
    // It only tells what may be left out, and nothing is.
    let area = Rect::new(0.0, 0.0, 1.0, 1.0);
    let settings = InterpreterSettings::default();
    let mut context = Context::new(part.transform, area, cache, pdf.xref(), settings);
    let steps = TypedIter::new(&part.contents);
    interpret(steps, &part.resources, &mut context, on);
}

/// What a page shows.
struct Shown {
    letters: Vec<Letter>,
    rules: Vec<[f32; 4]>,
    pictures: f64,
    layers_off: bool,
}

impl<'a> Drawing<'a> {
    /// Notes what some contents draw.
    fn draw(
        &mut self,
        contents: &[u8],
        with: &Resources<'a>,
        transform: Affine,
    ) -> Result<Shown, Refusal> {
        let followed = self.follower.follow(contents, with, transform)?;
        let mut drawn = Drawn::after(self.follower.steps);
        for part in &followed.parts {
            interpret_part(part, &self.cache, self.pdf, &mut drawn);
        }
        self.follower.steps = drawn.steps;
        Ok(Shown {
            letters: drawn.letters,
            rules: drawn.rules,
            pictures: followed.pictures,
            layers_off: followed.hidden,
        })
    }

    /// Notes the letters that a note draws.
    fn note(&mut self, note: &notes::Drawing<'a>) -> Result<Vec<Letter>, Refusal> {
        let Some(contents) = packing::plain(&note.contents) else {
            return Ok(Vec::new());
        };
        let drawn = self.draw(&contents, &note.resources, note.transform)?;
        Ok(drawn.letters)
    }
}

/// What all pages have, to say whether they can be read.
#[derive(Default)]
struct Seen {
    letters: usize,
    unknown: usize,
    hidden: usize,
    /// Pages that a picture covers more than half of.
    covered: usize,
    /// Of these, those without words.
    pictures: Vec<usize>,
    /// Pages with words on layers that are switched off.
    layers_off: Vec<String>,
    pages: usize,
}

impl Seen {
    fn page(&mut self, words: &[words::Turned], covered: f64, layers_off: bool) {
        self.pages += 1;
        if layers_off {
            self.layers_off.push(self.pages.to_string());
        }
        for turned in words {
            let letters = turned.word.text.chars().count();
            self.letters += letters;
            self.unknown += turned.unknown;
            if turned.word.sure < 1.0 {
                self.hidden += letters;
            }
        }
        self.covered += usize::from(covered > 0.5);
        // A scan may have a line of text put on by the machine that made it.
        if covered > 0.5 && words.len() < 12 {
            self.pictures.push(self.pages);
        }
    }

    fn judge(&self, pages: &[Page]) -> Result<Vec<Warning>, Refusal> {
        if self.pages > 0 && self.pictures.len() == self.pages {
            return Err(Refusal::PagesArePictures);
        }
        if pages
            .iter()
            .all(|page| page.words.is_empty() && page.stamps.is_empty())
        {
            return Err(if self.covered > 0 {
                Refusal::PagesArePictures
            } else {
                Refusal::NoText
            });
        }
        if self.unknown * 5 >= self.letters {
            return Err(Refusal::LettersWithoutMeaning);
        }
        let mut warnings = Vec::new();
        let mut warn = |what: String| warnings.push(Warning { at: None, what });
        for page in &self.pictures {
            warn(format!(
                "page {page} is a picture without words and was not read; send a photo of it as well"
            ));
        }
        if !self.layers_off.is_empty() {
            warn(format!(
                "words on page {} stand on a layer that is switched off, and were not read",
                self.layers_off.join(", ")
            ));
        }
        if self.unknown > 0 {
            warn(format!(
                "{} letters mean nothing to a program and are shown as \u{fffd}; compare with the paper",
                self.unknown
            ));
        }
        if self.hidden * 2 > self.letters {
            warn(
                "a machine recognised these words on a scan, and does not say how surely; compare with the paper"
                    .to_owned(),
            );
        } else if self.hidden > 0 {
            warn(format!(
                "{} letters cannot be seen on the page and were read all the same",
                self.hidden
            ));
        }
        Ok(warnings)
    }
}
