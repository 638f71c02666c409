//! One circle laid on the edge it was proposed for, and what speaks for it.

use crate::ring_plane::Plane;

/// Rays from the middle along which the rim is looked for.
pub(crate) const RAYS: usize = 48;
/// Places along a ray at which the brightness is kept, from the middle out to 1.4 radii.
pub(crate) const STOPS: usize = 21;

/// A circle laid on an edge, in pixels of its level.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Circle {
    pub x: f32,
    pub y: f32,
    pub radius: f32,
    /// How far the edge under it is a circle's: 0 for none, 1 for a whole and strong one.
    pub round: f32,
    /// Mean brightness along the rays, from the middle outwards.
    pub profile: [f32; STOPS],
}

/// How far from the circle its rim is looked for, as shares of the radius, pass after pass.
pub(crate) type Passes = [f32; 3];
/// For a rough proposal.
pub(crate) const FAR: Passes = [0.16, 0.13, 0.1];
/// For a good one, lest the rim on one side and the edge of its shadow on the other be taken for one circle.
pub(crate) const NEAR: Passes = [0.09, 0.07, 0.06];

/// Lays a circle on the rim nearest to the proposed one; of the two ways (dark inside, bright inside) the better.
pub(crate) fn fit(smooth: &Plane, x: f32, y: f32, radius: f32, passes: Passes) -> Circle {
    let dark = laid(smooth, x, y, radius, 1.0, passes);
    let bright = laid(smooth, x, y, radius, -1.0, passes);
    if bright.round > dark.round {
        bright
    } else {
        dark
    }
}

fn laid(smooth: &Plane, x: f32, y: f32, radius: f32, way: f32, passes: Passes) -> Circle {
    let (mut cx, mut cy, mut r) = (x, y, radius);
    for width in passes {
        let mut points = [(0.0f32, 0.0f32, 0.0f32); RAYS];
        for (ray, point) in points.iter_mut().enumerate() {
            let (cos, sin) = direction(ray);
            let (rim, steep) = rim_on_ray(smooth, cx, cy, r, (cos, sin), way, width);
            *point = (rim * cos, rim * sin, steep);
        }
        let Some((dx, dy, radius_now)) = circle_through(&points, r, width) else {
            break;
        };
        // what runs away from its proposal is another circle's business
        if (cx + dx - x).hypot(cy + dy - y) > 0.4 * radius
            || !(0.75 * radius..1.33 * radius).contains(&radius_now)
        {
            break;
        }
        (cx, cy, r) = (cx + dx, cy + dy, radius_now);
    }
    judged(smooth, cx, cy, r, way)
}

fn direction(ray: usize) -> (f32, f32) {
    let turn = ray as f32 / RAYS as f32 * std::f32::consts::TAU;
    (turn.cos(), turn.sin())
}

/// Where along the ray the brightness changes most, near the radius expected; and how much, near ones weighing more.
fn rim_on_ray(
    smooth: &Plane,
    cx: f32,
    cy: f32,
    radius: f32,
    (cos, sin): (f32, f32),
    way: f32,
    width: f32,
) -> (f32, f32) {
    let at = |along: f32| smooth.at(cx + along * cos, cy + along * sin);
    let half = 0.75;
    let steps = 12;
    let mut best = (radius, 0.0);
    for step in 0..=steps {
        let off = (step as f32 / steps as f32 * 2.0 - 1.0) * width * 1.5;
        let along = radius * (1.0 + off);
        let change = way * (at(along + half) - at(along - half)) * (-(off / width).powi(2)).exp();
        if change > best.1 {
            best = (along, change);
        }
    }
    best
}

/// The circle through the points by least squares (Kåsa's, as the points lie all around), those far off the
/// expected one or on a weak edge weighing less. Middle relative to the old one.
fn circle_through(points: &[(f32, f32, f32)], radius: f32, width: f32) -> Option<(f32, f32, f32)> {
    let mut strengths: Vec<f32> = points.iter().map(|p| p.2).collect();
    strengths.sort_by(f32::total_cmp);
    let usual = strengths[points.len() / 2].max(0.2);
    // the normal equations of x² + y² = a x + b y + c
    let mut m = [[0.0f64; 4]; 3];
    for &(x, y, steep) in points {
        let off = (x.hypot(y) - radius) / (radius * width * 1.5);
        let weight = f64::from((1.0 - off * off).max(0.0) * (steep / usual).min(1.5));
        let row = [f64::from(x), f64::from(y), 1.0];
        let square = row[0] * row[0] + row[1] * row[1];
        for i in 0..3 {
            for j in 0..3 {
                m[i][j] += weight * row[i] * row[j];
            }
            m[i][3] += weight * row[i] * square;
        }
    }
    let [a, b, c] = solved(m)?;
    let (x, y) = (a / 2.0, b / 2.0);
    let square = c + x * x + y * y;
    (square > 0.0).then(|| (x as f32, y as f32, square.sqrt() as f32))
}

/// Three equations solved by elimination; none if they do not say enough.
fn solved(mut m: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    for i in 0..3 {
        let pivot = (i..3).max_by(|&a, &b| m[a][i].abs().total_cmp(&m[b][i].abs()))?;
        m.swap(i, pivot);
        if m[i][i].abs() < 1e-6 {
            return None;
        }
        let pivot = m[i];
        for j in (0..3).filter(|&j| j != i) {
            let share = m[j][i] / pivot[i];
            m[j].iter_mut()
                .zip(pivot)
                .for_each(|(v, p)| *v -= share * p);
        }
    }
    Some([m[0][3] / m[0][0], m[1][3] / m[1][1], m[2][3] / m[2][2]])
}

/// What speaks for the circle where it now lies.
fn judged(smooth: &Plane, x: f32, y: f32, radius: f32, way: f32) -> Circle {
    let mut round = 0.0;
    let mut profile = [0.0f32; STOPS];
    for ray in 0..RAYS {
        let (cos, sin) = direction(ray);
        let (along, steep) = rim_on_ray(smooth, x, y, radius, (cos, sin), way, 0.1);
        let (px, py) = (x + along * cos, y + along * sin);
        // the change along the rim, which a circle has none of
        let aside = (smooth.at(px - 0.75 * sin, py + 0.75 * cos)
            - smooth.at(px + 0.75 * sin, py - 0.75 * cos))
        .abs();
        let straight = steep / (steep + aside + 1.0);
        round += straight * straight;
        for (stop, sum) in profile.iter_mut().enumerate() {
            let out = stop as f32 / (STOPS - 1) as f32 * 1.4 * radius;
            *sum += smooth.at(x + out * cos, y + out * sin) / RAYS as f32;
        }
    }
    Circle {
        x,
        y,
        radius,
        round: round / RAYS as f32,
        profile,
    }
}
