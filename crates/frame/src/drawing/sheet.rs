//! A drawing in one plane: its line types, its letters, its title.
//!
//! A drawing unit is a sixth of a millimetre on paper, where a sheet of some 1000 units fills an A4 page upright; on a
//! phone 360 pixels wide its figures are still ten pixels high.

use std::fmt::Write as _;

use super::svg::{Extent, INK, PathText, Spot, TYPEFACE, escape, figure, text_width, wrapped};
use crate::graph::Frame;

/// Drawing units a millimetre of paper.
pub(super) const MM: f64 = 6.0;
/// Room around a drawing.
const MARGIN: f64 = 3.0 * MM;

/// Line types after ISO 128-2, as far as they are used here; wide is 0.5 mm, narrow 0.25 mm.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum LineType {
    /// The ground: extra wide.
    Ground,
    /// Continuous wide: what is seen.
    Wide,
    /// Continuous narrow: dimensions, leaders, hatching.
    Narrow,
    /// Dashed narrow: what is hidden.
    Hidden,
    /// Long-dashed dotted narrow: centre lines.
    Centre,
}

impl LineType {
    const ALL: [LineType; 5] = [
        LineType::Centre,
        LineType::Hidden,
        LineType::Narrow,
        LineType::Wide,
        LineType::Ground,
    ];

    pub(super) fn width(self) -> f64 {
        match self {
            LineType::Ground => 6.0,
            LineType::Wide => 3.0,
            LineType::Narrow | LineType::Hidden | LineType::Centre => 1.5,
        }
    }

    fn class(self) -> &'static str {
        match self {
            LineType::Ground => "ground",
            LineType::Wide => "edges",
            LineType::Narrow => "narrow",
            LineType::Hidden => "hidden",
            LineType::Centre => "centre",
        }
    }

    /// Dashes of 12, gaps of 3 and long dashes of 24 line widths; the dot is as long as wide, so that a screen shows it.
    pub(super) fn dashes(self) -> &'static str {
        match self {
            LineType::Hidden => " stroke-dasharray=\"18 4.5\"",
            LineType::Centre => " stroke-dasharray=\"36 4.5 1.5 4.5\"",
            // Pieces that go on from each other leave no notch between them.
            LineType::Wide => " stroke-linecap=\"round\"",
            LineType::Ground | LineType::Narrow => "",
        }
    }
}

/// Heights of capitals of the ISO 3098 series, in millimetres of paper.
#[derive(Clone, Copy)]
pub(super) enum Letters {
    /// 2.5 mm.
    Small,
    /// 3.5 mm.
    Figures,
    /// 5 mm.
    Title,
}

impl Letters {
    /// Size of the type, whose capitals are 0.72 of it high.
    pub(super) fn size(self) -> f64 {
        let capitals = match self {
            Letters::Small => 2.5,
            Letters::Figures => 3.5,
            Letters::Title => 5.0,
        };
        capitals * MM / 0.72
    }
}

/// Where text begins, or what of it lies at its place.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

impl Anchor {
    /// Where text of a width starts, from its place.
    fn start(self, width: f64) -> f64 {
        match self {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        }
    }

    fn attribute(self) -> &'static str {
        match self {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        }
    }
}

fn turn(at: Spot, angle: f64) -> String {
    match angle == 0.0 {
        true => String::new(),
        false => format!(
            " transform=\"rotate({} {} {})\"",
            figure(angle),
            figure(at.u),
            figure(at.v)
        ),
    }
}

/// A drawing while it grows.
#[derive(Default)]
pub(super) struct Sheet {
    /// What is drawn in an order of its own, under the lines: things that hide each other.
    solids: String,
    layers: [String; LineType::ALL.len()],
    texts: String,
    extent: Extent,
}

impl Sheet {
    fn layer(&mut self, line: LineType) -> &mut String {
        let index = (LineType::ALL.iter().position(|l| *l == line)).unwrap_or_default();
        &mut self.layers[index]
    }

    pub(super) fn include(&mut self, spot: Spot) {
        self.extent.include(spot);
    }

    pub(super) fn extent(&self) -> Extent {
        self.extent
    }

    /// A chain of straights.
    pub(super) fn line(&mut self, line: LineType, points: &[Spot]) {
        points.iter().for_each(|spot| self.include(*spot));
        let mut path = PathText::default();
        path.line(points.iter().copied());
        self.path(line, path);
    }

    pub(super) fn circle(&mut self, line: LineType, middle: Spot, radius: f64) {
        self.include_round(middle, radius);
        let mut path = PathText::default();
        path.circle(middle, radius);
        self.path(line, path);
    }

    pub(super) fn include_round(&mut self, middle: Spot, radius: f64) {
        for side in [-radius, radius] {
            self.include(Spot::new(middle.u + side, middle.v + side));
        }
    }

    /// A path whose extent is included elsewhere.
    pub(super) fn path(&mut self, line: LineType, path: PathText) {
        let _ = write!(self.layer(line), "<path d=\"{}\"/>", path.finish());
    }

    /// A shape of a piece, which can be lit; `width` when it is not that of its line.
    pub(super) fn piece(
        &mut self,
        frame: &Frame,
        index: usize,
        line: LineType,
        width: Option<f64>,
        path: PathText,
    ) {
        self.piece_shape(frame, index, line, width, "", &path.finish());
    }

