//! Any file into one common grid: which reader it needs is told by its content, never by its name.

pub mod alto;
pub mod archive;
pub mod biff;
pub mod cell;
pub mod compound;
pub mod css;
pub mod decimal_comma;
pub mod delimited;
pub mod fixed_width;
pub mod gather;
pub mod html;
pub mod html_element;
pub mod inside;
pub mod mail;
pub mod ods;
pub mod pasted;
pub mod pdf;
pub mod pipes;
pub mod sheet_marks;
pub mod spreadsheet_xml;
pub mod text;
pub mod workbook;
pub mod xls;
pub mod xml;

use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use zip::ZipArchive;

use crate::error::{ListError, Refusal};
use crate::grid::{Sheets, Warning};
use crate::{geometry, limits};

/// Reads a file into sheets of cells. Of a mail or a ZIP, the first file inside that has any.
///
/// `file` is only used in messages. Memory: at most the file, its text once more, and about 60 bytes a cell on top
/// of the cell's text. The limits in [`limits`] cap it at 400 MiB for the worst file that is read (measured: 340),
/// and 128 MiB for 100 000 rows of an ordinary list (measured: 96).
pub fn read_sheets(bytes: &[u8], file: &str) -> Result<Sheets, ListError> {
    sheets_within(bytes, 0).map_err(|why| ListError {
        file: file.to_owned(),
        why,
    })
}

/// Reads a file that stands so deep inside others.
pub fn sheets_within(bytes: &[u8], depth: usize) -> Result<Sheets, Refusal> {
    check_size(bytes)?;
    match inside::open(bytes) {
        Some(_) if depth >= limits::MAX_FILES_WITHIN => Err(Refusal::TooDeep),
        Some(opened) => inside::sheets(opened?, depth),
        None => sheets(bytes),
    }
}

/// Refuses nothing and too much.
pub fn check_size(bytes: &[u8]) -> Result<(), Refusal> {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(Refusal::Empty);
    }
    if bytes.len() > limits::MAX_FILE_BYTES {
        return Err(Refusal::TooLarge(bytes.len()));
    }
    Ok(())
}

/// Reads a file that carries no others. Readers of packed and marked-up files are in part other people's code over
/// hostile bytes: should one panic, that is said as damage in the file, and no state is left behind.
pub fn sheets(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let mut sheets = catch_unwind(AssertUnwindSafe(|| by_kind(bytes)))
        .unwrap_or_else(|_| Err(Refusal::Damaged("its parts contradict each other".into())))?;
    decimal_comma::normalise(&mut sheets);
    Ok(sheets)
}

fn by_kind(bytes: &[u8]) -> Result<Sheets, Refusal> {
    if is_zip(bytes) {
        return match packed(bytes)? {
            Packed::Workbook => workbook::read(bytes),
            Packed::OpenSheet => ods::read(bytes),
            Packed::Other(kind) => Err(Refusal::OtherKind(kind)),
            Packed::Files => Err(Refusal::Damaged("it is no workbook".into())),
        };
    }
    if bytes.starts_with(compound::MAGIC) {
        return compound::read(bytes);
    }
    if pdf::is_pdf(bytes) {
        return pdf::read(bytes);
    }
    if is_picture(bytes) {
        return Err(Refusal::Picture);
    }
    if alto::is_alto(bytes) {
        return recognised(bytes);
    }
    if let Some(kind) = other_picture(bytes) {
        return Err(Refusal::OtherPicture(kind));
    }
    if let Some(kind) = other_kind(bytes) {
        return Err(Refusal::OtherKind(kind));
    }
    if let Some(kind) = marked_up(bytes) {
        return match kind {
            Markup::Page => html::read(&text::decode_declared(bytes)?),
            Markup::FlatSheet => ods::read_flat(&text::decode_declared(bytes)?),
            Markup::Workbook => spreadsheet_xml::read(&text::decode_declared(bytes)?),
        };
    }
    delimited::read(&text::decode(bytes)?)
}

/// Words that were recognised on pictures of a list's pages.
fn recognised(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let found = alto::read(&text::decode(bytes)?)?;
    let mut sheets = geometry::sheets(&found.pages)?;
    let warnings = found
        .warnings
        .into_iter()
        .map(|what| Warning { at: None, what });
    sheets.warnings.splice(0..0, warnings);
    Ok(sheets)
}

