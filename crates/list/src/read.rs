//! Any file into one common grid: which reader it needs is told by its content, never by its name.

use crate::error::{ListError, Refusal};
use crate::grid::{Sheets, Warning};
use crate::{alto, delimited, geometry, limits, pdf, text, workbook};

/// Reads a file into sheets of cells.
///
/// `file` is only used in messages. Memory: at most the file, its text once more, and about 60 bytes a cell on top
/// of the cell's text. The limits in [`limits`] cap it at 400 MiB for the worst file that is read (measured: 340),
/// and 128 MiB for 100 000 rows of an ordinary list (measured: 96).
pub fn read_sheets(bytes: &[u8], file: &str) -> Result<Sheets, ListError> {
    sniff(bytes).map_err(|why| ListError {
        file: file.to_owned(),
        why,
    })
}

fn sniff(bytes: &[u8]) -> Result<Sheets, Refusal> {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(Refusal::Empty);
    }
    if bytes.len() > limits::MAX_FILE_BYTES {
        return Err(Refusal::TooLarge(bytes.len()));
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return workbook::read(bytes);
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
    if let Some(kind) = other_kind(bytes) {
        return Err(Refusal::OtherKind(kind));
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

/// Pictures, whose words must be recognised first: JPEG, PNG, WebP, HEIF.
fn is_picture(bytes: &[u8]) -> bool {
    bytes.starts_with(b"\xFF\xD8\xFF")
        || bytes.starts_with(b"\x89PNG")
        || bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP")
        || bytes.get(4..8) == Some(b"ftyp")
}

/// Kinds of file that senders do make and that have no reader here.
fn other_kind(bytes: &[u8]) -> Option<&'static str> {
    const KINDS: [(&[u8], &str); 5] = [
        (
            b"\xD0\xCF\x11\xE0",
            "an old XLS workbook or a protected one",
        ),
        (b"GIF8", "a picture"),
        (b"{\\rtf", "an RTF document"),
        (b"\x1F\x8B", "a packed file"),
        (b"7z\xBC\xAF", "a packed file"),
    ];
    KINDS
        .iter()
        .find(|(magic, _)| bytes.starts_with(magic))
        .map(|(_, kind)| *kind)
}
