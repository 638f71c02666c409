//! What kind of file bytes are, by their content.

use std::fmt;

use crate::heif;
use crate::refused::Refused;

/// A kind of picture that is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// JPEG.
    Jpeg,
    /// PNG, such as a screenshot.
    Png,
    /// WebP.
    Webp,
    /// HEIF coded as HEVC, the space-saving form of many phones: kept, not decoded here.
    Heic,
    /// HEIF coded as AV1: kept, not decoded here.
    Avif,
    /// HEIF that does not say how it is coded: kept, not decoded here.
    Heif,
}

impl Kind {
    /// The media type to send it as.
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::Webp => "image/webp",
            Self::Heic => "image/heic",
            Self::Avif => "image/avif",
            Self::Heif => "image/heif",
        }
    }

    /// The usual end of a file's name.
    pub fn extension(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Webp => "webp",
            Self::Heic => "heic",
            Self::Avif => "avif",
            Self::Heif => "heif",
        }
    }

    /// Whether its pixels can be decoded here.
    pub fn can_be_decoded(self) -> bool {
        matches!(self, Self::Jpeg | Self::Png | Self::Webp)
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Webp => "WebP",
            Self::Heic => "HEIC",
            Self::Avif => "AVIF",
            Self::Heif => "HEIF",
        })
    }
}

/// What other files begin with, and their names with an article.
const OTHERS: [(&[u8], &str); 19] = [
    (b"GIF87a", "a GIF"),
    (b"GIF89a", "a GIF"),
    (b"%PDF-", "a PDF"),
    (b"PK\x03\x04", "a ZIP archive or an office document"),
    (b"PK\x05\x06", "a ZIP archive"),
    (b"\x1f\x8b", "a packed archive"),
    (b"7z\xbc\xaf\x27\x1c", "a packed archive"),
    (b"Rar!", "a packed archive"),
    (b"II*\0", "a TIFF or a camera's raw file"),
    (b"MM\0*", "a TIFF or a camera's raw file"),
    (b"BM", "a BMP"),
    (b"\xff\x0a", "a JPEG XL"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000"),
    (b"\xd0\xcf\x11\xe0", "an office document"),
    (b"\x1aE\xdf\xa3", "a film"),
    (b"OggS", "a sound or a film"),
    (b"ID3", "a sound"),
    (b"\x7fELF", "a program"),
];

/// Says what kind of picture it is.
pub(crate) fn recognise(bytes: &[u8]) -> Result<Kind, Refused> {
    if bytes.is_empty() {
        return Err(Refused::Empty);
    }
    if bytes.starts_with(b"\xff\xd8\xff") {
        return Ok(Kind::Jpeg);
    }
    if bytes.starts_with(crate::png::SIGNATURE) {
        return Ok(Kind::Png);
    }
    if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        return Ok(Kind::Webp);
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return heif::kind(bytes).ok_or(Refused::NotAPhoto("a film or a camera's raw file"));
    }
    let other = OTHERS.iter().find(|(magic, _)| bytes.starts_with(magic));
    Err(Refused::NotAPhoto(match other {
        Some((_, name)) => name,
        None => text(bytes),
    }))
}

/// Names what is, or is not, text: a page, a drawing, or bytes of no kind known here.
fn text(bytes: &[u8]) -> &'static str {
    let head = &bytes[..bytes.len().min(1024)];
    let head = String::from_utf8_lossy(head).to_ascii_lowercase();
    if head.contains("<svg") {
        "an SVG drawing"
    } else if head.contains("<html") || head.contains("<!doctype") || head.contains("<script") {
        "a web page"
    } else if head
        .chars()
        .any(|c| c == '\0' || c == char::REPLACEMENT_CHARACTER)
    {
        "a file of no kind known here"
    } else {
        "text"
    }
}
