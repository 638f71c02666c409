//! The parts of a JPEG file (ITU-T T.81 annex B), read without decoding.

use memchr::memchr;

use crate::look::Size;

pub(crate) const APP0: u8 = 0xe0;
pub(crate) const APP1: u8 = 0xe1;
pub(crate) const APP2: u8 = 0xe2;
const APP13: u8 = 0xed;
pub(crate) const APP14: u8 = 0xee;
pub(crate) const START_OF_SCAN: u8 = 0xda;
const END_OF_IMAGE: u8 = 0xd9;

/// A part of a JPEG file.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Part<'a> {
    /// A marker and what follows it, without its length.
    Segment(u8, &'a [u8]),
    /// The coded pixels of a scan, with restart markers.
    Coded(&'a [u8]),
    /// The end. A file that stops before it has none.
    End,
}

/// The parts of a JPEG file, up to and with its end; what stands after that is not read.
#[derive(Debug, Clone)]
pub(crate) struct Parts<'a> {
    rest: &'a [u8],
    in_scan: bool,
    ended: bool,
}

impl<'a> Parts<'a> {
    /// Starts after the start-of-image marker.
    pub(crate) fn of(bytes: &'a [u8]) -> Self {
        Self {
            rest: bytes.get(2..).unwrap_or_default(),
            in_scan: false,
            ended: false,
        }
    }

    fn coded(&mut self) -> Part<'a> {
        let mut end = 0;
        // A byte 0xff within coded pixels is followed by 0; restart markers belong to the pixels.
        while let Some(found) = self.rest.get(end..).and_then(|rest| memchr(0xff, rest)) {
            end += found;
            match self.rest.get(end + 1) {
                Some(0 | 0xd0..=0xd7) => end += 2,
                Some(0xff) => end += 1,
                Some(_) => return self.split(end),
                None => break,
            }
        }
        self.split(self.rest.len())
    }

    fn split(&mut self, at: usize) -> Part<'a> {
        let (coded, rest) = self.rest.split_at(at);
        (self.rest, self.in_scan) = (rest, false);
        Part::Coded(coded)
    }

    fn segment(&mut self) -> Option<Part<'a>> {
        loop {
            // Decoders pass over stray bytes between segments, so this does too.
            self.rest = &self.rest[memchr(0xff, self.rest)?..];
            let marker = *self.rest.get(1)?;
            match marker {
                0xff => self.rest = &self.rest[1..],
                // Markers that stand alone and mean nothing here.
                0 | 1 | 0xd0..=0xd8 => self.rest = &self.rest[2..],
                END_OF_IMAGE => {
                    self.ended = true;
                    return Some(Part::End);
                }
                _ => {
                    let length = self.rest.get(2..4)?;
                    let end = 2 + usize::from(u16::from_be_bytes([length[0], length[1]]));
                    let contents = self.rest.get(4..end)?;
                    self.rest = &self.rest[end..];
                    self.in_scan = marker == START_OF_SCAN;
                    return Some(Part::Segment(marker, contents));
                }
            }
        }
    }
}

impl<'a> Iterator for Parts<'a> {
    type Item = Part<'a>;

    fn next(&mut self) -> Option<Part<'a>> {
        if self.ended {
            None
        } else if self.in_scan {
            Some(self.coded())
        } else {
            self.segment()
        }
    }
}

/// Whether the marker begins a frame; what follows it has the picture's size.
fn is_frame(marker: u8) -> bool {
    matches!(marker, 0xc0..=0xcf if ![0xc4, 0xc8, 0xcc].contains(&marker))
}

/// What the headers of a JPEG say, up to its first scan.
#[derive(Debug, Default)]
pub(crate) struct Headers<'a> {
    pub(crate) size: Option<Size>,
    pub(crate) progressive: bool,
    pub(crate) exif: Vec<&'a [u8]>,
    pub(crate) xmp: Vec<&'a [u8]>,
    /// A block of captions as newspapers write them, which may name a town. It is not read.
    pub(crate) captions: bool,
}

/// Reads the headers.
pub(crate) fn headers(bytes: &[u8]) -> Headers<'_> {
    let mut headers = Headers::default();
    for part in Parts::of(bytes) {
        let Part::Segment(marker, contents) = part else {
            break;
        };
        match marker {
            START_OF_SCAN => break,
            APP1 => match contents.strip_prefix(b"Exif\0\0") {
                Some(exif) => headers.exif.push(exif),
                None => headers.xmp.push(contents),
            },
            APP13 => headers.captions = true,
            _ if is_frame(marker) && headers.size.is_none() => {
                headers.progressive = marker == 0xc2;
                headers.size = frame_size(contents);
            }
            _ => {}
        }
    }
    headers
}

fn frame_size(contents: &[u8]) -> Option<Size> {
    let [height, width] = [1, 3].map(|at| {
        let number = contents.get(at..at + 2)?;
        Some(u32::from(u16::from_be_bytes([number[0], number[1]])))
    });
    // A height of nothing is told after the first scan, which no camera does.
    let size = Size {
        width: width?,
        height: height?,
    };
    (size.width > 0 && size.height > 0).then_some(size)
}
