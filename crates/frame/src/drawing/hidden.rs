//! Hidden lines: where a nearer stroke passes over a farther one, the farther one is interrupted.
//!
//! Every stroke is a polyline of straight segments on the sheet with the nearness of each corner. A nearer segment
//! covers all that lies no farther from it than a reach: half of both drawn widths and a clear gap. What it covers of
//! a straight segment is one interval, since the distance to a segment is convex along a line. A uniform grid finds
//! the few segments that can cover each other.

use super::svg::Spot;

/// Nearer by less than this, in metres, and two lines touch: tubes that are clamped together are drawn as joined.
const TOUCH: f64 = 0.06;
/// Side of a grid cell, in drawing units.
const CELL: f64 = 16.0;

/// One line to be drawn.
pub(super) struct Stroke {
    /// Strokes of one member never hide each other.
    pub member: usize,
    /// Drawn width.
    pub width: f64,
    /// Whether it hides what is behind; what lies on another member leaves that to it.
    pub hides: bool,
    /// Corners with their nearness.
    pub corners: Vec<(Spot, f64)>,
}

/// The stretches of each stroke that are seen.
pub(super) fn seen(strokes: &[Stroke], gap: f64) -> Vec<Vec<Vec<Spot>>> {
    let segments = segments(strokes);
    let grid = Grid::new(&segments, strokes, gap);
    let mut gaps: Vec<Vec<(f64, f64)>> = strokes.iter().map(|_| Vec::new()).collect();
    let mut asked = vec![usize::MAX; segments.len()];
    for (index, segment) in segments.iter().enumerate() {
        let stroke = &strokes[segment.stroke];
        grid.visit(segment, 0.0, |cell| {
            for &other in cell {
                let other = other as usize;
                if std::mem::replace(&mut asked[other], index) == index {
                    continue;
                }
                let nearer = &segments[other];
                let hider = &strokes[nearer.stroke];
                if hider.member == stroke.member {
                    continue;
                }
                let reach = (stroke.width + hider.width) / 2.0 + gap;
                if let Some((from, to)) = segment.hidden_by(nearer, reach) {
                    gaps[segment.stroke].push((segment.at + from, segment.at + to));
                }
            }
        });
    }
    (strokes.iter().zip(gaps))
        .map(|(stroke, gaps)| cut(stroke, gaps))
        .collect()
}

struct Segment {
    stroke: usize,
    start: Spot,
    direction: Spot,
    length: f64,
    /// Length along the stroke where it starts.
    at: f64,
    nearness: (f64, f64),
}

fn segments(strokes: &[Stroke]) -> Vec<Segment> {
    let mut segments = Vec::new();
    for (index, stroke) in strokes.iter().enumerate() {
        let mut at = 0.0;
        for pair in stroke.corners.windows(2) {
            let step = pair[1].0.minus(pair[0].0);
            let length = step.length();
            segments.push(Segment {
                stroke: index,
                start: pair[0].0,
                direction: step.unit(),
                length,
                at,
                nearness: (pair[0].1, pair[1].1),
            });
            at += length;
        }
    }
    segments
}

impl Segment {
    fn end(&self) -> Spot {
        self.start.plus(self.direction, self.length)
    }

    fn nearness_at(&self, t: f64) -> f64 {
        let share = if self.length > 0.0 {
            (t / self.length).clamp(0.0, 1.0)
        } else {
            0.5
        };
        self.nearness.0 + (self.nearness.1 - self.nearness.0) * share
    }

    /// From where to where along it another segment hides it; nothing when the other is not nearer.
    fn hidden_by(&self, other: &Segment, reach: f64) -> Option<(f64, f64)> {
        // The nearest corner of the other is no nearer than the farthest of this: most pairs end here.
        if other.nearness.0.max(other.nearness.1) <= self.nearness.0.min(self.nearness.1) + TOUCH {
            return None;
        }
        let (from, to) = self.within(other, reach)?;
        let middle = (from + to) / 2.0;
        let across = self.start.plus(self.direction, middle).minus(other.start);
        let over = other.nearness_at(across.dot(other.direction));
        (over > self.nearness_at(middle) + TOUCH).then_some((from, to))
    }

    /// The interval of it that lies within a reach of another segment: the strip beside it and a disc at either end.
    fn within(&self, other: &Segment, reach: f64) -> Option<(f64, f64)> {
        let mut found: Option<(f64, f64)> = None;
        let mut add = |(from, to): (f64, f64)| {
            let (from, to) = (from.max(0.0), to.min(self.length));
            if from < to {
                let (a, b) = found.unwrap_or((from, to));
                found = Some((a.min(from), b.max(to)));
            }
        };
        for middle in [other.start, other.end()] {
            let to_middle = middle.minus(self.start);
            let along = to_middle.dot(self.direction);
            let aside = to_middle.dot(self.direction.turned());
            if aside.abs() < reach {
                let half = (reach * reach - aside * aside).sqrt();
                add((along - half, along + half));
            }
        }
        // In the other's own axes: along it between its ends, and aside of it no more than the reach.
        let start = self.start.minus(other.start);
        let side = other.direction.turned();
        let along = slab(
            start.dot(other.direction),
            self.direction.dot(other.direction),
            (0.0, other.length),
        );
        let aside = slab(start.dot(side), self.direction.dot(side), (-reach, reach));
        if let (Some(a), Some(b)) = (along, aside) {
            add((a.0.max(b.0), a.1.min(b.1)));
        }
        found
    }
}

