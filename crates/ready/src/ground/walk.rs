//! How far one walks with a load: on a lattice of the ground, round obstacles, slopes counting as farther.
//!
//! Where nothing is between two points and no slope, it is the straight line, exactly. Else it is the shortest way over a
//! lattice whose points are joined to sixteen around them: at most 2.8 in a hundred too long on open ground (the
//! directions are at most 26.6° apart: 1 / cos 13.3°), and somewhat more at corners.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::polygon::{NEAR, Point, Polygon, Side};
use super::site::Sloping;

/// What a rise adds: ground that rises 1 in 10 counts as 1.6 times as far, up or down. Ours, no source.
pub const SLOPE: f64 = 6.0;
/// The lattice has no more points than this, so that a plan is made in time.
const MOST_POINTS: f64 = 6_000.0;
/// Finer than this nobody lays a pile.
const FINEST: f64 = 0.25;

/// A lattice over the ground, and what is in the way of somebody who walks.
#[derive(Clone, Debug)]
pub(super) struct Walk {
    low: Point,
    step: f64,
    columns: usize,
    rows: usize,
    /// Whether somebody can stand there.
    open: Vec<bool>,
    /// What a metre counts as there.
    heavy: Vec<f64>,
    outline: Polygon,
    /// The edges that nobody crosses.
    edges: Vec<Side>,
    obstacles: Vec<Polygon>,
    slopes: Vec<Sloping>,
    /// The edge has no corner that turns inward, nothing stands on the ground and nothing slopes: all lines are straight.
    plain: bool,
}

/// How far each point of the lattice is from one point, in metres of level ground; infinite where nobody comes, and all of
/// it from outside the ground.
#[derive(Clone, Debug)]
pub(super) struct Field<'a> {
    walk: &'a Walk,
    from: Point,
    pub far: Vec<f64>,
}

impl Walk {
    pub(super) fn of(
        outline: &Polygon,
        obstacles: &[&Polygon],
        slopes: &[Sloping],
        [low, high]: [Point; 2],
    ) -> Self {
        let (across, along) = ((high.x - low.x).max(0.0), (high.y - low.y).max(0.0));
        let wanted = (across * along / MOST_POINTS).sqrt().max(FINEST);
        let step = (wanted * 20.0).ceil() / 20.0;
        let columns = (across / step).floor() as usize + 1;
        let rows = (along / step).floor() as usize + 1;
        let mut walk = Self {
            low,
            step,
            columns,
            rows,
            open: Vec::new(),
            heavy: Vec::new(),
            outline: outline.clone(),
            edges: (outline.sides())
                .chain(obstacles.iter().flat_map(|o| o.sides()))
                .collect(),
            obstacles: obstacles.iter().map(|o| (*o).clone()).collect(),
            slopes: slopes.to_vec(),
            plain: obstacles.is_empty() && slopes.is_empty() && convex(outline),
        };
        let points: Vec<Point> = (0..walk.len()).map(|i| walk.point(i)).collect();
        walk.open = (points.iter())
            .map(|p| outline.contains(*p) && !walk.in_obstacle(*p))
            .collect();
        walk.heavy = (points.iter())
            .map(|p| 1.0 + SLOPE * walk.rise(*p))
            .collect();
        walk
    }

    pub(super) fn len(&self) -> usize {
        self.columns * self.rows
    }

    /// Between two neighbours, in metres.
    pub(super) fn step(&self) -> f64 {
        self.step
    }

    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    pub(super) fn rows(&self) -> usize {
        self.rows
    }

    pub(super) fn point(&self, index: usize) -> Point {
        let (column, row) = (index % self.columns, index / self.columns);
        Point::new(
            self.low.x + column as f64 * self.step,
            self.low.y + row as f64 * self.step,
        )
    }

    fn in_obstacle(&self, point: Point) -> bool {
        self.obstacles.iter().any(|o| o.contains(point))
    }

    /// The steepest slope there.
    fn rise(&self, point: Point) -> f64 {
        (self.slopes.iter())
            .filter(|slope| slope.outline.contains(point))
            .map(|slope| slope.rise)
            .fold(0.0, f64::max)
    }

    /// Whether a point is on the ground or its edge; from and to any other there is no way.
    fn on_ground(&self, point: Point) -> bool {
        self.outline.contains(point) || self.outline.from_edge(point) < NEAR
    }

    /// The straight way from one point to another, in metres of level ground; nothing where something is between.
    fn straight(&self, from: Point, to: Point) -> Option<f64> {
        let length = from.to(to);
        if self.plain || length < NEAR {
            return Some(length);
        }
        let way = Side(from, to);
        let span = to.minus(from);
        if self.edges.iter().any(|edge| edge.crosses(way)) {
            return None;
        }
        // A way may pass through an obstacle by two of its corners.
        let within = |share: f64| self.in_obstacle(from.plus(span, share));
        if [0.25, 0.5, 0.75].into_iter().any(within) {
            return None;
        }
        Some(length * self.mean_weight(way))
    }

