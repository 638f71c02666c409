//! Roughly where the page lies: the large light patch that four straight sides go round, whose edges are seen.

use image::RgbImage;

use crate::sheet_plane::Point;

/// The longest side of the copy that is looked at.
const LONGEST: u32 = 512;
/// How many levels of light are tried for telling paper from ground.
const LEVELS: u32 = 14;
/// A page takes at least this share of the picture: a smaller one has too few pixels to be read.
const LEAST: f32 = 0.08;
/// The share of a side along which the page must be lighter than the ground by so much, of 255; for the worst side and
/// for all together.
const LIGHTER: f32 = 9.0;
const SEEN: f32 = 0.45;
const SEEN_IN_ALL: f32 = 0.72;
/// How much of the four-sided shape the patch's hull must fill; writing makes holes in the patch itself, this share of it
/// at most.
const FILLED: f32 = 0.85;
const HOLES: f32 = 0.75;
/// How near the picture's edge a side is no edge of the page, in pixels of the copy.
const RIM: f32 = 3.0;
/// What a corner may measure, in degrees.
const CORNER: std::ops::Range<f32> = 35.0..145.0;

/// A picture of one number a pixel.
struct Light {
    wide: usize,
    high: usize,
    light: Vec<u8>,
}

/// Returns the corners of the page in pixels of the picture, clockwise from the top left; nothing where no page is told
/// from the ground on all four sides.
pub(crate) fn corners(picture: &RgbImage) -> Option<[Point; 4]> {
    let (wide, high) = picture.dimensions();
    if wide < 64 || high < 64 {
        return None;
    }
    let scale = (LONGEST as f32 / wide.max(high) as f32).min(1.0);
    let side = |side: u32| ((side as f32 * scale).round() as u32).max(1);
    let small = image::imageops::thumbnail(picture, side(wide), side(high));
    let mut best: Option<(f32, [Point; 4])> = None;
    // Paper is white: its least colour is high, where that of wood, soil and grass is low. On grey ground plain light
    // tells as much, and more where the light itself has a colour.
    for of in [least_colour, plain_light] {
        let light = Light::of(&small, of);
        for level in levels(&light) {
            let Some(found) = patch(&light, level).and_then(|patch| four_sides(&light, patch))
            else {
                continue;
            };
            let worth = worth(&light, &found);
            if worth > best.map_or(0.0, |(most, _)| most) {
                best = Some((worth, found));
            }
        }
    }
    let (_, found) = best?;
    let [x, y] = [
        wide as f32 / small.width() as f32,
        high as f32 / small.height() as f32,
    ];
    Some(found.map(|p| [p[0] * x, p[1] * y]))
}

fn least_colour(pixel: [u8; 3]) -> u8 {
    pixel.into_iter().min().unwrap_or(0)
}

fn plain_light([r, g, b]: [u8; 3]) -> u8 {
    ((u32::from(r) * 54 + u32::from(g) * 183 + u32::from(b) * 19) >> 8) as u8
}

impl Light {
    fn of(picture: &RgbImage, of: impl Fn([u8; 3]) -> u8) -> Self {
        Self {
            wide: picture.width() as usize,
            high: picture.height() as usize,
            light: picture.pixels().map(|pixel| of(pixel.0)).collect(),
        }
    }

    /// The mean light about a place, of three by three pixels; nothing beyond the picture.
    fn about(&self, x: f32, y: f32) -> Option<f32> {
        let inside = (1.0..self.wide as f32 - 1.0).contains(&x)
            && (1.0..self.high as f32 - 1.0).contains(&y);
        if !inside {
            return None;
        }
        let (x, y) = (x as usize, y as usize);
        let mut sum = 0;
        for row in y.saturating_sub(1)..(y + 2).min(self.high) {
            for column in x.saturating_sub(1)..(x + 2).min(self.wide) {
                sum += u32::from(self.light[row * self.wide + column]);
            }
        }
        Some(sum as f32 / 9.0)
    }
}