/// Whether a file begins as a picture does (JPEG, PNG, WebP, HEIF), whose words must be recognised first.
pub fn is_picture(bytes: &[u8]) -> bool {
    bytes.starts_with(b"\xFF\xD8\xFF")
        || bytes.starts_with(b"\x89PNG")
        || bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP")
        || bytes.get(4..8) == Some(b"ftyp")
}

fn is_zip(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

/// Whether this is a ZIP of files, not a workbook.
pub fn is_plain_zip(bytes: &[u8]) -> bool {
    is_zip(bytes) && matches!(packed(bytes), Ok(Packed::Files))
}

/// What a ZIP is.
enum Packed {
    Workbook,
    OpenSheet,
    Other(&'static str),
    Files,
}

/// Tells by the names in the directory, which nothing is unpacked for.
fn packed(bytes: &[u8]) -> Result<Packed, Refusal> {
    let archive = ZipArchive::new(Cursor::new(bytes));
    let archive = archive.map_err(|error| Refusal::Damaged(error.to_string()))?;
    let has = |name: &str| archive.index_for_name(name).is_some();
    Ok(if has("xl/workbook.bin") {
        Packed::Other("a binary workbook (.xlsb)")
    } else if has("word/document.xml") {
        Packed::Other("a DOCX document")
    } else if has("ppt/presentation.xml") {
        Packed::Other("a PPTX presentation")
    } else if has("content.xml") && has("META-INF/manifest.xml") {
        Packed::OpenSheet
    } else if has("Index/Document.iwa") {
        Packed::Other("an office document of a kind that is not known here")
    } else if has("xl/workbook.xml") || has("[Content_Types].xml") || has("mimetype") {
        Packed::Workbook
    } else {
        Packed::Files
    })
}

/// Kinds of text with markup.
enum Markup {
    Page,
    FlatSheet,
    Workbook,
}

fn marked_up(bytes: &[u8]) -> Option<Markup> {
    let head = text::decode(&bytes[..bytes.len().min(4_096) & !1]).ok()?;
    let head = head.trim_start().to_ascii_lowercase();
    let copied = head.starts_with("version:") && head.contains("starthtml:");
    if copied {
        return Some(Markup::Page);
    }
    if !head.starts_with('<') {
        return None;
    }
    if head.contains("urn:schemas-microsoft-com:office:spreadsheet")
        && head.contains("<?xml")
        && !head.contains("<html")
    {
        return Some(Markup::Workbook);
    }
    if head.contains("urn:oasis:names:tc:opendocument:xmlns:office") {
        return Some(Markup::FlatSheet);
    }
    let elements = [
        "<html",
        "<!doctype html",
        "<table",
        "<body",
        "<head",
        "<div",
        "<p>",
        "<p ",
        "<br",
        "<span",
        "<pre",
        "<meta",
        "<ul",
        "<ol",
        "<center",
    ];
    elements
        .iter()
        .any(|element| head.contains(element))
        .then_some(Markup::Page)
}

/// Kinds of file that senders do make and that have no reader here.
fn other_kind(bytes: &[u8]) -> Option<&'static str> {
    const KINDS: [(&[u8], &str); 6] = [
        (b"{\\rtf", "an RTF document"),
        (b"\x1F\x8B", "a packed file"),
        (b"7z\xBC\xAF", "a packed file"),
        (b"Rar!", "a packed file"),
        (b"\x09\x04\x06\0", "a workbook of before 1993"),
        (b"\x09\x00\x04\0", "a workbook of before 1993"),
    ];
    starts(&KINDS, bytes)
}

/// Kinds of picture that no words are recognised on here.
fn other_picture(bytes: &[u8]) -> Option<&'static str> {
    const KINDS: [(&[u8], &str); 3] = [(b"GIF8", "GIF"), (b"II*\0", "TIFF"), (b"MM\0*", "TIFF")];
    starts(&KINDS, bytes)
}

/// Returns the kind that the first bytes are of.
fn starts(kinds: &[(&[u8], &'static str)], bytes: &[u8]) -> Option<&'static str> {
    kinds
        .iter()
        .find(|(magic, _)| bytes.starts_with(magic))
        .map(|(_, kind)| *kind)
}