    /// What a metre of a way counts as, on the whole: its stretches are cut at the edges of slopes.
    fn mean_weight(&self, way: Side) -> f64 {
        if self.slopes.is_empty() {
            return 1.0;
        }
        let mut cuts = vec![0.0, 1.0];
        let span = way.1.minus(way.0);
        for side in self.slopes.iter().flat_map(|s| s.outline.sides()) {
            let along = side.1.minus(side.0);
            let apart = span.cross(along);
            if apart.abs() > 1e-12 {
                let share = side.0.minus(way.0).cross(along) / apart;
                let on_side = side.0.minus(way.0).cross(span) / apart;
                if (0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&on_side) {
                    cuts.push(share);
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts.windows(2)
            .map(|cut| {
                let middle = way.0.plus(span, (cut[0] + cut[1]) / 2.0);
                (cut[1] - cut[0]) * (1.0 + SLOPE * self.rise(middle))
            })
            .sum()
    }

    /// How far all points are from one.
    pub(super) fn field(&self, from: Point) -> Field<'_> {
        let starts = self.on_ground(from);
        let mut far: Vec<f64> = (0..self.len())
            .map(|i| match starts && self.open[i] {
                true => self.straight(from, self.point(i)),
                false => None,
            })
            .map(|way| way.unwrap_or(f64::INFINITY))
            .collect();
        if !self.plain {
            self.walk_on(&mut far);
        }
        Field {
            walk: self,
            from,
            far,
        }
    }

    /// Goes on from the points that were reached straight, always from the nearest.
    fn walk_on(&self, far: &mut [f64]) {
        let mut next: BinaryHeap<(Reverse<Metres>, usize)> = (far.iter().enumerate())
            .filter(|(_, way)| way.is_finite())
            .map(|(i, way)| (Reverse(Metres(*way)), i))
            .collect();
        while let Some((Reverse(Metres(way)), at)) = next.pop() {
            if way > far[at] {
                continue;
            }
            for (there, long) in self.around(at) {
                let weight = (self.heavy[at] + self.heavy[there]) / 2.0;
                let longer = way + long * weight;
                if longer + NEAR < far[there] && self.free(at, there) {
                    far[there] = longer;
                    next.push((Reverse(Metres(longer)), there));
                }
            }
        }
    }

    /// Whether one can step from a point to a neighbour.
    fn free(&self, from: usize, to: usize) -> bool {
        let way = Side(self.point(from), self.point(to));
        let middle = way.0.plus(way.1.minus(way.0), 0.5);
        !self.in_obstacle(middle) && !self.edges.iter().any(|edge| edge.crosses(way))
    }

    /// The open neighbours of a point, with how far they are.
    fn around(&self, at: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let (column, row) = ((at % self.columns) as i64, (at / self.columns) as i64);
        STEPS.iter().filter_map(move |(dx, dy)| {
            let (x, y) = (column + dx, row + dy);
            let on = (0..self.columns as i64).contains(&x) && (0..self.rows as i64).contains(&y);
            let there = on.then_some((y * self.columns as i64 + x) as usize)?;
            self.open[there].then_some((there, self.step * (*dx as f64).hypot(*dy as f64)))
        })
    }
}

/// The sixteen steps to the points around.
const STEPS: [(i64, i64); 16] = [
    (1, 0),
    (0, 1),
    (-1, 0),
    (0, -1),
    (1, 1),
    (-1, 1),
    (-1, -1),
    (1, -1),
    (2, 1),
    (1, 2),
    (-1, 2),
    (-2, 1),
    (-2, -1),
    (-1, -2),
    (1, -2),
    (2, -1),
];

impl Field<'_> {
    /// How far a point is that need not be of the lattice: straight, or by one of the four points around it.
    pub(super) fn at(&self, point: Point) -> f64 {
        let walk = self.walk;
        if !walk.on_ground(self.from) || !walk.on_ground(point) {
            return f64::INFINITY;
        }
        let straight = walk.straight(self.from, point);
        if let (true, Some(way)) = (walk.slopes.is_empty(), straight) {
            return way;
        }
        let column = ((point.x - walk.low.x) / walk.step).clamp(0.0, (walk.columns - 1) as f64);
        let row = ((point.y - walk.low.y) / walk.step).clamp(0.0, (walk.rows - 1) as f64);
        let mut least = straight.unwrap_or(f64::INFINITY);
        for x in [column.floor(), column.ceil()] {
            for y in [row.floor(), row.ceil()] {
                let index = y as usize * walk.columns + x as usize;
                let from = walk.point(index);
                if let Some(rest) = walk.straight(from, point) {
                    least = least.min(self.far[index] + rest);
                }
            }
        }
        least
    }
}

/// Whether no corner turns inward.
fn convex(outline: &Polygon) -> bool {
    let sides: Vec<Point> = outline.sides().map(|s| s.1.minus(s.0)).collect();
    let next = sides.iter().cycle().skip(1);
    let turns: Vec<f64> = sides.iter().zip(next).map(|(a, b)| a.cross(*b)).collect();
    turns.iter().all(|turn| *turn > -NEAR) || turns.iter().all(|turn| *turn < NEAR)
}

/// Metres that can be put in order.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Metres(f64);

impl Eq for Metres {}

impl PartialOrd for Metres {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Metres {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}
