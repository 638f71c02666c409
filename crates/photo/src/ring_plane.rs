//! Grey levels as numbers that can be added: taken from a picture, made smaller, smoothed, and turned into edges.

use image::GrayImage;

/// A picture of grey levels, row by row.
#[derive(Clone)]
pub(crate) struct Plane {
    pub width: usize,
    pub height: usize,
    pub values: Vec<f32>,
}

/// One point on an edge: where it is, the way from dark to bright (a unit vector), and how much it counts (0 to 1).
#[derive(Clone, Copy)]
pub(crate) struct Edge {
    pub x: f32,
    pub y: f32,
    pub dx: f32,
    pub dy: f32,
    pub weight: f32,
}

impl Plane {
    pub fn black(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            values: vec![0.0; width * height],
        }
    }

    /// The picture, made smaller by averaging until no side is longer than `longest`; never made larger.
    pub fn of(picture: &GrayImage, longest: u32) -> Self {
        let (wide, high) = picture.dimensions();
        let ratio = f64::from(longest) / f64::from(wide.max(high).max(1));
        if ratio >= 1.0 {
            let values = picture.as_raw().iter().map(|&v| f32::from(v)).collect();
            return Self {
                width: wide as usize,
                height: high as usize,
                values,
            };
        }
        let shrunk = |side: u32| ((f64::from(side) * ratio).round() as usize).max(1);
        let mut plane = Self::black(shrunk(wide), shrunk(high));
        let columns = spans(wide as usize, plane.width);
        let rows = spans(high as usize, plane.height);
        let raw = picture.as_raw();
        for (y, &(top, bottom)) in rows.iter().enumerate() {
            for (x, &(left, right)) in columns.iter().enumerate() {
                let mut sum = 0u32;
                for row in top..bottom {
                    let start = row * wide as usize;
                    sum += raw[start + left..start + right]
                        .iter()
                        .map(|&v| u32::from(v))
                        .sum::<u32>();
                }
                let count = (right - left) * (bottom - top);
                plane.values[y * plane.width + x] = sum as f32 / count as f32;
            }
        }
        plane
    }

    /// Half as large each way, smoothed first so that fine grain does not turn into false edges.
    pub fn half(&self) -> Self {
        let smooth = self.smooth();
        let mut plane = Self::black(self.width.div_ceil(2), self.height.div_ceil(2));
        for y in 0..plane.height {
            for x in 0..plane.width {
                plane.values[y * plane.width + x] = smooth.values[2 * y * self.width + 2 * x];
            }
        }
        plane
    }

    /// Smoothed by the binomial weights 1 4 6 4 1 both ways, which is near a gaussian of one pixel.
    pub fn smooth(&self) -> Self {
        let mut across = self.clone();
        for (from, to) in self
            .values
            .chunks_exact(self.width)
            .zip(across.values.chunks_exact_mut(self.width))
        {
            let last = self.width - 1;
            for (x, v) in to.iter_mut().enumerate() {
                let (a, b) = (from[x.saturating_sub(2)], from[x.saturating_sub(1)]);
                let (d, e) = (from[(x + 1).min(last)], from[(x + 2).min(last)]);
                *v = (a + e + 4.0 * (b + d) + 6.0 * from[x]) / 16.0;
            }
        }
        let mut down = across.clone();
        let last = self.height - 1;
        for y in 0..self.height {
            let row = |y: usize| &across.values[y * self.width..(y + 1) * self.width];
            let (a, b, c) = (row(y.saturating_sub(2)), row(y.saturating_sub(1)), row(y));
            let (d, e) = (row((y + 1).min(last)), row((y + 2).min(last)));
            let to = &mut down.values[y * self.width..(y + 1) * self.width];
            for (x, v) in to.iter_mut().enumerate() {
                *v = (a[x] + e[x] + 4.0 * (b[x] + d[x]) + 6.0 * c[x]) / 16.0;
            }
        }
        down
    }

    /// The mean over a square of `2 reach + 1` pixels a side, cut off at the picture's sides.
    pub fn box_mean(&self, reach: usize) -> Self {
        let mut across = self.clone();
        for (from, to) in self
            .values
            .chunks_exact(self.width)
            .zip(across.values.chunks_exact_mut(self.width))
        {
            slide(from, to, reach);
        }
        let mut down = Self::black(self.width, self.height);
        let mut sums = vec![0.0f32; self.width];
        let row = |y: usize| &across.values[y * self.width..(y + 1) * self.width];
        let add = |sums: &mut [f32], row: &[f32], sign: f32| {
            sums.iter_mut().zip(row).for_each(|(s, v)| *s += sign * v);
        };
        (0..reach.min(self.height)).for_each(|y| add(&mut sums, row(y), 1.0));
        for y in 0..self.height {
            if y + reach < self.height {
                add(&mut sums, row(y + reach), 1.0);
            }
            if y > reach {
                add(&mut sums, row(y - reach - 1), -1.0);
            }
            let count = (y + reach + 1).min(self.height) - y.saturating_sub(reach);
            let to = &mut down.values[y * self.width..(y + 1) * self.width];
            to.iter_mut()
                .zip(&sums)
                .for_each(|(v, s)| *v = s / count as f32);
        }
        down
    }

    /// The value between pixels; outside the picture that of its border.
    pub fn at(&self, x: f32, y: f32) -> f32 {
        let (x, y) = (
            x.clamp(0.0, (self.width - 1) as f32),
            y.clamp(0.0, (self.height - 1) as f32),
        );
        let (left, top) = (x as usize, y as usize);
        let (right, bottom) = (
            (left + 1).min(self.width - 1),
            (top + 1).min(self.height - 1),
        );
        let (fx, fy) = (x - left as f32, y - top as f32);
        let row = |y: usize| {
            let (a, b) = (
                self.values[y * self.width + left],
                self.values[y * self.width + right],
            );
            a + (b - a) * fx
        };
        let (above, below) = (row(top), row(bottom));
        above + (below - above) * fy
    }

    /// The points where brightness changes more than it mostly does near there, so that shade does not matter.
    /// `reach` is how far "near" goes, in pixels.
    pub fn edges(&self, reach: usize) -> Vec<Edge> {
        let smooth = self.smooth();
        let (width, height) = (self.width, self.height);
        let mut steep = Self::black(width, height);
        let mut ways = vec![(0.0f32, 0.0f32); width * height];
        for y in 1..height.saturating_sub(1) {
            for x in 1..width.saturating_sub(1) {
                let v = |dx: usize, dy: usize| smooth.values[(y + dy - 1) * width + x + dx - 1];
                let gx = 3.0 * (v(2, 0) - v(0, 0) + v(2, 2) - v(0, 2)) + 10.0 * (v(2, 1) - v(0, 1));
                let gy = 3.0 * (v(0, 2) - v(0, 0) + v(2, 2) - v(2, 0)) + 10.0 * (v(1, 2) - v(1, 0));
                ways[y * width + x] = (gx / 32.0, gy / 32.0);
                steep.values[y * width + x] = gx.hypot(gy) / 32.0;
            }
        }
        let usual = steep.box_mean(reach);
        let mut edges = Vec::new();
        for y in 1..height.saturating_sub(1) {
            for x in 1..width.saturating_sub(1) {
                let (here, usual) = (steep.values[y * width + x], usual.values[y * width + x]);
                // under half a grey level a pixel nobody sees an edge
                if here < 0.5 || here < 0.8 * usual {
                    continue;
                }
                let (gx, gy) = ways[y * width + x];
                let weight = here / (here + usual);
                edges.push(Edge {
                    x: x as f32,
                    y: y as f32,
                    dx: gx / here,
                    dy: gy / here,
                    weight,
                });
            }
        }
        edges
    }
}

/// The pixels of a side of `from` that each of `to` stands for.
fn spans(from: usize, to: usize) -> Vec<(usize, usize)> {
    (0..to)
        .map(|i| {
            let start = i * from / to;
            (start, ((i + 1) * from / to).max(start + 1))
        })
        .collect()
}

/// The sliding mean of a line.
fn slide(from: &[f32], to: &mut [f32], reach: usize) {
    let mut sum: f32 = from.iter().take(reach).sum();
    for x in 0..from.len() {
        if x + reach < from.len() {
            sum += from[x + reach];
        }
        if x > reach {
            sum -= from[x - reach - 1];
        }
        let count = (x + reach + 1).min(from.len()) - x.saturating_sub(reach);
        to[x] = sum / count as f32;
    }
}
