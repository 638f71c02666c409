//! Polygons and rectangles of the plane, in metres: inside, overlap, distance.

/// Two points this near are one, and what overlaps by less does not overlap: a tenth of a millimetre.
pub(super) const NEAR: f64 = 1e-4;

/// A point of the plane, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// The point at these metres.
    pub fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// How far from another, in metres.
    pub fn to(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    pub(super) fn minus(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }

    /// So many times `along` farther on.
    pub(super) fn plus(self, along: Self, times: f64) -> Self {
        Self::new(self.x + along.x * times, self.y + along.y * times)
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// More than nothing where `other` turns to the left of this.
    pub(super) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// One metre in a direction, in radians counter-clockwise from the right.
    pub(super) fn towards(angle: f64) -> Self {
        Self::new(angle.cos(), angle.sin())
    }
}

/// A straight from one point to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Side(pub Point, pub Point);

impl Side {
    /// How far a point is from the nearest of the straight.
    pub(super) fn distance(self, point: Point) -> f64 {
        let along = self.1.minus(self.0);
        let square = along.dot(along);
        let share = match square > 0.0 {
            true => (point.minus(self.0).dot(along) / square).clamp(0.0, 1.0),
            false => 0.0,
        };
        self.0.plus(along, share).to(point)
    }

    /// Whether the two meet, at an end or between.
    pub(super) fn meets(self, other: Side) -> bool {
        let (a, b) = (self.1.minus(self.0), other.1.minus(other.0));
        let [c, d] = [other.0, other.1].map(|p| a.cross(p.minus(self.0)));
        let [e, f] = [self.0, self.1].map(|p| b.cross(p.minus(other.0)));
        if c * d < 0.0 && e * f < 0.0 {
            return true;
        }
        let ends = [
            self.distance(other.0),
            self.distance(other.1),
            other.distance(self.0),
            other.distance(self.1),
        ];
        ends.iter().any(|distance| *distance < NEAR)
    }

    /// Whether the two cross between their ends, so that each has ends on both sides of the other.
    pub(super) fn crosses(self, other: Side) -> bool {
        let (a, b) = (self.1.minus(self.0), other.1.minus(other.0));
        let [c, d] = [other.0, other.1].map(|p| a.cross(p.minus(self.0)) / a.dot(a).sqrt());
        let [e, f] = [self.0, self.1].map(|p| b.cross(p.minus(other.0)) / b.dot(b).sqrt());
        let parted = |one: f64, two: f64| one.min(two) < -NEAR && one.max(two) > NEAR;
        parted(c, d) && parted(e, f)
    }
}

/// A closed outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    corners: Vec<Point>,
}

impl Polygon {
    /// The polygon with these corners, in either sense of turning.
    pub fn new(corners: Vec<Point>) -> Self {
        Self { corners }
    }