/// Levels to try, from the darkest tenth of the picture to its lightest.
fn levels(light: &Light) -> Vec<u8> {
    let mut sorted = light.light.clone();
    sorted.sort_unstable();
    let at = |share: f32| f32::from(sorted[((sorted.len() - 1) as f32 * share) as usize]);
    let (low, high) = (at(0.05), at(0.98));
    let mut levels: Vec<u8> = (1..=LEVELS)
        .map(|n| (low + (high - low) * n as f32 / (LEVELS + 1) as f32) as u8)
        .collect();
    levels.dedup();
    levels
}

/// Returns the outermost pixels of each row of the largest patch that is lighter than a level. What hangs on by a thread
/// is cut off first.
fn patch(light: &Light, level: u8) -> Option<Vec<Point>> {
    let (wide, high) = (light.wide, light.high);
    let bright = |x: usize, y: usize| light.light[y * wide + x] > level;
    let mut open = vec![false; wide * high];
    for y in 1..high - 1 {
        for x in 1..wide - 1 {
            open[y * wide + x] = bright(x, y)
                && bright(x - 1, y)
                && bright(x + 1, y)
                && bright(x, y - 1)
                && bright(x, y + 1);
        }
    }
    let least = (wide as f32 * high as f32 * LEAST * (1.0 - HOLES)) as usize;
    let (mut queue, mut best) = (Vec::new(), Vec::new());
    for start in 0..open.len() {
        if !std::mem::take(&mut open[start]) {
            continue;
        }
        queue.clear();
        queue.push(start);
        let mut done = 0;
        while let Some(&at) = queue.get(done) {
            done += 1;
            // The frame is never open, so all four neighbours are in the picture.
            for next in [at - 1, at + 1, at - wide, at + wide] {
                if std::mem::take(&mut open[next]) {
                    queue.push(next);
                }
            }
        }
        if queue.len() > best.len() {
            std::mem::swap(&mut queue, &mut best);
        }
    }
    if best.len() < least {
        return None;
    }
    let mut ends = vec![(usize::MAX, 0); high];
    for at in &best {
        let (x, y) = (at % wide, at / wide);
        ends[y] = (ends[y].0.min(x), ends[y].1.max(x));
    }
    let mut outline = Vec::new();
    for (y, (left, right)) in ends.into_iter().enumerate() {
        if left <= right {
            // The cut took a pixel all round.
            let y = y as f32;
            for x in [left as f32 - 1.0, right as f32 + 2.0] {
                outline.extend([[x, y - 1.0], [x, y + 2.0]]);
            }
        }
    }
    Some(outline)
}

/// Lays four sides round a patch: those of its hull, the others left out one by one, each time the one whose neighbours
/// meet at the least cost of area.
fn four_sides(light: &Light, outline: Vec<Point>) -> Option<[Point; 4]> {
    let hull = hull(outline);
    let size = area(&hull);
    if size < LEAST * (light.wide * light.high) as f32 {
        return None;
    }
    let mut shape = thinned(hull);
    while shape.len() > 4 {
        let n = shape.len();
        let without = (0..n).filter_map(|i| {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| shape[(i + k) % n]);
            let met = meeting([a, b], [d, c])?;
            let ahead = (met[0] - b[0]) * (b[0] - a[0]) + (met[1] - b[1]) * (b[1] - a[1]) >= 0.0;
            ahead.then(|| (area(&[b, met, c]), i, met))
        });
        let (_, i, met) = without.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let (b, c) = ((i + 1) % n, (i + 2) % n);
        shape[b] = met;
        shape.remove(c);
    }
    let found: [Point; 4] = shape.try_into().ok()?;
    let found = clockwise_from_top_left(found);
    let inside = |p: &Point| {
        (-0.05..1.05).contains(&(p[0] / light.wide as f32))
            && (-0.05..1.05).contains(&(p[1] / light.high as f32))
    };
    let filled = size / area(&found).max(1.0);
    (found.iter().all(inside) && filled > FILLED && corners_are_likely(&found)).then_some(found)
}

