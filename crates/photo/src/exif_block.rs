//! What a block of EXIF says (CIPA DC-008), with doubt on the side of care.

use exif::{DateTime, Exif, In, Reader, Tag, Value};
use image::metadata::Orientation;
use memchr::memmem;

/// What lies beyond this is not read. In a JPEG it cannot be longer than 64 KiB.
const MOST_BYTES: usize = 128 * 1024;

const MOST_POINTERS: usize = 64;

/// What a block says.
#[derive(Debug, Default)]
pub(crate) struct Facts {
    /// One to eight.
    pub(crate) orientation: Option<u8>,
    pub(crate) taken: Option<String>,
    /// Whether it says, or may say, where the picture was taken.
    pub(crate) place: bool,
}

/// Reads a block. Many programs and some phones write it not quite as they should, so what can be read of it is.
pub(crate) fn read(block: &[u8]) -> Facts {
    match parse(block) {
        Some((exif, doubt)) => Facts {
            orientation: orientation(&exif),
            taken: taken(&exif),
            place: place(&exif) || doubt && points_to_place(block),
        },
        // How the picture is turned is looked for all the same: a damaged note should not lay a picture on its side.
        None => Facts {
            orientation: Orientation::from_exif_chunk(block).map(Orientation::to_exif),
            taken: None,
            place: true,
        },
    }
}

/// Returns the small JPEG that cameras put into the block.
pub(crate) fn preview(exif: &Exif) -> Option<&[u8]> {
    let number = |tag| Some(exif.get_field(tag, In::THUMBNAIL)?.value.get_uint(0)? as usize);
    let start = number(Tag::JPEGInterchangeFormat)?;
    let length = number(Tag::JPEGInterchangeFormatLength)?;
    exif.buf().get(start..start.checked_add(length)?)
}

/// Parses a block; returns whether some of it could not be read, too.
pub(crate) fn parse(block: &[u8]) -> Option<(Exif, bool)> {
    let block = &block[..block.len().min(MOST_BYTES)];
    if pointers(block) > MOST_POINTERS {
        return None;
    }
    let mut doubt = false;
    let exif = Reader::new()
        .continue_on_error(true)
        .read_raw(block.to_vec())
        .or_else(|error| error.distill_partial_result(|_| doubt = true))
        .ok()?;
    Some((exif, doubt))
}

/// Counts what may be an entry that points at a further block. The reader unpacks each of these at once, and would take
/// seconds over thousands of them that each span the whole block. Cameras write three; chance adds a few.
fn pointers(block: &[u8]) -> usize {
    [
        Tag::ExifIFDPointer,
        Tag::GPSInfoIFDPointer,
        Tag::InteropIFDPointer,
    ]
    .map(|tag| times_written(block, tag))
    .iter()
    .sum()
}

fn points_to_place(block: &[u8]) -> bool {
    times_written(block, Tag::GPSInfoIFDPointer) > 0
}

fn times_written(block: &[u8], tag: Tag) -> usize {
    let number = tag.number();
    [number.to_be_bytes(), number.to_le_bytes()]
        .iter()
        .map(|bytes| memmem::find_iter(block, bytes).count())
        .sum()
}

pub(crate) fn orientation(exif: &Exif) -> Option<u8> {
    let turned = exif
        .get_field(Tag::Orientation, In::PRIMARY)?
        .value
        .get_uint(0)?;
    u8::try_from(turned)
        .ok()
        .filter(|turned| (1..=8).contains(turned))
}

/// Whether the block tells a place. Its fields are asked for one by one: to go through all of them would unpack each.
pub(crate) fn place(exif: &Exif) -> bool {
    [
        Tag::GPSLatitude,
        Tag::GPSLongitude,
        Tag::GPSAltitude,
        Tag::GPSDestLatitude,
        Tag::GPSDestLongitude,
        Tag::GPSProcessingMethod,
        Tag::GPSAreaInformation,
    ]
    .iter()
    .any(|&tag| exif.get_field(tag, In::PRIMARY).is_some())
}

/// Returns when the shutter opened, as ISO 8601 text, with the offset from UTC if the camera noted it.
pub(crate) fn taken(exif: &Exif) -> Option<String> {
    let time = DateTime::from_ascii(text(exif, Tag::DateTimeOriginal)?).ok()?;
    let is_a_time = time.year > 0
        && (1..=12).contains(&time.month)
        && (1..=31).contains(&time.day)
        && time.hour < 24
        && time.minute < 60
        && time.second <= 60;
    if !is_a_time {
        return None;
    }
    let offset = text(exif, Tag::OffsetTimeOriginal).and_then(offset);
    Some(format!(
        "{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}",
        time.year,
        time.month,
        time.day,
        time.hour,
        time.minute,
        time.second,
        offset.unwrap_or_default()
    ))
}

/// Passes an offset such as `-05:00`.
fn offset(text: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(text).ok()?.trim_end();
    let (hours, minutes) = text.strip_prefix(['+', '-'])?.split_once(':')?;
    let number = |digits: &str, most: u8| {
        digits.len() == 2 && digits.parse::<u8>().is_ok_and(|number| number <= most)
    };
    (number(hours, 14) && number(minutes, 59)).then_some(text)
}

fn text(exif: &Exif, tag: Tag) -> Option<&[u8]> {
    match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(lines) => lines.first().map(Vec::as_slice),
        _ => None,
    }
}

/// Returns the least block that says how a picture is turned: one entry, big end first.
pub(crate) fn only_orientation(turned: u8) -> [u8; 26] {
    let mut block = *b"MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0";
    block[19] = turned;
    block
}

/// Whether text, such as a packet of XMP, tells a place in degrees.
pub(crate) fn xmp_tells_place(packet: &[u8]) -> bool {
    memmem::find(packet, b"GPSLatitude").is_some()
}