/// For which `t` does `start + t * speed` lie between two bounds?
fn slab(start: f64, speed: f64, (low, high): (f64, f64)) -> Option<(f64, f64)> {
    if speed.abs() < 1e-12 {
        return (low <= start && start <= high).then_some((f64::MIN, f64::MAX));
    }
    let (a, b) = ((low - start) / speed, (high - start) / speed);
    Some((a.min(b), a.max(b)))
}

/// Which hiding segments lie near each cell of the sheet.
struct Grid {
    left: f64,
    top: f64,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
}

impl Grid {
    fn new(segments: &[Segment], strokes: &[Stroke], gap: f64) -> Self {
        let widest = strokes.iter().map(|s| s.width).fold(0.0, f64::max);
        let mut extent = super::svg::Extent::default();
        for segment in segments {
            extent.include(segment.start);
            extent.include(segment.end());
        }
        let count = |from: f64, to: f64| ((to - from) / CELL).clamp(0.0, 4_000.0) as usize + 1;
        let (columns, rows) = (
            count(extent.left, extent.right),
            count(extent.top, extent.bottom),
        );
        let mut grid = Self {
            left: extent.left,
            top: extent.top,
            columns,
            rows,
            cells: vec![Vec::new(); columns * rows],
        };
        for (index, segment) in segments.iter().enumerate() {
            let hider = &strokes[segment.stroke];
            if hider.hides {
                let reach = (hider.width + widest) / 2.0 + gap;
                for cell in grid.touched(segment, reach) {
                    grid.cells[cell].push(index as u32);
                }
            }
        }
        grid
    }

    fn visit(&self, segment: &Segment, reach: f64, mut each: impl FnMut(&[u32])) {
        for cell in self.touched(segment, reach) {
            each(&self.cells[cell]);
        }
    }

    /// The cells that a segment comes within a reach of, column by column.
    fn touched(&self, segment: &Segment, reach: f64) -> Vec<usize> {
        let (a, b) = (segment.start, segment.end());
        let (left, right) = (a.u.min(b.u) - reach, a.u.max(b.u) + reach);
        let column = |u: f64| (((u - self.left) / CELL).max(0.0) as usize).min(self.columns - 1);
        let row = |v: f64| (((v - self.top) / CELL).max(0.0) as usize).min(self.rows - 1);
        let mut cells = Vec::new();
        for c in column(left)..=column(right) {
            // The stretch of the segment that can reach into this column.
            let from = self.left + c as f64 * CELL - reach;
            let inside = slab(a.u, segment.direction.u, (from, from + CELL + 2.0 * reach));
            // Rounding may leave out a column that the ends just touch; then all of the segment counts.
            let (from, to) = inside.unwrap_or((0.0, segment.length));
            let at = |t: f64| a.v + segment.direction.v * t.clamp(0.0, segment.length);
            let (one, other) = (at(from), at(to));
            let (top, bottom) = (one.min(other) - reach, one.max(other) + reach);
            cells.extend((row(top)..=row(bottom)).map(|r| r * self.columns + c));
        }
        cells
    }
}

/// A stroke without its gaps. A crumb hardly longer than the stroke is wide would look like a blot, and is left out.
fn cut(stroke: &Stroke, mut gaps: Vec<(f64, f64)>) -> Vec<Vec<Spot>> {
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let length: f64 = (stroke.corners.windows(2))
        .map(|pair| pair[1].0.minus(pair[0].0).length())
        .sum();
    let mut stretches = Vec::new();
    let mut from = 0.0;
    for (start, end) in gaps {
        if start - from > 1.5 * stroke.width {
            stretches.push(stretch(stroke, from, start));
        }
        from = end.max(from);
    }
    if from == 0.0 || length - from > 1.5 * stroke.width {
        stretches.push(stretch(stroke, from, length));
    }
    stretches
}

fn stretch(stroke: &Stroke, from: f64, to: f64) -> Vec<Spot> {
    let mut points = Vec::new();
    let mut at = 0.0;
    for pair in stroke.corners.windows(2) {
        let step = pair[1].0.minus(pair[0].0);
        let (length, direction) = (step.length(), step.unit());
        let place = |s: f64| pair[0].0.plus(direction, (s - at).clamp(0.0, length));
        if at + length >= from && at <= to {
            if points.is_empty() {
                points.push(place(from));
            }
            points.push(place(to));
        }
        at += length;
    }
    points
}
