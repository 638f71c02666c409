//! The plane of a page, turned to face the reader: the projective map that four corners fix, and the sides' true ratio.
//!
//! The map from the unit square to four corners: P. Heckbert, "Fundamentals of Texture Mapping and Image Warping" (1989),
//! section 2.2.3. The ratio of the sides, from the corners alone, for a camera with square pixels that looks through the
//! middle of its picture: Z. Zhang and L. He, "Whiteboard scanning and image enhancement" (2007), section 3 (as
//! remembered; the tests hold it against a camera that is reckoned forwards).

use image::GrayImage;

/// From left and from top, in pixels; a pixel covers a whole one.
pub(crate) type Point = [f32; 2];

/// The longest and the shortest that the long side is laid out at: a page at 300 dots an inch is 3300 to 3508 long, and
/// recognisers want letters of 20 pixels or more, so a small picture is laid out larger.
const LONGEST: f64 = 3400.0;
const SHORTEST: f64 = 2200.0;
/// A picture that is enlarged more than this is only slower to read.
const ENLARGED: f64 = 2.5;
/// The longest side of the small copy.
const SMALL: f64 = 1000.0;
/// This much at each side of a page is left out: the shade under its edge.
const EDGE: f64 = 0.004;
/// How far a camera's picture is from its lens, in longest sides: between these any camera is; the last where it cannot be
/// reckoned (a phone's main camera: common practice, no source).
const FOCAL: std::ops::RangeInclusive<f64> = 0.4..=6.0;
const USUAL_FOCAL: f64 = 0.75;

/// Maps places on the flat page to places in the picture.
#[derive(Clone, Debug)]
pub(crate) struct Plane {
    /// Row by row; takes shares of the page's width and height.
    map: [f64; 9],
    wide: u32,
    high: u32,
    /// The page is turned by this about its middle, in radians.
    turn: f64,
}

/// The longest side of a quadrilateral.
fn spanned(corners: &[Point; 4]) -> f32 {
    let sides = sides(corners);
    sides.into_iter().fold(0.0, f32::max)
}

fn sides(corners: &[Point; 4]) -> [f32; 4] {
    std::array::from_fn(|i| {
        let [a, b] = [corners[i], corners[(i + 1) % 4]];
        (a[0] - b[0]).hypot(a[1] - b[1])
    })
}

/// Returns width and height to lay the page out at.
pub(crate) fn flat_size(corners: &[Point; 4], picture: [f32; 2]) -> [u32; 2] {
    let ratio = ratio(corners, picture);
    let longest = f64::from(spanned(corners)).max(1.0);
    let long = longest.clamp(SHORTEST.min(longest * ENLARGED), LONGEST);
    let short = |ratio: f64| (long * ratio).round().max(1.0) as u32;
    let long_side = long.round().max(1.0) as u32;
    if ratio > 1.0 {
        [long_side, short(1.0 / ratio)]
    } else {
        [short(ratio), long_side]
    }
}

