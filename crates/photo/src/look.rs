//! What a picture is: its kind, its size, when it was taken, whether it tells where.

use crate::exif_block::{self, Facts};
use crate::kind::{Kind, recognise};
use crate::refused::Refused;
use crate::{heif, jpeg, png, webp};

/// The most bytes of a picture.
pub const MOST_BYTES: usize = 32 * 1024 * 1024;

/// The most pixels of a picture.
pub const MOST_PIXELS: u64 = 64_000_000;

/// Width and height in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

/// What a picture's headers say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Its kind.
    pub kind: Kind,
    /// Its size as its pixels are stored. HEIF turns its picture itself, so there it is as shown, but for what the file
    /// crops away.
    pub stored: Size,
    /// Its size once it stands upright.
    pub shown: Size,
    /// How it is to be turned to stand upright: 1 to 8, as in EXIF.
    pub orientation: u8,
    /// When it was taken, as ISO 8601 text by the phone's own clock, with its offset from UTC if that was noted.
    pub taken: Option<String>,
    /// Whether it tells where it was taken, or has notes that could not be read and so may tell.
    pub place: bool,
    /// Whether [`crate::thumbnail`] has something to show: the pixels, or a small JPEG within a HEIF file.
    pub can_be_shown: bool,
}

impl Picture {
    /// Returns words for whoever sent a picture that is kept but not fully shown here.
    pub fn advice(&self) -> Option<&'static str> {
        match (self.kind.can_be_decoded(), self.can_be_shown) {
            (true, _) => None,
            (false, true) => Some(
                "Kept as it is. This computer cannot show it, but for the small picture inside it. \
                 For the next, set the phone's camera to JPEG (\"most compatible\").",
            ),
            (false, false) => Some(
                "Kept as it is. This computer cannot show it, and there is no small picture inside it; the phone that \
                 took it can. For the next, set the phone's camera to JPEG (\"most compatible\").",
            ),
        }
    }
}

/// Says what a picture is, by its bytes and not by any name. Reads headers only; whether the pixels are whole is found by
/// [`crate::thumbnail`].
pub fn look(bytes: &[u8]) -> Result<Picture, Refused> {
    if bytes.len() > MOST_BYTES {
        return Err(Refused::TooManyBytes { bytes: bytes.len() });
    }
    let kind = recognise(bytes)?;
    let stored = size(kind, bytes).ok_or_else(|| {
        Refused::damaged(kind, "it does not say how wide and high the picture is")
    })?;
    within_bounds(stored)?;
    if kind == Kind::Webp && webp::moves(bytes) {
        return Err(Refused::Moving(kind));
    }
    let (facts, can_be_shown) = match kind {
        Kind::Jpeg => (in_jpeg(bytes), true),
        Kind::Png => (in_png(bytes), true),
        Kind::Webp => (in_webp(bytes), true),
        Kind::Heic | Kind::Avif | Kind::Heif => in_heif(bytes),
    };
    let orientation = facts.orientation.unwrap_or(1);
    Ok(Picture {
        kind,
        stored,
        shown: turned(stored, orientation),
        orientation,
        taken: facts.taken,
        place: facts.place,
        can_be_shown,
    })
}

pub(crate) fn within_bounds(size: Size) -> Result<(), Refused> {
    let Size { width, height } = size;
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(Refused::TooManyPixels { width, height });
    }
    Ok(())
}

/// Orientations from five on lie on their side.
fn turned(size: Size, orientation: u8) -> Size {
    match orientation {
        5..=8 => Size {
            width: size.height,
            height: size.width,
        },
        _ => size,
    }
}

fn size(kind: Kind, bytes: &[u8]) -> Option<Size> {
    match kind {
        Kind::Jpeg => jpeg::headers(bytes).size,
        Kind::Png => png::size(bytes),
        Kind::Webp => webp::size(bytes),
        Kind::Heic | Kind::Avif | Kind::Heif => heif::size(bytes),
    }
}

fn in_jpeg(bytes: &[u8]) -> Facts {
    let headers = jpeg::headers(bytes);
    let mut facts = notes(&headers.exif, &headers.xmp);
    facts.place |= headers.captions;
    facts
}

fn in_png(bytes: &[u8]) -> Facts {
    let (mut exif, mut xmp, mut packed) = (Vec::new(), Vec::new(), false);
    for chunk in png::chunks(bytes) {
        match chunk.name {
            b"eXIf" => exif.push(chunk.contents),
            b"iTXt" | b"tEXt" => xmp.push(chunk.contents),
            _ => {}
        }
        // Packed text, and EXIF written out as text, are not unpacked to be looked into.
        packed |= chunk.name == b"zTXt"
            || chunk.name == b"tEXt" && chunk.contents.starts_with(b"Raw profile")
            || chunk.name == b"iTXt" && is_packed(chunk.contents);
    }
    let mut facts = notes(&exif, &xmp);
    facts.place |= packed;
    facts
}

/// International text has its keyword, a zero, and one if it is packed.
fn is_packed(text: &[u8]) -> bool {
    let keyword = text.iter().position(|&byte| byte == 0);
    keyword.is_some_and(|end| text.get(end + 1) == Some(&1))
}

fn in_webp(bytes: &[u8]) -> Facts {
    // Only an extended file has notes.
    if webp::chunks(bytes)
        .next()
        .is_none_or(|head| head.name != b"VP8X")
    {
        return Facts::default();
    }
    let (mut exif, mut xmp) = (Vec::new(), Vec::new());
    for chunk in webp::chunks(bytes) {
        match chunk.name {
            b"EXIF" => {
                // Some programs write the prefix that EXIF has in a JPEG.
                let block = chunk.contents.strip_prefix(b"Exif\0\0");
                exif.push(block.unwrap_or(chunk.contents));
            }
            b"XMP " => xmp.push(chunk.contents),
            _ => {}
        }
    }
    notes(&exif, &xmp)
}

/// The first block of EXIF counts; a second has no business there, and may tell a place.
fn notes(exif: &[&[u8]], xmp: &[&[u8]]) -> Facts {
    let mut facts = exif
        .first()
        .map(|block| exif_block::read(block))
        .unwrap_or_default();
    facts.place |= exif.len() > 1 || xmp.iter().any(|packet| exif_block::xmp_tells_place(packet));
    facts
}

fn in_heif(bytes: &[u8]) -> (Facts, bool) {
    let in_xmp = exif_block::xmp_tells_place(bytes);
    let (place, taken, can_be_shown) = match heif::notes(bytes) {
        Ok((exif, doubt)) => (
            doubt || exif_block::place(&exif),
            exif_block::taken(&exif),
            heif::preview(&exif).is_some(),
        ),
        Err(exif::Error::NotFound(_)) => (false, None, false),
        Err(_) => (true, None, false),
    };
    let facts = Facts {
        // The file turns its picture itself.
        orientation: None,
        taken,
        place: place || in_xmp,
    };
    (facts, can_be_shown)
}
