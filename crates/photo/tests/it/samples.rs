//! Pictures to test with: files that other programs wrote (see `../fixtures/make.py`), and files built byte by byte.

use std::path::Path;

/// A line of `said.txt`: what other programs say of a file.
pub struct Said {
    pub name: String,
    pub stored: (u32, u32),
    pub upright: Option<Upright>,
}

/// The picture turned upright.
pub struct Upright {
    pub size: (u32, u32),
    /// The corners' colours from the top left, clockwise.
    pub corners: [[u8; 3]; 4],
}

pub fn fixture(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures");
    std::fs::read(folder.join(name)).unwrap()
}

pub fn said() -> Vec<Said> {
    let text = String::from_utf8(fixture("said.txt")).unwrap();
    let said: Vec<Said> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(line)
        .collect();
    assert_eq!(said.len(), 20);
    said
}

fn line(line: &str) -> Said {
    let words: Vec<&str> = line.split(' ').collect();
    let upright = words.get(2).map(|shown| {
        let corners: Vec<[u8; 3]> = words[3..].iter().map(|hex| colour(hex)).collect();
        Upright {
            size: size(shown),
            corners: corners.try_into().unwrap(),
        }
    });
    Said {
        name: words[0].to_owned(),
        stored: size(words[1]),
        upright,
    }
}

fn size(text: &str) -> (u32, u32) {
    let (width, height) = text.split_once('x').unwrap();
    (width.parse().unwrap(), height.parse().unwrap())
}

fn colour(hex: &str) -> [u8; 3] {
    [0, 2, 4].map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap())
}

/// Says whether the text stands anywhere in the bytes.
pub fn holds(bytes: &[u8], text: &[u8]) -> bool {
    bytes.windows(text.len()).any(|window| window == text)
}

/// Writes a segment of a JPEG.
pub fn segment(marker: u8, contents: &[u8]) -> Vec<u8> {
    let length = u16::try_from(contents.len() + 2).unwrap().to_be_bytes();
    [&[0xff, marker], &length[..], contents].concat()
}

/// Puts segments right after the start of a JPEG.
pub fn with_segments(jpeg: &[u8], segments: &[u8]) -> Vec<u8> {
    [&jpeg[..2], segments, &jpeg[2..]].concat()
}

/// Writes a chunk of a PNG, with its checksum worked out bit by bit.
pub fn chunk(name: &[u8; 4], contents: &[u8]) -> Vec<u8> {
    let summed = [&name[..], contents].concat();
    let mut sum = u32::MAX;
    for byte in &summed {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 {
                sum >> 1 ^ 0xedb8_8320
            } else {
                sum >> 1
            };
        }
    }
    let length = (contents.len() as u32).to_be_bytes();
    [&length, &summed[..], &(!sum).to_be_bytes()].concat()
}

/// A PNG of the size that its header claims, with the pixels that are given, packed.
pub fn png(width: u32, height: u32, packed: &[u8]) -> Vec<u8> {
    let head = [
        &width.to_be_bytes()[..],
        &height.to_be_bytes(),
        &[8, 2, 0, 0, 0],
    ]
    .concat();
    [
        b"\x89PNG\r\n\x1a\n".to_vec(),
        chunk(b"IHDR", &head),
        chunk(b"IDAT", packed),
        chunk(b"IEND", b""),
    ]
    .concat()
}

/// A block of EXIF, big end first: entries of tag, type, count and the four bytes of their value.
pub fn exif(entries: &[(u16, u16, u32, [u8; 4])]) -> Vec<u8> {
    let mut block = b"MM\0\x2a\0\0\0\x08".to_vec();
    block.extend_from_slice(&(entries.len() as u16).to_be_bytes());
    for (tag, form, count, value) in entries {
        block.extend_from_slice(&tag.to_be_bytes());
        block.extend_from_slice(&form.to_be_bytes());
        block.extend_from_slice(&count.to_be_bytes());
        block.extend_from_slice(value);
    }
    block.extend_from_slice(&[0; 4]);
    block
}

/// Returns the pixels of a whole picture as image's own decoder reads them, which this crate does not use for JPEG.
pub fn pixels(bytes: &[u8]) -> image::RgbImage {
    image::load_from_memory(bytes).unwrap().into_rgb8()
}
