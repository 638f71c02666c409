//! The chunks of a WebP file (RFC 9649), read without decoding.

use crate::look::Size;

/// The flags of the first chunk of an extended file.
pub(crate) const HAS_EXIF: u8 = 0x08;
pub(crate) const HAS_XMP: u8 = 0x04;
const MOVES: u8 = 0x02;

/// A chunk.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chunk<'a> {
    pub(crate) name: &'a [u8],
    pub(crate) contents: &'a [u8],
}

/// Returns the chunks' bytes, as long as the file says it is; nothing if it is not that long.
pub(crate) fn body(bytes: &[u8]) -> Option<&[u8]> {
    let length = u32::from_le_bytes(bytes.get(4..)?.first_chunk().copied()?) as usize;
    bytes.get(12..length.checked_add(8)?)
}

/// The chunks. A file that is shorter than it says has those that are whole.
pub(crate) fn chunks(bytes: &[u8]) -> impl Iterator<Item = Chunk<'_>> {
    let mut rest = body(bytes).or(bytes.get(12..)).unwrap_or_default();
    std::iter::from_fn(move || {
        let length = u32::from_le_bytes(rest.get(4..)?.first_chunk().copied()?) as usize;
        let chunk = Chunk {
            name: &rest[..4],
            contents: rest.get(8..length.checked_add(8)?)?,
        };
        rest = rest.get(8 + length + length % 2..).unwrap_or_default();
        Some(chunk)
    })
}

/// Whether it is an animation.
pub(crate) fn moves(bytes: &[u8]) -> bool {
    chunks(bytes).any(|chunk| match chunk.name {
        b"VP8X" => chunk
            .contents
            .first()
            .is_some_and(|flags| flags & MOVES != 0),
        name => name == b"ANIM" || name == b"ANMF",
    })
}

/// Returns the size, which the first chunk has.
pub(crate) fn size(bytes: &[u8]) -> Option<Size> {
    let head = chunks(bytes).next()?;
    let byte = |at: usize| head.contents.get(at).copied().map(u32::from);
    let (width, height) = match head.name {
        b"VP8X" => {
            let number = |at| Some(byte(at)? | byte(at + 1)? << 8 | byte(at + 2)? << 16);
            (number(4)? + 1, number(7)? + 1)
        }
        b"VP8L" => {
            let bits = u32::from_le_bytes(head.contents.get(1..)?.first_chunk().copied()?);
            ((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1)
        }
        b"VP8 " => {
            let number = |at| Some((byte(at)? | byte(at + 1)? << 8) & 0x3fff);
            (number(6)?, number(8)?)
        }
        _ => return None,
    };
    (width > 0 && height > 0).then_some(Size { width, height })
}

/// Writes a chunk, made even.
pub(crate) fn write(out: &mut Vec<u8>, name: &[u8], contents: &[u8]) {
    out.extend_from_slice(name);
    out.extend_from_slice(&(contents.len() as u32).to_le_bytes());
    out.extend_from_slice(contents);
    if contents.len() % 2 == 1 {
        out.push(0);
    }
}
