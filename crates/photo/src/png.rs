//! The chunks of a PNG file (W3C Portable Network Graphics, third edition), read without decoding.

use crate::look::Size;

pub(crate) const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// A chunk.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chunk<'a> {
    pub(crate) name: &'a [u8],
    pub(crate) contents: &'a [u8],
    /// The whole chunk, with its length and checksum.
    pub(crate) whole: &'a [u8],
}

/// The chunks, up to and with the last; what stands after it is not read. A file that stops early has no `IEND`.
pub(crate) fn chunks(bytes: &[u8]) -> impl Iterator<Item = Chunk<'_>> {
    let mut rest = bytes.get(SIGNATURE.len()..).unwrap_or_default();
    std::iter::from_fn(move || {
        let length = u32::from_be_bytes(rest.first_chunk().copied()?) as usize;
        let whole = rest.get(..length.checked_add(12)?)?;
        let chunk = Chunk {
            name: &whole[4..8],
            contents: &whole[8..8 + length],
            whole,
        };
        rest = match chunk.name {
            b"IEND" => &[],
            _ => &rest[whole.len()..],
        };
        Some(chunk)
    })
}

/// Returns the size, which the first chunk has.
pub(crate) fn size(bytes: &[u8]) -> Option<Size> {
    let head = chunks(bytes).next().filter(|chunk| chunk.name == b"IHDR")?;
    let width = u32::from_be_bytes(head.contents.first_chunk().copied()?);
    let height = u32::from_be_bytes(head.contents.get(4..)?.first_chunk().copied()?);
    (width > 0 && height > 0).then_some(Size { width, height })
}

/// Writes a chunk with its checksum.
pub(crate) fn write(out: &mut Vec<u8>, name: &[u8; 4], contents: &[u8]) {
    let mut sum = crc32fast::Hasher::new();
    sum.update(name);
    sum.update(contents);
    out.extend_from_slice(&(contents.len() as u32).to_be_bytes());
    out.extend_from_slice(name);
    out.extend_from_slice(contents);
    out.extend_from_slice(&sum.finalize().to_be_bytes());
}
