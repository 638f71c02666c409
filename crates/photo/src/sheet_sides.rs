//! The four sides of a page laid along its edges, to a part of a pixel.

use image::{GrayImage, RgbImage};

use crate::sheet_find::meeting;
use crate::sheet_plane::{Point, between};

/// Places along a side that are looked at; the ends, where fingers and folded corners are, are left out.
const PLACES: usize = 120;
const ENDS: f32 = 0.04;
/// How far to each side of the side the edge is looked for, as a share of the picture's longest side, first and then
/// again: roughly found sides are off by two or three pixels of 512.
const REACH: [f32; 3] = [0.012, 0.005, 0.002];
/// Light must rise by this much at an edge, of 255.
const RISE: f64 = 7.0;
/// Pixels of each side of an edge whose mean is taken.
const MEAN: usize = 3;
/// A place this far from the line is not on it, as a share of the reach.
const OFF: f32 = 0.12;
/// Fewer places than this share of them leave a side as it was.
const ENOUGH: f32 = 0.25;

/// Lays the sides of a roughly found page along the edges that are seen. A side without an edge stays where it was.
pub(crate) fn along(picture: &RgbImage, rough: [Point; 4]) -> [Point; 4] {
    let grey = image::imageops::grayscale(picture);
    let longest = grey.width().max(grey.height()) as f32;
    let mut corners = rough;
    for reach in REACH {
        let reach = (reach * longest).max(4.0);
        let sides: [[Point; 2]; 4] = std::array::from_fn(|i| {
            let rough = [corners[i], corners[(i + 1) % 4]];
            laid(&grey, rough, reach).unwrap_or(rough)
        });
        let met = [3, 0, 1, 2].map(|i| meeting(sides[i], sides[(i + 1) % 4]));
        let far = |i: usize, p: Point| (p[0] - corners[i][0]).hypot(p[1] - corners[i][1]);
        let [Some(a), Some(b), Some(c), Some(d)] = met else {
            return corners;
        };
        let met = [a, b, c, d];
        if (0..4).any(|i| far(i, met[i]) > 4.0 * reach) {
            return corners;
        }
        corners = met;
    }
    corners
}

/// Returns two points of the line that most edge places near a side lie on.
fn laid(grey: &GrayImage, [a, b]: [Point; 2], reach: f32) -> Option<[Point; 2]> {
    let long = (b[0] - a[0]).hypot(b[1] - a[1]);
    if long < 8.0 {
        return None;
    }
    let ahead = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
    let inward = [-ahead[1], ahead[0]];
    // Places as how far along and how far inwards.
    let mut edges: Vec<[f32; 2]> = Vec::with_capacity(PLACES);
    for n in 0..PLACES {
        let share = ENDS + (1.0 - 2.0 * ENDS) * (n as f32 + 0.5) / PLACES as f32;
        let at = [
            a[0] + ahead[0] * long * share,
            a[1] + ahead[1] * long * share,
        ];
        if let Some(inwards) = edge(grey, at, ahead, inward, reach) {
            edges.push([long * share, inwards]);
        }
    }
    let enough = (PLACES as f32 * ENOUGH) as usize;
    let off = (OFF * reach).max(1.2);
    let near = |line: [f32; 2], e: &[f32; 2]| (line[0] + line[1] * e[0] - e[1]).abs() <= off;
    // The line through two of the places that most others are near.
    let mut best: (usize, [f32; 2]) = (0, [0.0; 2]);
    for (i, from) in edges.iter().enumerate().step_by(2) {
        for to in edges.iter().skip(i + edges.len() / 4).step_by(3) {
            if to[0] - from[0] < long / 5.0 {
                continue;
            }
            let rise = (to[1] - from[1]) / (to[0] - from[0]);
            let line = [from[1] - rise * from[0], rise];
            let count = edges.iter().filter(|e| near(line, e)).count();
            if count > best.0 {
                best = (count, line);
            }
        }
    }
    if best.0 < enough {
        return None;
    }
    let line = least_squares(edges.iter().filter(|e| near(best.1, e)))?;
    let point = |along: f32| {
        let inwards = line[0] + line[1] * along;
        [0, 1].map(|i| a[i] + ahead[i] * along + inward[i] * inwards)
    };
    Some([point(0.0), point(long)])
}

fn least_squares<'a>(places: impl Iterator<Item = &'a [f32; 2]>) -> Option<[f32; 2]> {
    let (mut n, mut x, mut y, mut xx, mut xy) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for place in places {
        let [along, inwards] = place.map(f64::from);
        n += 1.0;
        x += along;
        y += inwards;
        xx += along * along;
        xy += along * inwards;
    }
    let spread = n * xx - x * x;
    if spread <= 1e-6 {
        return None;
    }
    let rise = (n * xy - x * y) / spread;
    Some([((y - rise * x) / n) as f32, rise as f32])
}

/// How far inwards light rises most, across a side at one place; nothing where it hardly does.
fn edge(grey: &GrayImage, at: Point, ahead: Point, inward: Point, reach: f32) -> Option<f32> {
    let steps = reach.ceil() as i32 + MEAN as i32;
    let light: Vec<f64> = (-steps..=steps)
        .map(|step| {
            // three places along the side together, so that grain is no edge
            [-1.5f32, 0.0, 1.5]
                .map(|aside| {
                    let [x, y] =
                        [0, 1].map(|i| at[i] + inward[i] * (step as f32 + 0.5) + ahead[i] * aside);
                    between(grey, x, y)
                })
                .iter()
                .sum::<f64>()
                / 3.0
        })
        .collect();
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let rises: Vec<f64> = (MEAN..light.len() - MEAN)
        .map(|i| mean(&light[i..i + MEAN]) - mean(&light[i - MEAN..i]))
        .collect();
    let top = (0..rises.len()).max_by(|&a, &b| rises[a].total_cmp(&rises[b]))?;
    if rises[top] < RISE || top == 0 || top + 1 == rises.len() {
        return None;
    }
    // The top of the parabola through three neighbours.
    let (before, here, after) = (rises[top - 1], rises[top], rises[top + 1]);
    let bend = before - 2.0 * here + after;
    let part = if bend < -1e-9 {
        ((before - after) / (2.0 * bend)).clamp(-0.5, 0.5)
    } else {
        0.0
    };
    // The border between light[i - 1] and light[i] lies at i - steps.
    Some(((top + MEAN) as f64 - f64::from(steps) + part) as f32)
}
