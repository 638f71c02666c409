//! The copy that is shared: the same pixels, without what was noted beside them.

use crate::kind::Kind;
use crate::look::{Picture, look};
use crate::refused::Refused;
use crate::{exif_block, jpeg, png, webp};

/// Returns the same picture for sharing: the pixels as they were coded, how they are to be turned, and their colour
/// profile. All other notes (place, time, camera, text, inner previews), and whatever follows the picture's end, are left
/// out.
pub fn without_place(bytes: &[u8]) -> Result<Vec<u8>, Refused> {
    let picture = look(bytes)?;
    let kept = match picture.kind {
        Kind::Jpeg => clean_jpeg(bytes, &picture),
        Kind::Png => clean_png(bytes, &picture),
        Kind::Webp => clean_webp(bytes, &picture),
        Kind::Heic | Kind::Avif | Kind::Heif => return Err(Refused::CannotClean(picture.kind)),
    };
    kept.ok_or_else(|| Refused::damaged(picture.kind, "it ends before its picture does"))
}

fn clean_jpeg(bytes: &[u8], picture: &Picture) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(bytes.len());
    out.extend_from_slice(b"\xff\xd8");
    let mut turned = picture.orientation == 1;
    for part in jpeg::Parts::of(bytes) {
        match part {
            jpeg::Part::Segment(marker, contents) => {
                let kept = kept_of_segment(marker, contents);
                // The JFIF segment, if there is one, must stay the first.
                if !turned && marker != jpeg::APP0 {
                    let block = exif_block::only_orientation(picture.orientation);
                    segment(&mut out, jpeg::APP1, &[b"Exif\0\0", &block[..]]);
                    turned = true;
                }
                if let Some(parts) = kept {
                    segment(&mut out, marker, &parts);
                }
            }
            jpeg::Part::Coded(coded) => out.extend_from_slice(coded),
            jpeg::Part::End => {
                out.extend_from_slice(b"\xff\xd9");
                return Some(out);
            }
        }
    }
    None
}

/// Returns what stays of a segment: what decoding needs, and the colour profile.
fn kept_of_segment(marker: u8, contents: &[u8]) -> Option<[&[u8]; 2]> {
    match marker {
        // Frames, tables, scans. 0xc8 is reserved.
        0xc0..=0xc7 | 0xc9..=0xcf | 0xda..=0xdd => Some([contents, b""]),
        // Without its own thumbnail, which may show what was cut away from the picture.
        jpeg::APP0 if contents.starts_with(b"JFIF\0") => Some([contents.get(..12)?, b"\0\0"]),
        jpeg::APP2 if contents.starts_with(b"ICC_PROFILE\0") => Some([contents, b""]),
        // How the colours are written.
        jpeg::APP14 if contents.starts_with(b"Adobe") => Some([contents.get(..12)?, b""]),
        _ => None,
    }
}

fn segment(out: &mut Vec<u8>, marker: u8, parts: &[&[u8]]) {
    let length = 2 + parts.iter().map(|part| part.len()).sum::<usize>();
    out.extend_from_slice(&[0xff, marker]);
    // What was read from a segment, less some of it, fits in one.
    out.extend_from_slice(&(length as u16).to_be_bytes());
    parts.iter().for_each(|part| out.extend_from_slice(part));
}

fn clean_png(bytes: &[u8], picture: &Picture) -> Option<Vec<u8>> {
    const KEPT: [&[u8]; 14] = [
        b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB",
        b"cICP", b"mDCV", b"cLLI", b"bKGD",
    ];
    let mut out = png::SIGNATURE.to_vec();
    let mut turned = picture.orientation == 1;
    for chunk in png::chunks(bytes) {
        if KEPT.contains(&chunk.name) {
            out.extend_from_slice(chunk.whole);
        }
        match chunk.name {
            b"IHDR" if !turned => {
                let block = exif_block::only_orientation(picture.orientation);
                png::write(&mut out, b"eXIf", &block);
                turned = true;
            }
            b"IEND" => return Some(out),
            _ => {}
        }
    }
    None
}

fn clean_webp(bytes: &[u8], picture: &Picture) -> Option<Vec<u8>> {
    const KEPT: [&[u8]; 4] = [b"ICCP", b"ALPH", b"VP8 ", b"VP8L"];
    // A file that is shorter than it says is cut off.
    webp::body(bytes)?;
    let mut out = b"RIFF\0\0\0\0WEBP".to_vec();
    let mut has_pixels = false;
    for chunk in webp::chunks(bytes) {
        if KEPT.contains(&chunk.name) {
            webp::write(&mut out, chunk.name, chunk.contents);
            has_pixels |= chunk.name.starts_with(b"VP8");
        } else if chunk.name == b"VP8X" {
            let mut head = chunk.contents.to_vec();
            *head.first_mut()? &= !(webp::HAS_EXIF | webp::HAS_XMP);
            if picture.orientation != 1 {
                *head.first_mut()? |= webp::HAS_EXIF;
            }
            webp::write(&mut out, chunk.name, &head);
        }
    }
    if picture.orientation != 1 {
        let block = exif_block::only_orientation(picture.orientation);
        webp::write(&mut out, b"EXIF", &block);
    }
    let length = u32::try_from(out.len() - 8).ok()?;
    out[4..8].copy_from_slice(&length.to_le_bytes());
    has_pixels.then_some(out)
}
