//! Width, length and height beside the isometric.

use super::svg::{Extent, INK, Spot, TYPEFACE, escape, text_width};
use super::view::{View, project};
use crate::graph::{Frame, Point};

/// Letter size of the figures; a page may set them up to `LARGEST` for a phone.
const LETTERS: f64 = 26.0;
const LARGEST: f64 = 38.0;

/// Width and length along the two near sides, and the height at the left corner, each beside its own line.
pub(super) fn dimensions(frame: &Frame, view: View, scale: f64, extent: &mut Extent) -> String {
    let half = frame.width.to_metres() / 2.0;
    let (length, height) = (frame.length.to_metres(), frame.height.to_metres());
    let corner = |x: f64, y: f64| Point { x, y, z: 0.0 };
    let turned = [corner(-half, 0.0), corner(half, length)].map(|p| view.turned(p));
    let (left, right) = (turned[0].x.min(turned[1].x), turned[0].x.max(turned[1].x));
    let (near, far) = (turned[0].y.min(turned[1].y), turned[0].y.max(turned[1].y));
    let [width, long, high] =
        [frame.width, frame.length, frame.height].map(|measure| measure.tape(frame.system));
    let (falling, rising) = match view {
        View::FrontRight | View::BackLeft => (width, long),
        View::FrontLeft | View::BackRight => (long, width),
    };

    let out = 54.0 / scale;
    let at = |x: f64, y: f64, z: f64| project(Point { x, y, z }, scale);
    let mut shapes = String::new();
    for (corner, foot) in [
        (at(left, near, 0.0), at(left, near - out, 0.0)),
        (at(right, near, 0.0), at(right, near - out, 0.0)),
        (at(right, near, 0.0), at(right + out, near, 0.0)),
        (at(right, far, 0.0), at(right + out, far, 0.0)),
        (at(left, near, 0.0), at(left - out, near, 0.0)),
    ] {
        shapes.push_str(&extension(corner, foot));
    }
    for (from, to, figures) in [
        (
            at(left, near - out, 0.0),
            at(right, near - out, 0.0),
            falling,
        ),
        (
            at(right + out, near, 0.0),
            at(right + out, far, 0.0),
            rising,
        ),
        (
            at(left - out, near, height),
            at(left - out, near, 0.0),
            high,
        ),
    ] {
        shapes.push_str(&dimension(from, to, &figures, extent));
    }
    format!(
        "<g class=\"dimensions\" stroke-width=\"1.2\" font-family=\"{TYPEFACE}\" font-size=\"{LETTERS}\" \
         text-anchor=\"middle\">{shapes}</g>"
    )
}

/// From a corner of the house, clear of it, to just past a dimension's line.
fn extension(corner: Spot, foot: Spot) -> String {
    let way = foot.minus(corner).unit();
    let (from, to) = (corner.plus(way, 9.0), foot.plus(way, 8.0));
    format!(
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}\"/>",
        from.u, from.v, to.u, to.v
    )
}

/// A line between two short strokes with its figures along it: under a line that slopes, beside one that stands.
fn dimension(from: Spot, to: Spot, figures: &str, extent: &mut Extent) -> String {
    let direction = to.minus(from).unit();
    let stands = direction.u.abs() < 0.1;
    // Away from the house, which is above a sloping line and to the right of a standing one.
    let (angle, away, baseline) = match stands {
        true => (-90.0, Spot::new(-1.0, 0.0), 14.0),
        false => (
            direction.v.atan2(direction.u).to_degrees(),
            direction.turned(),
            LARGEST * 0.72 + 14.0,
        ),
    };
    let spot = from.middle(to).plus(away, baseline);
    let half = text_width(figures, LARGEST) / 2.0;
    let along = if stands {
        Spot::new(0.0, 1.0)
    } else {
        direction
    };
    for side in [-half, half] {
        for out in [0.0, if stands { LARGEST } else { 0.0 }] {
            extent.include(spot.plus(along, side).plus(away, out));
        }
    }
    let stroke = |spot: Spot| match stands {
        true => format!("M{:.1} {:.1}h20", spot.u - 10.0, spot.v),
        false => format!("M{:.1} {:.1}v20", spot.u, spot.v - 10.0),
    };
    for end in [from, to] {
        extent.include(end);
    }
    format!(
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}{}{}\"/><text fill=\"{INK}\" stroke=\"none\" x=\"{:.1}\" y=\"{:.1}\" \
         transform=\"rotate({angle:.1} {:.1} {:.1})\">{}</text>",
        from.u,
        from.v,
        to.u,
        to.v,
        stroke(from),
        stroke(to),
        spot.u,
        spot.v,
        spot.u,
        spot.v,
        escape(figures)
    )
}
