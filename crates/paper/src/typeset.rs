//! The typesetter's world: templates, fonts and one data file, all in memory.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde::Serialize;
use serde_json::{Value, json};
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Feature, Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::text::{make_drawable, make_printable, name_strays};

/// Sets a paper with its template, and writes the PDF.
pub(crate) fn typeset(
    template: Template,
    paper: &impl Serialize,
    print: &Print,
) -> Result<Vec<u8>, PaperError> {
    typeset_with(template, paper, Vec::new(), print)
}

/// The same, with photos.
pub(crate) fn typeset_with_photos(
    template: Template,
    paper: &impl Serialize,
    photos: &[Photo],
    print: &Print,
) -> Result<Vec<u8>, PaperError> {
    print.check()?;
    let (shown, files) = photos::shown(photos)?;
    let paper = WithPhotos {
        paper,
        photos: shown,
    };
    let files = (files.into_iter().enumerate())
        .map(|(i, jpeg)| (file(&photos::file_name(i)), Bytes::new(jpeg)))
        .collect();
    set_paper(template, &paper, &[], files, print)
}

#[derive(Serialize)]
struct WithPhotos<'a, Paper> {
    #[serde(flatten)]
    paper: &'a Paper,
    photos: Vec<photos::Shown<'a>>,
}

/// The same, with drawings (SVG) that the template names `drawing-0.svg` and on.
pub(crate) fn typeset_with(
    template: Template,
    paper: &impl Serialize,
    drawings: Vec<&str>,
    print: &Print,
) -> Result<Vec<u8>, PaperError> {
    set_paper(template, paper, &drawings, Vec::new(), print)
}

fn set_paper(
    template: Template,
    paper: &impl Serialize,
    drawings: &[&str],
    photos: Vec<(FileId, Bytes)>,
    print: &Print,
) -> Result<Vec<u8>, PaperError> {
    let stamp = print.check()?;
    let paper = serde_json::to_value(paper).map_err(|e| PaperError::Typesetting(e.to_string()))?;
    let set = |one_font_has: &dyn Fn(&[char]) -> bool| {
        let mut paper = paper.clone();
        let strays = make_printable(&mut paper, one_font_has)?;
        let data = data_for_template(&paper, &strays, print);
        let drawings = drawings.iter().enumerate().map(|(i, svg)| {
            let id = file(&format!("drawing-{i}.svg"));
            (id, Bytes::from_string(make_drawable(svg, one_font_has)))
        });
        let desk = Desk {
            template,
            data,
            pictures: drawings.chain(photos.iter().cloned()).collect(),
        };
        write_pdf(desk, print, stamp)
    };
    // A letter can be in a font and still not come out of shaping; that is known only when it is
    // set. PDF/UA refuses a letter that does not show, so then the paper is set again with the
    // plain letters of the text font alone.
    let result = match set(&|letter| SHOP.any_font_has(letter)) {
        Err(PaperError::Typesetting(_)) => set(&|letter| SHOP.text_font_has(letter)),
        result => result,
    };
    // The typesetter remembers what it set; a yard computer runs for months.
    typst::comemo::evict(KEPT_RUNS);
    result
}

/// How many runs an intermediate result may go unused before it is dropped. The results for the
/// templates and the standard library are used every time.
const KEPT_RUNS: usize = 2;

fn data_for_template(paper: &Value, strays: &BTreeSet<char>, print: &Print) -> Bytes {
    let (language, region) = print.locale().unwrap_or_default();
    let data = json!({
        "paper": paper,
        "strays": name_strays(strays),
        "print": {
            "sheet": print.sheet.name(),
            "made_at": print.made_at.in_words(),
            "id": print.id,
            "language": language,
            "region": region,
        },
    });
    Bytes::from_string(data.to_string())
}

