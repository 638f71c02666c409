//! Small copies: upright, without notes, decoded within bounds.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::imageops::{self, FilterType};
use image::metadata::Orientation;
use image::{DynamicImage, GrayImage, ImageError, ImageFormat, ImageReader, Limits, RgbImage};
use jpeg_decoder::PixelFormat;

use crate::kind::Kind;
use crate::look::{Picture, Size, look, within_bounds};
use crate::refused::Refused;
use crate::{exif_block, heif, jpeg};

const MOST_LONGEST_SIDE: u32 = 4096;
const MOST_MEMORY: usize = 256 * 1024 * 1024;
const MOST_SCANS: usize = 64;
const MOST_PROGRESSIVE_PIXELS: u64 = 30_000_000;
const QUALITY: u8 = 80;

/// Returns a small copy as a JPEG: upright, with no notes, its longest side at most as asked. It is never larger than the
/// picture. Of a HEIF file it shows the small JPEG within, if there is one.
pub fn thumbnail(bytes: &[u8], longest_side: u32) -> Result<Vec<u8>, Refused> {
    let small = upright(bytes, longest_side)?;
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode_image(&small)
        .map_err(|error| Refused::damaged(Kind::Jpeg, error.to_string()))?;
    Ok(out)
}

/// Returns the pixels of a small copy, upright, its longest side at most as asked.
pub fn upright(bytes: &[u8], longest_side: u32) -> Result<RgbImage, Refused> {
    let picture = look(bytes)?;
    let longest_side = longest_side.clamp(1, MOST_LONGEST_SIDE);
    let (small, orientation) = match picture.kind {
        Kind::Jpeg => (
            from_jpeg(bytes, picture.stored, longest_side)?,
            picture.orientation,
        ),
        Kind::Png => (
            from_other(bytes, &picture, ImageFormat::Png, longest_side)?,
            picture.orientation,
        ),
        Kind::Webp => (
            from_other(bytes, &picture, ImageFormat::WebP, longest_side)?,
            picture.orientation,
        ),
        Kind::Heic | Kind::Avif | Kind::Heif => from_heif(bytes, picture.kind, longest_side)?,
    };
    let mut small = DynamicImage::from(small);
    if let Some(turn) = Orientation::from_exif(orientation) {
        small.apply_orientation(turn);
    }
    Ok(small.into_rgb8())
}

/// Returns the size of a small copy of the same shape, at least one pixel each way.
fn fitted(size: Size, longest_side: u32) -> Size {
    let longest = u64::from(size.width.max(size.height));
    let asked = u64::from(longest_side);
    if longest <= asked {
        return size;
    }
    // Rounded; no more than the side asked for, so it fits.
    let scaled = |side: u32| ((u64::from(side) * asked + longest / 2) / longest).max(1) as u32;
    Size {
        width: scaled(size.width),
        height: scaled(size.height),
    }
}

/// Decodes a JPEG at an eighth, a quarter or a half where that is enough: most of the time goes into pixels that a small
/// copy does not have.
fn from_jpeg(bytes: &[u8], stored: Size, longest_side: u32) -> Result<RgbImage, Refused> {
    let damaged = |error: jpeg_decoder::Error| Refused::damaged(Kind::Jpeg, error.to_string());
    can_be_decoded(bytes, stored)?;
    let fitted = fitted(stored, longest_side);
    let mut decoder = jpeg_decoder::Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(MOST_MEMORY);
    // Both are at most 4096.
    decoder
        .scale(fitted.width as u16, fitted.height as u16)
        .map_err(damaged)?;
    let pixels = decoder.decode().map_err(damaged)?;
    let info = decoder
        .info()
        .ok_or_else(|| Refused::damaged(Kind::Jpeg, "it has no picture"))?;
    let (width, height) = (u32::from(info.width), u32::from(info.height));
    let decoded = match info.pixel_format {
        PixelFormat::RGB24 => RgbImage::from_raw(width, height, pixels),
        PixelFormat::L8 => GrayImage::from_raw(width, height, pixels)
            .map(|grey| DynamicImage::from(grey).into_rgb8()),
        PixelFormat::L16 | PixelFormat::CMYK32 => {
            return Err(Refused::NotShown {
                kind: Kind::Jpeg,
                why: "its colours are written for printing or measuring, not for a screen",
            });
        }
    };
    let decoded =
        decoded.ok_or_else(|| Refused::damaged(Kind::Jpeg, "it has fewer pixels than it says"))?;
    Ok(shrunk(DynamicImage::from(decoded), fitted))
}

