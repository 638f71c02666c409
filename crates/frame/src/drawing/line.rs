//! How a piece is drawn as a line, and what of it lies in the ground.

use std::collections::BTreeMap;

use measure::{Grid, Length};

use crate::graph::{Frame, Path, Piece, Point};
use crate::part::{Mark, Part, Section};

/// How a piece is drawn in the isometric; also its class, which the style sheet knows.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Line {
    Channel,
    Tube,
    WideTube,
    /// Wire and cloth: shown only when lit, since they lie in or on what is drawn.
    LitOnly,
}

impl Line {
    /// Of every piece of the frame.
    pub(super) fn of_pieces(frame: &Frame) -> Vec<Self> {
        let parts: BTreeMap<&Mark, &Part> = frame.parts.iter().map(|p| (&p.mark, p)).collect();
        (frame.pieces.iter())
            .map(|piece| Self::of(parts.get(&piece.mark).copied()))
            .collect()
    }

    fn of(part: Option<&Part>) -> Self {
        let tube = |inches: f64| match inches > 1.5 {
            true => Line::WideTube,
            false => Line::Tube,
        };
        match part.and_then(|p| p.section.as_ref()) {
            Some(Section::Tube { outside, .. }) => tube(outside.to_inches()),
            Some(Section::Box { width, depth, .. }) => tube((*width).max(*depth).to_inches()),
            Some(Section::Timber { .. }) => Line::WideTube,
            Some(Section::Wire { .. } | Section::Cloth { .. } | Section::Film { .. }) => {
                Line::LitOnly
            }
            _ => Line::Channel,
        }
    }

    pub(super) fn class(self) -> &'static str {
        match self {
            Line::Channel => "channel",
            Line::Tube => "tube",
            Line::WideTube => "tube wide",
            Line::LitOnly => "lit-only",
        }
    }

    /// In drawing units.
    pub(super) fn width(self) -> f64 {
        match self {
            Line::Channel | Line::LitOnly => 1.6,
            Line::Tube => 3.2,
            Line::WideTube => 4.6,
        }
    }
}

/// How thick a part is as the eye sees it, in metres: a tube's diameter, the greater side of what is not round.
pub(super) fn thickness(part: &Part) -> Option<f64> {
    let length = match part.section.as_ref()? {
        Section::Tube { outside, .. } => *outside,
        Section::Box { width, depth, .. }
        | Section::Timber { width, depth, .. }
        | Section::Channel { width, depth, .. } => (*width).max(*depth),
        Section::Wire { diameter } => *diameter,
        Section::Film { .. } | Section::Cloth { .. } | Section::Fastener { .. } => return None,
    };
    Some(length.to_metres())
}

/// The points that draw a piece: its ends if it is straight, else one at least every `step` metres.
pub(super) fn points(frame: &Frame, piece: &Piece, step: f64) -> Vec<Point> {
    let path = &frame.members[piece.member].path;
    let long = piece.to - piece.from;
    let steps = match path {
        Path::Straight(..) => 1,
        Path::Arch { .. } => (long / step).ceil().clamp(1.0, 10_000.0) as usize,
    };
    (0..=steps)
        .map(|i| path.at(&frame.profile, piece.from + long * i as f64 / steps as f64))
        .collect()
}

/// The stretch over the ground and the one in it; no piece goes in and out again.
pub(super) fn split_at_ground(points: &[Point]) -> (Vec<Point>, Vec<Point>) {
    const LEVEL: f64 = -1e-6;
    let (mut above, mut below) = (Vec::new(), Vec::new());
    let mut before: Option<Point> = None;
    for &point in points {
        if let Some(last) = before
            && (last.z < LEVEL) != (point.z < LEVEL)
        {
            let share = last.z / (last.z - point.z);
            let surface = Point {
                x: last.x + (point.x - last.x) * share,
                y: last.y + (point.y - last.y) * share,
                z: 0.0,
            };
            above.push(surface);
            below.push(surface);
        }
        match point.z < LEVEL {
            true => below.push(point),
            false => above.push(point),
        }
        before = Some(point);
    }
    // A piece that comes up from below to the surface and no farther has nothing over it.
    if above.iter().all(|p| p.z < 1e-6) && !below.is_empty() {
        above.clear();
    }
    (above, below)
}

/// A measure of the drawing as a tape reads it.
pub(super) fn tape(frame: &Frame, metres: f64) -> String {
    let length = Length::from_metres(metres, Grid::NANOMETRE).unwrap_or_default();
    length.tape(frame.system)
}
