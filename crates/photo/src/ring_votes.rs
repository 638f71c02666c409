//! Where the middles of circles may lie: each point on an edge votes for the places one radius away, straight ahead
//! and straight behind (the Hough transform for circles, helped by the gradient). Large circles are looked for in
//! smaller copies of the picture, so that a large tube costs no more than a small one.

use crate::ring_plane::{Edge, Plane};

/// The smallest and largest radius looked for in one copy, in its pixels; the first copy looks for smaller ones too.
const SMALLEST: f32 = 8.0;
const LEAST: f32 = 12.0;
const MOST: f32 = 24.0;
/// From one radius to the next.
const STEP: f32 = 1.1;
/// A middle must have this share of the votes that a perfect circle gives.
const SHARE: f32 = 0.2;

/// A copy of the picture at half the size of the one before, with its edges.
pub(crate) struct Level {
    /// How many pixels of the first copy one of these is.
    pub scale: f32,
    pub plane: Plane,
    pub smooth: Plane,
}

/// A place that may be the middle of a circle, in pixels of its level.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Middle {
    pub level: usize,
    pub x: f32,
    pub y: f32,
    pub radius: f32,
    pub share: f32,
}

/// The copies of the picture down to the one in which the largest circle worth finding is small.
pub(crate) fn levels(plane: Plane) -> Vec<Level> {
    let mut levels = Vec::new();
    let (mut plane, mut scale) = (plane, 1.0);
    loop {
        let smooth = plane.smooth();
        let next = plane.half();
        let room = plane.width.min(plane.height);
        levels.push(Level {
            scale,
            plane,
            smooth,
        });
        if (room as f32) < MOST * 4.0 || levels.len() == 8 {
            return levels;
        }
        (plane, scale) = (next, scale * 2.0);
    }
}

/// Every likely middle, by radius: the lists go from the smallest radius to the largest.
pub(crate) fn middles(levels: &[Level]) -> Vec<Vec<Middle>> {
    let mut all = Vec::new();
    for (index, level) in levels.iter().enumerate() {
        let edges = level.plane.edges(MOST as usize);
        let mut radius = if index == 0 { SMALLEST } else { LEAST };
        let room = level.plane.width.min(level.plane.height) as f32;
        while radius < MOST * 0.999 && radius < room * 0.45 {
            all.push(peaks(&level.plane, &edges, radius, index));
            radius *= STEP;
        }
    }
    all
}

/// The middles of circles of this radius.
fn peaks(plane: &Plane, edges: &[Edge], radius: f32, level: usize) -> Vec<Middle> {
    let (width, height) = (plane.width, plane.height);
    let mut votes = Plane::black(width, height);
    for edge in edges {
        for way in [radius, -radius] {
            let (x, y) = (
                (edge.x + way * edge.dx + 0.5) as usize,
                (edge.y + way * edge.dy + 0.5) as usize,
            );
            // below zero a float turns into 0, whose border pixel is never a middle
            if x < width && y < height {
                votes.values[y * width + x] += edge.weight;
            }
        }
    }
    let reach = (radius * 0.08).round().max(1.0) as usize;
    let votes = votes.box_mean(reach).box_mean(reach);
    let side = (2 * reach + 1) as f32;
    let perfect = std::f32::consts::TAU * radius / (side * side);
    let mut found = Vec::new();
    for y in 1..height.saturating_sub(1) {
        for x in 1..width.saturating_sub(1) {
            let here = votes.values[y * width + x];
            if here < SHARE * perfect {
                continue;
            }
            let near = |dx: usize, dy: usize| votes.values[(y + dy - 1) * width + x + dx - 1];
            let top = [(0, 0), (1, 0), (2, 0), (0, 1)]
                .iter()
                .all(|&(dx, dy)| near(dx, dy) < here)
                && [(2, 1), (0, 2), (1, 2), (2, 2)]
                    .iter()
                    .all(|&(dx, dy)| near(dx, dy) <= here);
            if top {
                found.push(Middle {
                    level,
                    x: x as f32,
                    y: y as f32,
                    radius,
                    share: here / perfect,
                });
            }
        }
    }
    found
}