    fn piece_shape(
        &mut self,
        frame: &Frame,
        index: usize,
        line: LineType,
        width: Option<f64>,
        cap: &str,
        d: &str,
    ) {
        let cap = match cap {
            "" => String::new(),
            cap => format!(" stroke-linecap=\"{cap}\""),
        };
        let piece = &frame.pieces[index];
        let width = width.map_or(String::new(), |w| {
            format!(" stroke-width=\"{}\"", figure(w))
        });
        let mark = escape(&piece.mark.0);
        let shape = format!(
            "<path data-piece=\"{index}\" data-mark=\"{mark}\" data-stage=\"{}\"{width}{cap} d=\"{d}\">\
             <title>{mark} · {}</title></path>",
            escape(frame.belongs(piece.member).0),
            escape(&piece.name)
        );
        self.layer(line).push_str(&shape);
    }

    /// A board by its edges: a thick line would be a black beam.
    pub(super) fn board(&mut self, frame: &Frame, index: usize, width: f64, path: PathText) {
        let inside = (width - 2.0 * LineType::Wide.width()).max(0.0);
        let d = path.finish();
        self.piece_shape(frame, index, LineType::Wide, Some(width), "butt", &d);
        if inside > 0.0 {
            let hollow = format!(
                "<path stroke=\"#fff\" stroke-width=\"{}\" stroke-linecap=\"butt\" d=\"{d}\"/>",
                figure(inside)
            );
            self.layer(LineType::Wide).push_str(&hollow);
        }
    }

    /// Something drawn over what was drawn before it.
    pub(super) fn solid(&mut self, shape: &str) {
        self.solids.push_str(shape);
    }

    pub(super) fn text(&mut self, at: Spot, letters: Letters, anchor: Anchor, text: &str) {
        self.slanted_text(at, letters, anchor, text, 0.0);
    }

    /// Text turned by an angle in degrees, clockwise.
    pub(super) fn slanted_text(
        &mut self,
        at: Spot,
        letters: Letters,
        anchor: Anchor,
        text: &str,
        angle: f64,
    ) {
        let size = letters.size();
        let width = text_width(text, size);
        let from = anchor.start(width);
        let along = Spot::new(angle.to_radians().cos(), angle.to_radians().sin());
        for side in [from, from + width] {
            for up in [-0.75 * size, 0.25 * size] {
                self.include(at.plus(along, side).plus(along.turned(), up));
            }
        }
        let _ = write!(
            self.texts,
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{}>{}</text>",
            figure(at.u),
            figure(at.v),
            figure(size),
            anchor.attribute(),
            turn(at, angle),
            escape(text)
        );
    }

    /// Text that lies on lines: in a white field, so that none goes through it.
    pub(super) fn text_over_lines(
        &mut self,
        at: Spot,
        letters: Letters,
        anchor: Anchor,
        text: &str,
        angle: f64,
    ) {
        let size = letters.size();
        let width = text_width(text, size);
        let _ = write!(
            self.texts,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\"{}/>",
            figure(at.u + anchor.start(width) - 3.0),
            figure(at.v - 0.82 * size),
            figure(width + 6.0),
            figure(size * 0.92),
            turn(at, angle)
        );
        self.slanted_text(at, letters, anchor, text, angle);
    }

    /// Text in as many lines as it needs, from a first baseline down; says where the next would be.
    pub(super) fn paragraph(&mut self, at: Spot, letters: Letters, width: f64, text: &str) -> f64 {
        let mut v = at.v;
        for line in wrapped(text, letters.size(), width) {
            self.text(Spot::new(at.u, v), letters, Anchor::Start, &line);
            v += letters.size() * 1.35;
        }
        v
    }

    /// The title over all that is drawn so far.
    pub(super) fn title(&mut self, title: &str) {
        let size = Letters::Title.size();
        let Extent {
            left, right, top, ..
        } = self.extent;
        let width = (right - left).max(600.0);
        let lines = wrapped(title, size, width).len().max(1) as f64;
        let first = top - 4.0 * MM - (lines - 1.0) * size * 1.35;
        self.paragraph(Spot::new(left, first), Letters::Title, width, title);
    }

    /// The whole drawing, with what it shows in words.
    pub(super) fn finish(self, class: &str, says: &str) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"sheet {class}\" viewBox=\"{}\" role=\"img\" \
             aria-label=\"{}\" fill=\"none\" stroke=\"{INK}\" stroke-linejoin=\"round\" font-family=\"{TYPEFACE}\">",
            self.extent.view_box(MARGIN),
            escape(says)
        );
        if !self.solids.is_empty() {
            let _ = write!(svg, "<g class=\"solids\">{}</g>", self.solids);
        }
        for (line, shapes) in LineType::ALL.into_iter().zip(&self.layers) {
            if !shapes.is_empty() {
                let _ = write!(
                    svg,
                    "<g class=\"{}\" stroke-width=\"{}\"{}>{shapes}</g>",
                    line.class(),
                    figure(line.width()),
                    line.dashes()
                );
            }
        }
        let _ = write!(
            svg,
            "<g class=\"letters\" fill=\"{INK}\" stroke=\"none\">{}</g></svg>",
            self.texts
        );
        svg
    }
}
