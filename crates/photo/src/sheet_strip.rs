//! A strip of a kept page, to be shown beside the words that were read there.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::crop_imm;
use image::{DynamicImage, GrayImage};

use crate::kind::Kind;
use crate::refused::Refused;
use crate::thumbnail::upright;

/// As large as pages are laid out; a larger picture is no page of ours.
const LONGEST: u32 = 4096;
const QUALITY: u8 = 82;

/// Writes a page down as a JPEG, to be kept.
pub fn jpeg_of(page: &GrayImage) -> Result<Vec<u8>, Refused> {
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode_image(page)
        .map_err(|error| Refused::damaged(Kind::Jpeg, error.to_string()))?;
    Ok(out)
}

/// Returns one strip of a kept page as a JPEG: `place` is left, top, right and bottom in pixels, `margin` is what is shown
/// round it. What lies outside of the page is left out; nothing is drawn on it.
pub fn strip(page: &[u8], place: [u32; 4], margin: u32) -> Result<Vec<u8>, Refused> {
    let page = DynamicImage::from(upright(page, LONGEST)?).into_luma8();
    let (wide, high) = page.dimensions();
    let [left, top, right, bottom] = place;
    let left = left.saturating_sub(margin).min(wide - 1);
    let top = top.saturating_sub(margin).min(high - 1);
    let right = right.saturating_add(margin).clamp(left + 1, wide);
    let bottom = bottom.saturating_add(margin).clamp(top + 1, high);
    jpeg_of(&crop_imm(&page, left, top, right - left, bottom - top).to_image())
}
