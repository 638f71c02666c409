//! The frame drawn from a corner, as SVG: one path a piece, so that a mark can be lit.
//!
//! Isometric projection: across goes right and down at 30°, along goes right and up at 30°, height goes up.
//! Every shape carries `data-mark`; hardware and film are drawn too and left to the style sheet to show when lit.

use std::fmt::Write as _;

use crate::graph::{Frame, Point};
use crate::part::{Mark, Part, Section};

/// Drawing units a metre.
const SCALE: f64 = 60.0;
/// Room around the drawing, in drawing units.
const MARGIN: f64 = 24.0;
/// Half the room that a dimension's figures take, set large for a phone: across and up, in drawing units.
const FIGURES: (f64, f64) = (110.0, 24.0);
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
        dimensions(frame, &mut extent),
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

/// Width, length and height, with lines that end in short strokes; the figures stand clear of the house.
fn dimensions(frame: &Frame, extent: &mut Extent) -> String {
    let half = frame.width.to_metres() / 2.0;
    let (length, height) = (frame.length.to_metres(), frame.height.to_metres());
    let out = 0.9;
    let at = |x: f64, y: f64, z: f64| project(Point { x, y, z });
    let middle = |a: Spot, b: Spot| Spot {
        u: (a.u + b.u) / 2.0,
        v: (a.v + b.v) / 2.0,
    };
    let tape = |length: measure::Length| length.tape(frame.system);

    let (left, right) = (at(-half, -out, 0.0), at(half, -out, 0.0));
    let below = |spot: Spot, aside: f64| Spot {
        u: spot.u + aside,
        v: spot.v + 52.0,
    };
    let (front, back) = (at(half + out, 0.0, 0.0), at(half + out, length, 0.0));
    let (foot, peak) = (at(-half - out, 0.0, 0.0), at(-half - out, 0.0, height));
    let above_peak = Spot {
        u: peak.u,
        v: peak.v - 22.0,
    };
    let shapes = [
        dimension(
            left,
            right,
            &tape(frame.width),
            below(middle(left, right), -70.0),
            extent,
        ),
        dimension(
            front,
            back,
            &tape(frame.length),
            below(middle(front, back), 70.0),
            extent,
        ),
        dimension(foot, peak, &tape(frame.height), above_peak, extent),
    ];
    format!("<g class=\"dimensions\">{}</g>", shapes.concat())
}

fn dimension(from: Spot, to: Spot, figures: &str, middle: Spot, extent: &mut Extent) -> String {
    for spot in [from, to] {
        extent.include(spot);
    }
    for (u, v) in [(-FIGURES.0, -FIGURES.1), FIGURES] {
        extent.include(Spot {
            u: middle.u + u,
            v: middle.v + v,
        });
    }
    let stroke = |spot: Spot| format!("<path d=\"M{:.1} {:.1}l0 20\"/>", spot.u, spot.v - 10.0);
    format!(
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\"/>{}{}<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{figures}</text>",
        from.u,
        from.v,
        to.u,
        to.v,
        stroke(from),
        stroke(to),
        middle.u,
        middle.v
    )
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