fn write_pdf(desk: Desk, print: &Print, stamp: Timestamp) -> Result<Vec<u8>, PaperError> {
    let compiled = typst::compile::<PagedDocument>(&desk);
    debug_assert!(compiled.warnings.is_empty(), "{:?}", compiled.warnings);
    let document = compiled.output.map_err(|e| fault(&e))?;
    let options = PdfOptions {
        ident: Smart::Custom(print.id.clone()),
        creator: Smart::Custom(Some("Tallyard".to_owned())),
        timestamp: Some(stamp),
        standards: SHOP.standards.clone(),
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&document, &options).map_err(|e| fault(&e))
}

fn fault(diagnostics: &[SourceDiagnostic]) -> PaperError {
    let messages: Vec<&str> = diagnostics.iter().map(|d| d.message.as_str()).collect();
    PaperError::Typesetting(messages.join("; "))
}

/// What every paper shares; set up once, on first use.
static SHOP: LazyLock<Shop> = LazyLock::new(Shop::open);

struct Shop {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    standards: PdfStandards,
    common: Source,
    letter: Source,
    card: Source,
    templates: Vec<Source>,
    data: FileId,
}

impl Shop {
    fn open() -> Self {
        let fonts: Vec<Font> = typst_assets::fonts()
            .flat_map(|data| Font::iter(Bytes::new(data)))
            .collect();
        // Marks that head a row are told as such to a screen reader; the typesetter counts that
        // among its extras for now.
        let extras = [Feature::A11yExtras].into_iter().collect();
        Self {
            library: LazyHash::new(Library::builder().with_features(extras).build()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            standards: PdfStandards::new(&[PdfStandard::A_2a, PdfStandard::Ua_1])
                .expect("both build on PDF 1.7, and neither forbids what the other asks"),
            common: source("common.typ", include_str!("../templates/common.typ")),
            letter: source("letter.typ", include_str!("../templates/letter.typ")),
            card: source("card.typ", include_str!("../templates/card.typ")),
            templates: (Template::ALL.iter())
                .map(|template| source(template.name(), template.text()))
                .collect(),
            data: file("data.json"),
        }
    }

    fn source(&self, template: Template) -> &Source {
        // In the order of `Template::ALL`, which is that of the enumeration.
        &self.templates[template as usize]
    }

    fn any_font_has(&self, letter: &[char]) -> bool {
        self.fonts.iter().any(|font| has_all(font, letter))
    }

    fn text_font_has(&self, letter: &[char]) -> bool {
        let text = |font: &&Font| font.info().family == TEXT_FONT;
        letter.len() == 1
            && self
                .fonts
                .iter()
                .filter(text)
                .all(|font| has_all(font, letter))
    }
}

fn has_all(font: &Font, letter: &[char]) -> bool {
    let coverage = &font.info().coverage;
    letter.iter().all(|&c| coverage.contains(u32::from(c)))
}

/// The font of the templates' running text.
const TEXT_FONT: &str = "Libertinus Serif";

fn source(name: &str, text: &str) -> Source {
    Source::new(file(name), text.to_owned())
}

fn file(name: &str) -> FileId {
    let path = VirtualPath::new(name).expect("the names given here are plain");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

/// The world as one paper sees it: its template, the shared template, its data and pictures; nothing else.
struct Desk {
    template: Template,
    data: Bytes,
    pictures: Vec<(FileId, Bytes)>,
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHOP.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &SHOP.book
    }

    fn main(&self) -> FileId {
        SHOP.source(self.template).id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let shared = [&SHOP.common, &SHOP.letter, &SHOP.card];
        let known = std::iter::once(SHOP.source(self.template)).chain(shared);
        let found = known.into_iter().find(|source| source.id() == id);
        found.cloned().ok_or_else(|| not_here(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == SHOP.data {
            return Ok(self.data.clone());
        }
        let picture = self.pictures.iter().find(|(picture, _)| *picture == id);
        picture
            .map(|(_, bytes)| bytes.clone())
            .ok_or_else(|| not_here(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        SHOP.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_here(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_with_slash().into())
}
