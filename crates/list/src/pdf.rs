//! PDF with text into pages of words.
//!
//! `gate` looks at the file before the library does, and refuses what would take its memory or stack. `glyphs` notes
//! what each page draws, `words` joins letters, `upright` turns the page by what stands on it, `notes` takes what was
//! put on it later. [`geometry`](crate::geometry) makes rows of it.

mod gate;
mod glyphs;
mod notes;
mod upright;
mod words;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use hayro_interpret::{
    Context, InterpreterCache, InterpreterSettings, TransformExt, interpret_page,
};
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};
use kurbo::Rect;

use crate::error::Refusal;
use crate::geometry::{self, Page};
use crate::grid::{Sheets, Warning};
use crate::limits;
use glyphs::{Drawn, TooMuch};

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

/// Whether a PDF has pictures in the place of text, so that its pages are to be read as pictures.
///
/// True also where its letters mean nothing to a program: a picture of them can be read.
pub fn pages_are_pictures(bytes: &[u8]) -> bool {
    let pages = pages(bytes);
    matches!(
        pages,
        Err(Refusal::PagesArePictures | Refusal::LettersWithoutMeaning)
    )
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
    let outcome = catch_unwind(AssertUnwindSafe(|| read_pages(bytes)));
    outcome.unwrap_or_else(|panic| {
        Err(if panic.is::<TooMuch>() {
            Refusal::TooMuchDrawn
        } else {
            Refusal::DamagedPdf
        })
    })
}

fn read_pages(bytes: &[u8]) -> Result<(Vec<Page>, Vec<Warning>), Refusal> {
    let weight = gate::check(bytes)?;
    let data: Arc<Vec<u8>> = Arc::new(bytes.to_vec());
    let pdf = Pdf::new(data).map_err(|error| match error {
        LoadPdfError::Decryption(DecryptionError::PasswordProtected) => Refusal::Locked,
        LoadPdfError::Decryption(_) => Refusal::UnknownLock,
        LoadPdfError::Invalid => Refusal::DamagedPdf,
    })?;
    let sheets = pdf.pages();
    if sheets.len() > limits::MAX_PAGES {
        return Err(Refusal::TooManyPages(sheets.len()));
    }
    let cache = InterpreterCache::new();
    let mut pages = Vec::with_capacity(sheets.len());
    let mut seen = Seen::default();
    let mut steps = 0;
    for sheet in sheets.iter() {
        let (width, height) = sheet.render_dimensions();
        let draw = |annotations: bool, steps: u64| {
            let settings = InterpreterSettings {
                render_annotations: annotations,
                ..InterpreterSettings::default()
            };
            let mut context = Context::new(
                sheet.initial_transform(true).to_kurbo(),
                Rect::new(0.0, 0.0, f64::from(width), f64::from(height)),
                &cache,
                pdf.xref(),
                settings,
            );
            let mut drawn = Drawn {
                steps,
                weight,
                ..Drawn::default()
            };
            interpret_page(sheet, &mut context, &mut drawn);
            drawn
        };
        let mut drawn = draw(false, steps);
        let own = drawn.letters.len();
        // What was put on the page later is drawn after it: read once more with it, the rest is known.
        let notes = notes::of(sheet);
        if notes.iter().any(|note| note.drawn) {
            drawn = draw(true, drawn.steps);
        }
        steps = drawn.steps;
        let later = drawn.letters.split_off(own.min(drawn.letters.len()));
        let words = words::once(words::words(&drawn.letters));
        seen.page(&words, drawn.pictures / f64::from(width * height).max(1.0));
        let mut page = upright::page(words, drawn.rules, [width, height]);
        notes::put(&mut page, &notes, words::words(&later), [width, height]);
        pages.push(page);
    }
    seen.judge(&pages).map(|warnings| (pages, warnings))
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
    pages: usize,
}

impl Seen {
    fn page(&mut self, words: &[words::Turned], covered: f64) {
        self.pages += 1;
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
