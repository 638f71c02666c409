//! Pages that are pictures, drawn in grey so that a recogniser can read them: of what stands on them the pictures alone.

use std::panic::resume_unwind;

use hayro_interpret::font::Glyph;
use hayro_interpret::{
    BlendMode, ClipPath, Device, GlyphDrawMode, Image, ImageData, LumaData, Paint, PathDrawMode,
    SoftMask,
};
use kurbo::{Affine, BezPath, Point, Rect};

use super::glyphs::TooMuch;
use crate::limits;

/// Dots an inch that a page is drawn at; recognisers want this (tesseract's documentation, "Improving the quality of the
/// output": at least 300).
const DOTS: f64 = 300.0;
/// The longest side of a drawn page, in pixels: A4 at 300 dots an inch, and little more than is read.
const LONGEST: f64 = 3508.0;
/// The most samples of a picture along each way that are laid into one pixel.
const FINE: f64 = 3.0;
/// Pixels that count as one step of [`limits::MAX_PDF_STEPS`]: all pages may ask for 3 000 million.
const PIXELS_A_STEP: f64 = 1024.0;

/// A page drawn as a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    /// Row by row from the top left, from 0, black, to 255, white.
    pub light: Vec<u8>,
}

impl Picture {
    /// Returns a white page of this size in points, and how many pixels a point has.
    pub(super) fn white([width, height]: [f64; 2]) -> (Self, f64) {
        let scale = (DOTS / 72.0).min(LONGEST / width.max(height).max(1.0));
        let side = |side: f64| ((side * scale).round() as u32).max(1);
        let (width, height) = (side(width), side(height));
        let white = Self {
            width,
            height,
            light: vec![255; width as usize * height as usize],
        };
        (white, scale)
    }
}

/// Draws pictures, and nothing else.
pub(super) struct Painted {
    pub(super) page: Picture,
    /// Steps taken, over all pages.
    pub(super) steps: u64,
}

impl Painted {
    /// Counts pixels before they are unpacked or gone through.
    fn pixels(&mut self, count: f64) {
        let steps = 1 + (count / PIXELS_A_STEP) as u64;
        self.steps = self.steps.saturating_add(steps);
        if self.steps > limits::MAX_PDF_STEPS {
            resume_unwind(Box::new(TooMuch));
        }
    }

    /// Lays a picture of so many pixels on the page. `at` says how dark it is at a place on it, from 0 to 1 across and
    /// down, and how much it covers.
    fn lay(&mut self, size: [u32; 2], transform: Affine, at: impl Fn(f64, f64) -> (f64, f64)) {
        let size = size.map(f64::from);
        let place = transform.transform_rect_bbox(Rect::new(0.0, 0.0, size[0], size[1]));
        if !place.is_finite() || transform.determinant().abs() < 1e-9 {
            return;
        }
        let side = |at: f64, most: u32| at.clamp(0.0, f64::from(most)) as usize;
        let (wide, high) = (self.page.width, self.page.height);
        let (left, right) = (side(place.x0.floor(), wide), side(place.x1.ceil(), wide));
        let (top, bottom) = (side(place.y0.floor(), high), side(place.y1.ceil(), high));
        // As many samples a pixel as the picture is finer than the page.
        let fine = (1.0 / transform.determinant().abs().sqrt() - 0.05).ceil();
        let fine = fine.clamp(1.0, FINE);
        self.pixels((right - left) as f64 * (bottom - top) as f64 * fine * fine);
        let back = transform.inverse();
        for y in top..bottom {
            for x in left..right {
                let light = &mut self.page.light[y * wide as usize + x];
                let (mut sum, under) = (0.0, f64::from(*light));
                for part in 0..(fine * fine) as u32 {
                    let within = |n: u32| (f64::from(n) + 0.5) / fine;
                    let [dx, dy] = [part % fine as u32, part / fine as u32].map(within);
                    let from = back * Point::new(x as f64 + dx, y as f64 + dy);
                    let [across, down] = [from.x / size[0], from.y / size[1]];
                    let on_it = (0.0..1.0).contains(&across) && (0.0..1.0).contains(&down);
                    sum += if on_it {
                        let (own, covers) = at(across, down);
                        own * covers + under * (1.0 - covers)
                    } else {
                        under
                    };
                }
                *light = (sum / (fine * fine)).round().clamp(0.0, 255.0) as u8;
            }
        }
    }
}

/// The value at a share of the way across and down.
fn within(values: &LumaData, across: f64, down: f64) -> f64 {
    let at = index(values.width, values.height, across, down);
    values.data.get(at).copied().map_or(0.0, f64::from)
}

fn index(width: u32, height: u32, across: f64, down: f64) -> usize {
    let place =
        |share: f64, most: u32| ((share * f64::from(most)) as usize).min(most.max(1) as usize - 1);
    place(down, height) * width as usize + place(across, width)
}

/// How light a colour looks (ITU-R BT.601).
fn light([red, green, blue]: [u8; 3]) -> f64 {
    0.299 * f64::from(red) + 0.587 * f64::from(green) + 0.114 * f64::from(blue)
}

impl<'a> Device<'a> for Painted {
    fn draw_image(&mut self, image: Image<'a, '_>, transform: Affine) {
        let size = [image.width(), image.height()];
        let count = f64::from(size[0]) * f64::from(size[1]);
        if count > limits::MAX_PDF_PICTURE as f64 {
            resume_unwind(Box::new(TooMuch));
        }
        self.pixels(count);
        match image {
            Image::Stencil(stencil) => stencil.with_stencil(
                |mask, paint| {
                    let ink = match paint {
                        Paint::Color(colour) => {
                            let [red, green, blue, _] = colour.to_rgba().to_rgba8();
                            light([red, green, blue])
                        }
                        Paint::Pattern(_) => 0.0,
                    };
                    self.lay(size, transform, |across, down| {
                        (ink, within(&mask, across, down) / 255.0)
                    });
                },
                None,
            ),
            Image::Raster(raster) => raster.with_rgba(
                |data, mask| {
                    self.lay(size, transform, |across, down| {
                        let own = match &data {
                            ImageData::Luma(data) => within(data, across, down),
                            ImageData::Rgb(data) => {
                                let at = 3 * index(data.width, data.height, across, down);
                                let of = |n: usize| data.data.get(at + n).copied().unwrap_or(255);
                                light([of(0), of(1), of(2)])
                            }
                        };
                        let covers = mask.as_ref();
                        (
                            own,
                            covers.map_or(1.0, |mask| within(mask, across, down) / 255.0),
                        )
                    });
                },
                None,
            ),
        }
    }

    fn draw_path(&mut self, _: &BezPath, _: Affine, _: &Paint<'a>, _: &PathDrawMode) {}

    fn draw_glyph(
        &mut self,
        _: &Glyph<'a>,
        _: Affine,
        _: Affine,
        _: &Paint<'a>,
        _: &GlyphDrawMode,
    ) {
    }

    fn push_clip_path(&mut self, _: &ClipPath) {}

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}

    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}

    fn set_blend_mode(&mut self, _: BlendMode) {}

    fn pop_clip_path(&mut self) {}

    fn pop_transparency_group(&mut self) {}
}
