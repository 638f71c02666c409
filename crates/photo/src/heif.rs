//! HEIF files (ISO/IEC 23008-12): named, measured, never decoded.

use std::io::Cursor;

use memchr::memmem;

use crate::kind::{Kind, recognise};
use crate::look::{Size, within_bounds};
use crate::{exif_block, jpeg};

/// Brands beyond this many are not read; files carry about five.
const MOST_BRANDS: usize = 32;

/// Returns the kind that the brands of the first box name, if they name a picture. They are given by ISO/IEC 23008-12
/// (`heic`, `heix`, `heim`, `heis`, `mif1`, `msf1` and their sequences) and the AV1 image format (`avif`, `avis`).
pub(crate) fn kind(bytes: &[u8]) -> Option<Kind> {
    let size = u32::from_be_bytes(bytes.first_chunk().copied()?) as usize;
    let first = bytes.get(..size.min(bytes.len()))?;
    let (major, compatible) = (first.get(8..12)?, first.get(16..)?);
    let brands = || std::iter::once(major).chain(compatible.chunks_exact(4).take(MOST_BRANDS));
    let any = |names: &[&[u8]]| brands().any(|brand| names.contains(&brand));
    if any(&[b"avif", b"avis"]) {
        Some(Kind::Avif)
    } else if any(&[
        b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs",
    ]) {
        Some(Kind::Heic)
    } else if any(&[b"mif1", b"mif2", b"msf1"]) {
        Some(Kind::Heif)
    } else {
        None
    }
}

/// Returns the size as shown: a HEIF file turns its picture by a property of its own (`irot`), not by EXIF.
pub(crate) fn size(bytes: &[u8]) -> Option<Size> {
    let size = imagesize::reader_size(Cursor::new(bytes)).ok()?;
    let width = u32::try_from(size.width).ok()?;
    let height = u32::try_from(size.height).ok()?;
    (width > 0 && height > 0).then_some(Size { width, height })
}

/// Returns the small JPEG within, if the camera put one beside its notes and it is a JPEG of a size that is taken.
pub(crate) fn preview(exif: &exif::Exif) -> Option<&[u8]> {
    let small = exif_block::preview(exif)?;
    let size = jpeg::headers(small).size?;
    let is_taken = recognise(small) == Ok(Kind::Jpeg) && within_bounds(size).is_ok();
    is_taken.then_some(small)
}

/// Returns the notes of a file, and whether some of them could not be read; an error if none could.
pub(crate) fn notes(bytes: &[u8]) -> Result<(exif::Exif, bool), exif::Error> {
    let error = match exif::Reader::new().read_from_container(&mut Cursor::new(bytes)) {
        Ok(exif) => return Ok((exif, false)),
        Err(error) => error,
    };
    // The reader of the container stops at the first fault. A block that is not quite as it should be is found by how it
    // begins, and read as far as it can be.
    [b"Exif\0\0II*\0", b"Exif\0\0MM\0*"]
        .iter()
        .find_map(|start| memmem::find(bytes, *start))
        .and_then(|at| exif_block::parse(&bytes[at + 6..]))
        .ok_or(error)
}