    /// Its corners.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    pub(super) fn sides(&self) -> impl Iterator<Item = Side> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(a, b)| Side(*a, *b))
    }

    /// Square metres.
    pub fn area(&self) -> f64 {
        let doubled: f64 = self.sides().map(|side| side.0.cross(side.1)).sum();
        doubled.abs() / 2.0
    }

    /// The first two sides (counted from 1) that cross or touch without being neighbours; nothing for a plain outline.
    pub fn crossing(&self) -> Option<(usize, usize)> {
        let sides: Vec<Side> = self.sides().collect();
        let count = sides.len();
        (0..count)
            .flat_map(|i| (i + 1..count).map(move |j| (i, j)))
            .find(|(i, j)| {
                let neighbours = j - i == 1 || (*i == 0 && *j == count - 1);
                match neighbours {
                    false => sides[*i].meets(sides[*j]),
                    // Neighbours share a corner; they are wrong only where one runs back along the other.
                    true => folds(sides[*i], sides[*j]),
                }
            })
            .map(|(i, j)| (i + 1, j + 1))
    }

    /// Whether a point lies inside; one on the edge may be told either way.
    pub fn contains(&self, point: Point) -> bool {
        let mut inside = false;
        for Side(a, b) in self.sides() {
            if (a.y > point.y) != (b.y > point.y) {
                let x = a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y);
                inside ^= point.x < x;
            }
        }
        inside
    }

    /// How far a point is from the edge, inside or outside.
    pub fn from_edge(&self, point: Point) -> f64 {
        self.sides()
            .map(|side| side.distance(point))
            .fold(f64::INFINITY, f64::min)
    }

    /// Whether a polygon lies in this one, edge on edge allowed.
    pub fn holds(&self, other: &Polygon) -> bool {
        let (outer, inner): (Vec<Side>, Vec<Side>) =
            (self.sides().collect(), other.sides().collect());
        let within = |point: Point| self.contains(point) || self.from_edge(point) < NEAR;
        let crossed = inner
            .iter()
            .any(|side| outer.iter().any(|edge| edge.crosses(*side)));
        // A side may leave and come back through corners of a ground that is not convex: its middle tells.
        let middles = inner.iter().map(|s| s.0.plus(s.1.minus(s.0), 0.5));
        let corner_inside = |point: Point| other.contains(point) && other.from_edge(point) > NEAR;
        !crossed
            && other.corners.iter().copied().chain(middles).all(within)
            && !self.corners.iter().copied().any(corner_inside)
    }

    /// Whether the two share more than an edge.
    pub fn overlaps(&self, other: &Polygon) -> bool {
        let inside = |one: &Polygon, two: &Polygon| {
            let middles = two.sides().map(|s| s.0.plus(s.1.minus(s.0), 0.5));
            (two.corners.iter().copied().chain(middles))
                .chain(two.within())
                .any(|point| one.contains(point) && one.from_edge(point) > NEAR)
        };
        self.sides()
            .any(|side| other.sides().any(|edge| edge.crosses(side)))
            || inside(self, other)
            || inside(other, self)
    }

    /// Points inside: the middles of the corners with their neighbours, where they lie inside.
    fn within(&self) -> impl Iterator<Item = Point> + '_ {
        let count = self.corners.len();
        (0..count)
            .map(move |i| {
                let [a, b, c] = [i, (i + 1) % count, (i + 2) % count].map(|i| self.corners[i]);
                Point::new((a.x + b.x + c.x) / 3.0, (a.y + b.y + c.y) / 3.0)
            })
            .filter(|point| self.contains(*point))
    }

    /// Least and greatest `x` and `y`.
    pub(super) fn bounds(&self) -> [Point; 2] {
        let far = f64::INFINITY;
        let start = [Point::new(far, far), Point::new(-far, -far)];
        self.corners.iter().fold(start, |[low, high], corner| {
            [
                Point::new(low.x.min(corner.x), low.y.min(corner.y)),
                Point::new(high.x.max(corner.x), high.y.max(corner.y)),
            ]
        })
    }
}

/// Whether the second of two neighbours runs back over the first.
fn folds(one: Side, other: Side) -> bool {
    let (shared, away, back) = match one.1 == other.0 {
        true => (one.1, one.0, other.1),
        false => (one.0, one.1, other.0),
    };
    let (a, b) = (away.minus(shared), back.minus(shared));
    let flat = a.cross(b).abs() < NEAR * a.dot(a).sqrt().max(b.dot(b).sqrt());
    flat && a.dot(b) > 0.0
}

/// A rectangle: its middle, its two sides, and how its long side lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Its middle.
    pub at: Point,
    /// The side along `turn`, in metres.
    pub long: f64,
    /// The side across it.
    pub wide: f64,
    /// Radians counter-clockwise from the right.
    pub turn: f64,
}

impl Rect {
    /// Its corners, counter-clockwise.
    pub fn corners(&self) -> [Point; 4] {
        let along = Point::towards(self.turn);
        let across = Point::new(-along.y, along.x);
        [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)].map(|(l, w)| {
            self.at
                .plus(along, l * self.long)
                .plus(across, w * self.wide)
        })
    }

    /// As a polygon.
    pub fn polygon(&self) -> Polygon {
        Polygon::new(self.corners().to_vec())
    }

    /// With so much more on every side.
    pub fn grown(&self, by: f64) -> Self {
        Self {
            long: self.long + 2.0 * by,
            wide: self.wide + 2.0 * by,
            ..*self
        }
    }

    /// Whether two rectangles share more than an edge: no line along a side of either parts them.
    pub fn overlaps(&self, other: &Rect) -> bool {
        let reach = |rect: &Rect| (rect.long.hypot(rect.wide)) / 2.0;
        if self.at.to(other.at) >= reach(self) + reach(other) {
            return false;
        }
        let (ours, theirs) = (self.corners(), other.corners());
        [self.turn, other.turn]
            .iter()
            .flat_map(|turn| [*turn, turn + std::f64::consts::FRAC_PI_2])
            .all(|turn| {
                let axis = Point::towards(turn);
                let span = |corners: &[Point; 4]| {
                    corners
                        .iter()
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), c| {
                            (low.min(c.dot(axis)), high.max(c.dot(axis)))
                        })
                };
                let (a, b) = (span(&ours), span(&theirs));
                a.0 < b.1 - NEAR && b.0 < a.1 - NEAR
            })
    }
}
