//! What is drawn on a page: letters and thin lines. A device that draws nothing and notes it all.

use std::panic::resume_unwind;

use hayro_interpret::font::Glyph;
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::{
    BlendMode, ClipPath, Device, GlyphDrawMode, Image, Paint, PathDrawMode, SoftMask,
};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};

use crate::limits;

/// A letter, in points from the page's top left.
#[derive(Clone, Debug)]
pub struct Letter {
    /// What it means; nothing when the file does not say.
    pub text: Option<String>,
    /// Where it begins, on its base line.
    pub from: Point,
    /// Where the next one would begin; nothing when the font does not say.
    pub to: Option<Point>,
    /// Height of its font.
    pub size: f64,
    /// Which way it runs, in degrees clockwise from a line read from left to right.
    pub angle: f64,
    /// It is there to be found, not to be seen: over a scan.
    pub hidden: bool,
}

/// All that was noted of one page.
#[derive(Debug, Default)]
pub struct Drawn {
    /// In the order that they were drawn.
    pub letters: Vec<Letter>,
    /// Thin lines: left, top, right, bottom.
    pub rules: Vec<[f32; 4]>,
    /// Steps taken, over all pages.
    pub steps: u64,
}

/// A page asked for more steps than any list has.
pub struct TooMuch;

impl Drawn {
    /// Begins a drawing after others of the file, which took so many steps.
    pub fn after(steps: u64) -> Self {
        Self {
            steps,
            ..Self::default()
        }
    }

    /// Counts, and leaves the reading of the page when it is too much: the library knows no other way to stop.
    fn step(&mut self, weight: u64) {
        self.steps += weight;
        if self.steps > limits::MAX_PDF_STEPS {
            resume_unwind(Box::new(TooMuch));
        }
    }

    fn rule(&mut self, rect: Rect) {
        let (width, height) = (rect.width(), rect.height());
        let thin = width.min(height) <= 2.6 && width.max(height) >= 3.0;
        if thin && self.rules.len() < limits::MAX_RULES && rect.is_finite() {
            let rect = [rect.x0, rect.y0, rect.x1, rect.y1];
            self.rules.push(rect.map(|at| at as f32));
        }
    }

    /// Level and upright strokes of a path are rules; so are its thin filled parts.
    fn path(&mut self, path: &BezPath, transform: Affine, stroke: Option<f64>) {
        let Some(width) = stroke else {
            let mut part = BezPath::new();
            for element in path.elements() {
                if matches!(element, PathEl::MoveTo(_)) && !part.is_empty() {
                    self.rule((transform * &part).bounding_box());
                    part = BezPath::new();
                }
                part.push(*element);
            }
            if !part.is_empty() {
                self.rule((transform * part).bounding_box());
            }
            return;
        };
        let (mut start, mut last) = (Point::ZERO, Point::ZERO);
        for element in path.elements() {
            let next = match *element {
                PathEl::MoveTo(to) => {
                    start = to;
                    last = to;
                    continue;
                }
                PathEl::LineTo(to) => to,
                PathEl::ClosePath => start,
                PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => {
                    last = to;
                    continue;
                }
            };
            let line = Rect::from_points(transform * last, transform * next);
            self.rule(line.inflate(width * 0.5, width * 0.5));
            last = next;
        }
    }
}

/// A white line is not there to be seen.
fn is_white(paint: &Paint<'_>) -> bool {
    match paint {
        Paint::Color(color) => {
            let [red, green, blue, alpha] = color.to_rgba().to_rgba8();
            alpha < 10 || red.min(green).min(blue) > 250
        }
        Paint::Pattern(_) => false,
    }
}

impl<'a> Device<'a> for Drawn {
    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}

    fn set_blend_mode(&mut self, _: BlendMode) {}

    fn draw_path(
        &mut self,
        path: &BezPath,
        transform: Affine,
        paint: &Paint<'a>,
        mode: &PathDrawMode,
    ) {
        let points = path.elements().len();
        self.step(1 + points as u64 / 4);
        if is_white(paint) {
            return;
        }
        let scale = transform.determinant().abs().sqrt();
        let stroke = match mode {
            PathDrawMode::Fill(_) => None,
            PathDrawMode::Stroke(stroke) => Some(f64::from(stroke.line_width) * scale),
        };
        self.path(path, transform, stroke);
    }

    fn push_clip_path(&mut self, _: &ClipPath) {}

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}

    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'a>,
        transform: Affine,
        in_text: Affine,
        _: &Paint<'a>,
        mode: &GlyphDrawMode,
    ) {
        self.step(1);
        if self.letters.len() >= limits::MAX_LETTERS {
            resume_unwind(Box::new(TooMuch));
        }
        let place = transform * in_text;
        let from = place * Point::ZERO;
        let advance = match glyph {
            Glyph::Outline(glyph) => glyph.advance_width(),
            Glyph::Type3(_) => None,
        };
        let along = place * Point::new(1000.0, 0.0) - from;
        let up = place * Point::new(0.0, 1000.0) - from;
        let size = up.hypot();
        // Beyond these it is nothing that anybody sees, and no number to reckon with.
        if !from.is_finite() || !(0.5..5_000.0).contains(&size) || !along.is_finite() {
            return;
        }
        let text = glyph.as_unicode().map(|text| match text {
            BfString::Char(c) => c.to_string(),
            BfString::String(text) => text,
        });
        self.letters.push(Letter {
            text,
            from,
            to: advance.map(|advance| from + along * (f64::from(advance) / 1000.0)),
            size,
            angle: along.atan2().to_degrees(),
            hidden: matches!(mode, GlyphDrawMode::Invisible),
        });
    }

    fn draw_image(&mut self, _: Image<'a, '_>, _: Affine) {}

    fn pop_clip_path(&mut self) {}

    fn pop_transparency_group(&mut self) {}
}