/// Passes a JPEG that is whole and whose decoding costs no more than its size warrants.
fn can_be_decoded(bytes: &[u8], stored: Size) -> Result<(), Refused> {
    let not_shown = |why| Refused::NotShown {
        kind: Kind::Jpeg,
        why,
    };
    let (mut scans, mut coded_bytes, mut ended) = (0, 0, false);
    for part in jpeg::Parts::of(bytes) {
        match part {
            jpeg::Part::Coded(coded) => {
                scans += 1;
                coded_bytes += coded.len() as u64;
            }
            jpeg::Part::End => ended = true,
            jpeg::Part::Segment(..) => {}
        }
    }
    let pixels = u64::from(stored.width) * u64::from(stored.height);
    let progressive = jpeg::headers(bytes).progressive;
    // A block of 8 by 8 pixels takes two bits at least, but for a progressive picture, where one code may end many.
    let too_short = !progressive && coded_bytes < pixels / 256;
    if !ended || too_short {
        return Err(Refused::damaged(
            Kind::Jpeg,
            "it ends before its picture does",
        ));
    }
    if scans > MOST_SCANS {
        return Err(not_shown(
            "it is written in more passes than any camera makes",
        ));
    }
    if progressive && pixels > MOST_PROGRESSIVE_PIXELS {
        return Err(not_shown(
            "it is progressive and has more than 30 million pixels",
        ));
    }
    Ok(())
}

fn from_other(
    bytes: &[u8],
    picture: &Picture,
    format: ImageFormat,
    longest_side: u32,
) -> Result<RgbImage, Refused> {
    let mut limits = Limits::default();
    limits.max_image_width = Some(picture.stored.width);
    limits.max_image_height = Some(picture.stored.height);
    limits.max_alloc = Some(MOST_MEMORY as u64);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    let decoded = reader.decode().map_err(|error| match error {
        ImageError::Limits(_) => Refused::NotShown {
            kind: picture.kind,
            why: "to decode it takes more memory than one picture is given",
        },
        error => Refused::damaged(picture.kind, error.to_string()),
    })?;
    let size = Size {
        width: decoded.width(),
        height: decoded.height(),
    };
    within_bounds(size)?;
    Ok(shrunk(decoded, fitted(size, longest_side)))
}

fn from_heif(bytes: &[u8], kind: Kind, longest_side: u32) -> Result<(RgbImage, u8), Refused> {
    let (exif, _) = heif::notes(bytes).map_err(|_| Refused::CannotShow(kind))?;
    let small = heif::preview(&exif).ok_or(Refused::CannotShow(kind))?;
    let size = jpeg::headers(small).size.ok_or(Refused::CannotShow(kind))?;
    let orientation = exif_block::orientation(&exif).unwrap_or(1);
    Ok((from_jpeg(small, size, longest_side)?, orientation))
}

/// Shrinks to the size; what is far too large first by plain averages, which are quick.
fn shrunk(image: DynamicImage, size: Size) -> RgbImage {
    let Size { width, height } = size;
    let far = image.width() / 2 >= width && image.height() / 2 >= height;
    let small = if far {
        image.thumbnail_exact(width, height)
    } else if (image.width(), image.height()) != (width, height) {
        image.resize_exact(width, height, FilterType::Triangle)
    } else {
        image
    };
    if small.color().has_alpha() {
        on_white(small)
    } else {
        small.into_rgb8()
    }
}

/// Pages are white, so what is see-through is white.
fn on_white(image: DynamicImage) -> RgbImage {
    let mut ground = DynamicImage::from(RgbImage::from_pixel(
        image.width(),
        image.height(),
        image::Rgb([255; 3]),
    ))
    .into_rgba8();
    imageops::overlay(&mut ground, &image.into_rgba8(), 0, 0);
    DynamicImage::from(ground).into_rgb8()
}
