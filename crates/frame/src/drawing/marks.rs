//! Where the mark of a piece can stand on its line: clear of other lines and other marks.

use super::svg::{Extent, Spot};

/// Shares of a line's length that are tried, the middle first.
const SHARES: [f64; 7] = [0.5, 0.38, 0.62, 0.27, 0.73, 0.18, 0.82];

/// The lines of a drawing and the marks already set.
pub(super) struct Marks<'a> {
    lines: Vec<(Extent, &'a [Spot])>,
    taken: Vec<(Spot, f64)>,
    height: f64,
}

impl<'a> Marks<'a> {
    /// Room is sought among these lines, for letters of a height.
    pub(super) fn among(lines: impl Iterator<Item = &'a [Spot]>, height: f64) -> Self {
        let lines = lines.map(|line| {
            let mut extent = Extent::default();
            line.iter().for_each(|spot| extent.include(*spot));
            (extent, line)
        });
        Self {
            lines: lines.collect(),
            taken: Vec::new(),
            height,
        }
    }

    /// A place on a line with nothing near but the line itself.
    pub(super) fn clear_place(&self, line: &[Spot], wide: f64) -> Option<Spot> {
        (self.places(line, wide))
            .find(|spot| self.is_free(*spot, wide) && self.is_clear(line, *spot, wide))
    }

    /// A place on a line, or beside it if it is short, where no other mark stands.
    pub(super) fn any_place(&self, line: &[Spot], wide: f64) -> Option<Spot> {
        let beside = along(line, 0.5).map(|spot| Spot::new(spot.u + wide / 2.0 + 8.0, spot.v));
        (self.places(line, wide).chain(beside)).find(|spot| self.is_free(*spot, wide))
    }

    pub(super) fn take(&mut self, spot: Spot, wide: f64) {
        self.taken.push((spot, wide / 2.0));
    }

    fn places(&self, line: &[Spot], wide: f64) -> impl Iterator<Item = Spot> {
        let shows = length(line) > 2.2 * wide.max(self.height);
        let spots = SHARES.map(|share| along(line, share));
        spots.into_iter().flatten().filter(move |_| shows)
    }

    fn is_free(&self, spot: Spot, wide: f64) -> bool {
        (self.taken.iter()).all(|(other, half)| {
            (other.u - spot.u).abs() > half + wide / 2.0 + 4.0
                || (other.v - spot.v).abs() > self.height * 1.1
        })
    }

    fn is_clear(&self, own: &[Spot], spot: Spot, wide: f64) -> bool {
        let (aside, over) = (wide / 2.0 + 4.0, self.height / 2.0 + 4.0);
        let reaches = |extent: &Extent| {
            extent.left < spot.u + aside
                && extent.right > spot.u - aside
                && extent.top < spot.v + over
                && extent.bottom > spot.v - over
        };
        let near = |line: &[Spot]| {
            line.windows(2).any(|pair| {
                let step = pair[1].minus(pair[0]);
                let at = spot.minus(pair[0]).dot(step.unit());
                let foot = pair[0].plus(step.unit(), at.clamp(0.0, step.length()));
                (foot.u - spot.u).abs() < aside && (foot.v - spot.v).abs() < over
            })
        };
        (self.lines.iter())
            .filter(|(extent, line)| !std::ptr::eq(*line, own) && reaches(extent))
            .all(|(_, line)| !near(line))
    }
}

fn length(line: &[Spot]) -> f64 {
    (line.windows(2))
        .map(|pair| pair[1].minus(pair[0]).length())
        .sum()
}

/// The place at a share of a line's length.
fn along(line: &[Spot], share: f64) -> Option<Spot> {
    let mut left = length(line) * share;
    for pair in line.windows(2) {
        let step = pair[1].minus(pair[0]);
        if step.length() >= left {
            return Some(pair[0].plus(step.unit(), left));
        }
        left -= step.length();
    }
    line.last().copied()
}