/// Returns width by height of the page itself, between a twentieth and twenty.
fn ratio(corners: &[Point; 4], picture: [f32; 2]) -> f64 {
    let [top, right, bottom, left] = sides(corners).map(f64::from);
    let plain = (top + bottom) / (left + right).max(1e-6);
    let longest = f64::from(picture[0].max(picture[1])).max(1.0);
    let middle = picture.map(|side| f64::from(side) / 2.0);
    let from_middle = |p: Point| {
        [
            (f64::from(p[0]) - middle[0]) / longest,
            (f64::from(p[1]) - middle[1]) / longest,
            1.0,
        ]
    };
    let [m1, m2, m4, m3] = corners.map(from_middle);
    let k2 = dot(cross(m1, m4), m3) / dot(cross(m2, m4), m3);
    let k3 = dot(cross(m1, m4), m2) / dot(cross(m3, m4), m2);
    let along = |k: f64, m: [f64; 3]| [k * m[0] - m1[0], k * m[1] - m1[1], k * m[2] - m1[2]];
    let (n2, n3) = (along(k2, m2), along(k3, m3));
    let squared = -(n2[0] * n3[0] + n2[1] * n3[1]) / (n2[2] * n3[2]);
    let seen_well = (n2[2] * n3[2]).abs() > 1e-3;
    let focal = if seen_well && squared > 0.0 && FOCAL.contains(&squared.sqrt()) {
        squared
    } else {
        USUAL_FOCAL * USUAL_FOCAL
    };
    let length = |n: [f64; 3]| ((n[0] * n[0] + n[1] * n[1]) / focal + n[2] * n[2]).sqrt();
    let ratio = length(n2) / length(n3);
    let ratio = if ratio.is_finite() && (0.5..2.0).contains(&(ratio / plain)) {
        ratio
    } else {
        plain
    };
    if ratio.is_finite() {
        ratio.clamp(0.05, 20.0)
    } else {
        1.0
    }
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

impl Plane {
    /// The plane of a page with these corners, clockwise from the top left, laid out at a size.
    pub(crate) fn of(corners: &[Point; 4], size: [u32; 2]) -> Self {
        let [p0, p1, p2, p3] = corners.map(|p| p.map(f64::from));
        let [dx1, dy1] = [p1[0] - p2[0], p1[1] - p2[1]];
        let [dx2, dy2] = [p3[0] - p2[0], p3[1] - p2[1]];
        let [sx, sy] = [0, 1].map(|i| p0[i] - p1[i] + p2[i] - p3[i]);
        let whole = dx1 * dy2 - dx2 * dy1;
        let (g, h) = if whole.abs() < 1e-9 {
            (0.0, 0.0)
        } else {
            ((sx * dy2 - dx2 * sy) / whole, (dx1 * sy - sx * dy1) / whole)
        };
        Self {
            map: [
                p1[0] - p0[0] + g * p1[0],
                p3[0] - p0[0] + h * p3[0],
                p0[0],
                p1[1] - p0[1] + g * p1[1],
                p3[1] - p0[1] + h * p3[1],
                p0[1],
                g,
                h,
                1.0,
            ],
            wide: size[0].max(1),
            high: size[1].max(1),
            turn: 0.0,
        }
    }

    /// The same page, turned about its middle: by radians, clockwise as seen.
    pub(crate) fn turned(mut self, turn: f32) -> Self {
        self.turn = f64::from(turn);
        self
    }

    /// A small copy of the flat page.
    pub(crate) fn small(&self, picture: &GrayImage) -> GrayImage {
        let scale = (SMALL / f64::from(self.wide.max(self.high))).min(1.0);
        let side = |side: u32| (f64::from(side) * scale).round().max(1.0) as u32;
        let plane = Self {
            wide: side(self.wide),
            high: side(self.high),
            ..self.clone()
        };
        plane.sampled(picture, (1.0 / scale).round().clamp(1.0, 4.0) as u32, EDGE)
    }

    /// The flat page.
    pub(crate) fn laid_flat(&self, picture: &GrayImage, without_edge: bool) -> GrayImage {
        self.sampled(picture, 1, if without_edge { EDGE } else { 0.0 })
    }

    /// Lays the page out, each pixel the mean of `fine` by `fine` samples; `edge` is left out on each side.
    fn sampled(&self, picture: &GrayImage, fine: u32, edge: f64) -> GrayImage {
        let mut flat = GrayImage::new(self.wide, self.high);
        let (wide, high) = (f64::from(self.wide), f64::from(self.high));
        let (sine, cosine) = self.turn.sin_cos();
        let share = 1.0 / f64::from(fine * fine);
        let m = &self.map;
        for (y, row) in flat
            .as_mut()
            .chunks_exact_mut(self.wide as usize)
            .enumerate()
        {
            for (x, pixel) in row.iter_mut().enumerate() {
                let mut sum = 0.0;
                for part in 0..fine * fine {
                    let part_of = |n: u32| (f64::from(n) + 0.5) / f64::from(fine);
                    let dx = x as f64 + part_of(part % fine) - wide / 2.0;
                    let dy = y as f64 + part_of(part / fine) - high / 2.0;
                    let u = (dx * cosine - dy * sine) / wide * (1.0 - 2.0 * edge) + 0.5;
                    let v = (dx * sine + dy * cosine) / high * (1.0 - 2.0 * edge) + 0.5;
                    let w = m[6] * u + m[7] * v + m[8];
                    let from_left = (m[0] * u + m[1] * v + m[2]) / w;
                    let from_top = (m[3] * u + m[4] * v + m[5]) / w;
                    sum += between(picture, from_left as f32, from_top as f32);
                }
                *pixel = (f64::from(sum as f32) * share).round().clamp(0.0, 255.0) as u8;
            }
        }
        flat
    }
}

/// The light at a place between pixels; beyond the picture, that of its edge.
pub(crate) fn between(picture: &GrayImage, x: f32, y: f32) -> f64 {
    let (wide, high) = (picture.width() as usize, picture.height() as usize);
    let place = |at: f32, most: usize| {
        let at = (at - 0.5).clamp(0.0, (most - 1) as f32);
        let low = (at as usize).min(most - 1);
        (low, (low + 1).min(most - 1), f64::from(at - low as f32))
    };
    let (x0, x1, fx) = place(if x.is_finite() { x } else { 0.0 }, wide);
    let (y0, y1, fy) = place(if y.is_finite() { y } else { 0.0 }, high);
    let light = picture.as_raw();
    let at = |x: usize, y: usize| f64::from(light[y * wide + x]);
    let upper = at(x0, y0) + (at(x1, y0) - at(x0, y0)) * fx;
    let lower = at(x0, y1) + (at(x1, y1) - at(x0, y1)) * fx;
    upper + (lower - upper) * fy
}
