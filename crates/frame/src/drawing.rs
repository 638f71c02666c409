//! The frame drawn from a corner, as SVG: one path a piece, so that a mark can be lit.
//!
//! Isometric projection: across goes right and down at 30°, along goes right and up at 30°, height goes up.
//! Every shape carries `data-mark`; hardware and film are drawn too and left to the style sheet to show when lit.

use std::fmt::Write as _;

use crate::graph::{Frame, Point};
use crate::part::{Mark, Part, Section};

/// Drawing units a metre.
const SCALE: f64 = 60.0;
/// Room around the house for its dimensions, in drawing units.
const MARGIN: f64 = 70.0;
const COS_30: f64 = 0.866_025_403_784_438_6;
const SIN_30: f64 = 0.5;

/// A point of the sheet.
#[derive(Clone, Copy)]
struct Spot {
    u: f64,
    v: f64,
}

fn project(p: Point) -> Spot {
    Spot {
        u: (p.x + p.y) * COS_30 * SCALE,
        v: ((p.x - p.y) * SIN_30 - p.z) * SCALE,
    }
}

/// Draws the frame. The text is safe to put into a page: marks and names are escaped.
pub fn isometric(frame: &Frame) -> String {
    let mut svg = String::new();
    let mut extent = Extent::default();
    let body = [
        film(frame, &mut extent),
        pieces(frame, &mut extent),
        hardware(frame),
        dimensions(frame),
    ]
    .concat();
    let (left, top) = (extent.left - MARGIN, extent.top - MARGIN);
    let (wide, high) = (
        extent.right - extent.left + 2.0 * MARGIN,
        extent.bottom - extent.top + 2.0 * MARGIN,
    );
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"frame\" viewBox=\"{left:.0} {top:.0} {wide:.0} {high:.0}\" \
         role=\"img\" aria-label=\"{} drawn from its front right corner: {} bows\">{body}</svg>",
        escape(&frame.title),
        frame.bows
    );
    svg
}

struct Extent {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Default for Extent {
    fn default() -> Self {
        Self {
            left: f64::MAX,
            right: f64::MIN,
            top: f64::MAX,
            bottom: f64::MIN,
        }
    }
}

impl Extent {
    fn include(&mut self, spot: Spot) {
        self.left = self.left.min(spot.u);
        self.right = self.right.max(spot.u);
        self.top = self.top.min(spot.v);
        self.bottom = self.bottom.max(spot.v);
    }
}

fn line(points: impl Iterator<Item = Point>, extent: &mut Extent) -> String {
    let mut d = String::new();
    for (i, point) in points.enumerate() {
        let spot = project(point);
        extent.include(spot);
        let _ = write!(
            d,
            "{}{:.1} {:.1}",
            if i == 0 { "M" } else { "L" },
            spot.u,
            spot.v
        );
    }
    d
}

/// Pieces from the far end to the near one, so that near lines lie over far ones.
fn pieces(frame: &Frame, extent: &mut Extent) -> String {
    let mut drawn: Vec<(f64, String)> = Vec::with_capacity(frame.pieces.len());
    for piece in &frame.pieces {
        let path = frame.members[piece.member].path;
        let points = path.points(&frame.profile, piece.from, piece.to);
        let nearness = points.iter().map(|p| p.x - p.y + p.z).sum::<f64>() / points.len() as f64;
        let d = line(points.into_iter(), extent);
        let part = frame.parts.iter().find(|p| p.mark == piece.mark);
        let shape = format!(
            "<path class=\"{}\" data-mark=\"{}\" d=\"{d}\"><title>{} · {}</title></path>",
            line_class(part),
            escape(&piece.mark.0),
            escape(&piece.mark.0),
            escape(&piece.name)
        );
        drawn.push((nearness, shape));
    }
    drawn.sort_by(|a, b| a.0.total_cmp(&b.0));
    let shapes: String = drawn.into_iter().map(|(_, shape)| shape).collect();
    format!("<g class=\"pieces\">{shapes}</g>")
}

/// Tube is drawn thick, channel thin, and wire only when lit: it lies in the channel.
fn line_class(part: Option<&Part>) -> &'static str {
    match part.and_then(|p| p.section.as_ref()) {
        Some(Section::Tube { outside, .. }) if outside.to_inches() > 1.5 => "tube wide",
        Some(Section::Tube { .. }) => "tube",
        Some(Section::Wire { .. }) => "lit-only",
        _ => "channel",
    }
}

/// All places of one kind of hardware as dots of one path.
fn hardware(frame: &Frame) -> String {
    let mut dots: Vec<(&Mark, String)> = Vec::new();
    for joint in &frame.joints {
        let spot = project(joint.at);
        for (mark, _) in &frame.joint_kind(joint).hardware {
            let dot = format!("M{:.1} {:.1}h0", spot.u, spot.v);
            match dots.iter_mut().find(|(known, _)| *known == mark) {
                Some((_, d)) => d.push_str(&dot),
                None => dots.push((mark, dot)),
            }
        }
    }
    let shapes: String = (dots.iter())
        .map(|(mark, d)| {
            format!(
                "<path class=\"dots lit-only\" data-mark=\"{}\" d=\"{d}\"/>",
                escape(&mark.0)
            )
        })
        .collect();
    format!("<g class=\"hardware\">{shapes}</g>")
}

fn film(frame: &Frame, extent: &mut Extent) -> String {
    let shapes: String = (frame.hung.iter())
        .filter(|hung| !hung.outline.is_empty())
        .map(|hung| {
            let d = line(hung.outline.iter().copied(), extent);
            format!(
                "<path class=\"film lit-only\" data-mark=\"{}\" d=\"{d}Z\"><title>{}</title></path>",
                escape(&hung.mark.0),
                escape(&hung.name)
            )
        })
        .collect();
    format!("<g class=\"skins\">{shapes}</g>")
}

/// Width, length and height, with lines that end in short strokes across.
fn dimensions(frame: &Frame) -> String {
    let (half, length, height) = (
        frame.width.to_metres() / 2.0,
        frame.length.to_metres(),
        frame.height.to_metres(),
    );
    let out = 0.9;
    let at = |x: f64, y: f64, z: f64| project(Point { x, y, z });
    let mut svg = String::from("<g class=\"dimensions\">");
    let mut dimension = |from: Spot, to: Spot, text: String, (du, dv): (f64, f64), anchor: &str| {
        let _ = write!(
            svg,
            "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\"/><path d=\"M{:.1} {:.1}l0 -10m0 5l0 10M{:.1} {:.1}l0 -10m0 5l0 10\"/>\
             <text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{text}</text>",
            from.u,
            from.v,
            to.u,
            to.v,
            from.u,
            from.v,
            to.u,
            to.v,
            (from.u + to.u) / 2.0 + du,
            (from.v + to.v) / 2.0 + dv
        );
    };
    let tape = |length: measure::Length| length.tape(frame.system);
    dimension(
        at(-half, -out, 0.0),
        at(half, -out, 0.0),
        tape(frame.width),
        (-10.0, 24.0),
        "end",
    );
    dimension(
        at(half + out, 0.0, 0.0),
        at(half + out, length, 0.0),
        tape(frame.length),
        (10.0, 24.0),
        "start",
    );
    let (foot, peak) = (at(-half - out, 0.0, 0.0), at(-half - out, 0.0, height));
    dimension(foot, peak, tape(frame.height), (-10.0, 0.0), "end");
    svg.push_str("</g>");
    svg
}

/// Text made safe for SVG and HTML.
pub(crate) fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            _ => safe.push(letter),
        }
    }
    safe
}