/// Leaves out corners until few enough remain to be gone through again and again: those that stand out least.
fn thinned(mut hull: Vec<Point>) -> Vec<Point> {
    const FEW: usize = 32;
    while hull.len() > FEW {
        let n = hull.len();
        let sticks_out = |i: usize| area(&[hull[(i + n - 1) % n], hull[i], hull[(i + 1) % n]]);
        let least = (0..n).min_by(|&a, &b| sticks_out(a).total_cmp(&sticks_out(b)));
        hull.remove(least.unwrap_or(0));
    }
    hull
}

/// The hull of points, going round clockwise as seen (A. M. Andrew's way: sorted, upper and lower half).
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut half: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = half[..]
                && turn(a, b, p) <= 0.0
            {
                half.pop();
            }
            half.push(p);
        }
        half.pop();
        half
    };
    let mut hull = half(&mut points.iter().copied());
    hull.extend(half(&mut points.iter().rev().copied()));
    hull
}

fn turn(a: Point, b: Point, c: Point) -> f32 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

fn area(shape: &[Point]) -> f32 {
    let next = shape.iter().cycle().skip(1);
    let twice: f32 = shape
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    twice.abs() / 2.0
}

/// Where two lines meet, each given by two points; nothing where they run side by side.
pub(crate) fn meeting([a, b]: [Point; 2], [c, d]: [Point; 2]) -> Option<Point> {
    let (r, s) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
    let across = r[0] * s[1] - r[1] * s[0];
    if across.abs() < 1e-4 * r[0].hypot(r[1]) * s[0].hypot(s[1]) {
        return None;
    }
    let along = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / across;
    let met = [a[0] + along * r[0], a[1] + along * r[1]];
    met.iter().all(|v| v.is_finite()).then_some(met)
}

fn clockwise_from_top_left(mut corners: [Point; 4]) -> [Point; 4] {
    let next = corners.iter().cycle().skip(1);
    let twice: f32 = corners
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    if twice < 0.0 {
        corners.reverse();
    }
    let first = (0..4).min_by(|&a, &b| {
        let sum = |i: usize| corners[i][0] + corners[i][1];
        sum(a).total_cmp(&sum(b))
    });
    corners.rotate_left(first.unwrap_or(0));
    corners
}

fn corners_are_likely(corners: &[Point; 4]) -> bool {
    (0..4).all(|i| {
        let [before, at, after] = [3, 0, 1].map(|k| corners[(i + k) % 4]);
        let way = |to: Point| (to[1] - at[1]).atan2(to[0] - at[0]).to_degrees();
        let between = (way(before) - way(after)).rem_euclid(360.0);
        CORNER.contains(&between)
    })
}

/// How well four sides are those of a page: nothing where one of them is not seen.
fn worth(light: &Light, corners: &[Point; 4]) -> f32 {
    let sides: [f32; 4] = std::array::from_fn(|i| seen(light, corners[i], corners[(i + 1) % 4]));
    let mean = sides.iter().sum::<f32>() / 4.0;
    if sides.iter().any(|&share| share < SEEN) || mean < SEEN_IN_ALL {
        return 0.0;
    }
    let share = area(corners) / (light.wide * light.high) as f32;
    mean * share.sqrt()
}

/// The share of a side along which it is lighter inside than outside. Going clockwise, inside is to the right.
fn seen(light: &Light, a: Point, b: Point) -> f32 {
    const STEPS: usize = 60;
    let long = (b[0] - a[0]).hypot(b[1] - a[1]).max(1e-3);
    let inward = [-(b[1] - a[1]) / long, (b[0] - a[0]) / long];
    let mut lighter = 0;
    for step in 0..STEPS {
        let along = (step as f32 + 0.5) / STEPS as f32;
        let at = [0, 1].map(|i| a[i] + (b[i] - a[i]) * along);
        let beside = |far: f32| light.about(at[0] + inward[0] * far, at[1] + inward[1] * far);
        if let (Some(inside), Some(outside)) = (beside(RIM), beside(-RIM))
            && inside - outside > LIGHTER
        {
            lighter += 1;
        }
    }
    lighter as f32 / STEPS as f32
}
