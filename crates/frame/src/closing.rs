//! How a chain of straights and arcs can be closed: every way to choose its open measures so that it ends at a point.
//!
//! Written as complex numbers, a straight of length `L` adds `L·e^{iφ}` to where the chain ends, and an arc of radius
//! `r` that bends to the right from heading `φ` to `ψ` adds `ir·e^{iψ} − ir·e^{iφ}`. Every free turn or kink begins a
//! heading of its own, and all that follows it turns along. So the end is a sum of terms, each one constant times one
//! extent (a length or a radius, or 1) times `e^{i·heading}`. With two open measures that is, in closed form:
//! two headings, the corner of a triangle of which three sides are known; a heading and an extent, a quadratic; two
//! extents, two linear equations. Each has at most two answers.

use crate::across::Across;

/// Most headings and extents that can be open: two follow from where the chain ends, and one from a smooth peak.
pub(crate) const MOST_OPEN: usize = 3;

/// A heading: an open one (or, at 0, none) and how far from that.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Heading {
    pub open: usize,
    pub offset: f64,
}

/// A length or radius: an open one times 1, or, at 0, so many metres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Extent {
    pub open: usize,
    pub times: f64,
}

/// What is chosen for the open measures; at 0 stand the heading 0 and the extent 1 of what is given.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Choice {
    pub headings: [f64; MOST_OPEN + 1],
    pub extents: [f64; MOST_OPEN + 1],
}

impl Choice {
    pub fn heading(&self, of: Heading) -> f64 {
        self.headings[of.open] + of.offset
    }

    pub fn extent(&self, of: Extent) -> f64 {
        self.extents[of.open] * of.times
    }
}

/// Why no choice closes the chain.
pub(crate) enum NoChoice {
    /// Its end stays so far away.
    Misses(f64),
    /// Its end does not depend on the open measures as two equations would need.
    NotSettled,
}

/// Where the chain ends, as a sum over open headings and open extents.
#[derive(Clone, Debug)]
pub(crate) struct Sum {
    terms: [[Across; MOST_OPEN + 1]; MOST_OPEN + 1],
    headings: usize,
    extents: usize,
}

/// What of a number that should be nothing may be left by rounding, as a share of what it was computed from.
const ROUNDING: f64 = 1e-12;

impl Sum {
    pub fn new(start: Across, headings: usize, extents: usize) -> Self {
        let mut terms = [[Across::ZERO; MOST_OPEN + 1]; MOST_OPEN + 1];
        terms[0][0] = start;
        Self {
            terms,
            headings,
            extents,
        }
    }

    pub fn add(&mut self, extent: Extent, factor: Across, heading: Heading) {
        let term = &mut self.terms[heading.open][extent.open];
        *term = *term + Across::towards(heading.offset) * factor.scaled(extent.times);
    }

    /// Takes the last open heading for given.
    pub fn fix_last_heading(&mut self, heading: f64) {
        let last = self.headings;
        for extent in 0..=self.extents {
            let fixed = Across::towards(heading) * self.terms[last][extent];
            self.terms[0][extent] = self.terms[0][extent] + fixed;
            self.terms[last][extent] = Across::ZERO;
        }
        self.headings -= 1;
    }

    pub fn open(&self) -> usize {
        self.headings + self.extents
    }

    /// The choices that bring the end to `target`; where too little is open for that, those that come near it.
    pub fn choices(&self, target: Across) -> Result<Vec<Choice>, NoChoice> {
        let gap = target - self.terms[0][0];
        let pairs = match (self.headings, self.extents) {
            (2, 0) => self.two_headings(gap)?,
            (1, 1) => self.heading_and_extent(gap)?,
            (0, 2) => {
                let (one, other) = (self.terms[0][1], self.terms[0][2]);
                vec![parts(gap, one, other).ok_or(NoChoice::NotSettled)?]
            }
            (1, 0) => vec![(heading_to_middle(gap, self.terms[1][0]), 0.0)],
            (0, 1) => vec![(extent_to_middle(gap, self.terms[0][1]), 0.0)],
            _ => vec![(0.0, 0.0)],
        };
        let choices = pairs.into_iter().map(|(first, second)| {
            let (mut headings, mut extents) = ([0.0; MOST_OPEN + 1], [0.0; MOST_OPEN + 1]);
            extents[0] = 1.0;
            match self.headings {
                2 => (headings[1], headings[2]) = (first, second),
                1 => (headings[1], extents[1]) = (first, second),
                _ => (extents[1], extents[2]) = (first, second),
            }
            Choice { headings, extents }
        });
        Ok(choices.collect())
    }

    /// `one` and `other` are turned so that together they span the gap: a triangle of three known sides.
    fn two_headings(&self, gap: Across) -> Result<Vec<(f64, f64)>, NoChoice> {
        let (one, other) = (self.terms[1][0], self.terms[2][0]);
        let (a, b, apart) = (one.length(), other.length(), gap.length());
        let size = a + b + apart;
        let miss = (apart - a - b).max((a - b).abs() - apart);
        if miss > ROUNDING * size {
            return Err(NoChoice::Misses(miss));
        }
        if a.min(b).min(apart) <= ROUNDING * size {
            return Err(NoChoice::NotSettled);
        }
        let along = (a * a - b * b + apart * apart) / (2.0 * apart);
        let aside = (a * a - along * along).max(0.0).sqrt();
        let choices = [-aside, aside].map(|z| {
            let corner = gap.scaled(1.0 / apart) * Across { x: along, z };
            (one.turn_to(corner), other.turn_to(gap - corner))
        });
        Ok(choices.into())
    }

    /// `|gap − u·c|` is `|A + u·a|` for the right extent `u`; the heading turns the one to the other.
    fn heading_and_extent(&self, gap: Across) -> Result<Vec<(f64, f64)>, NoChoice> {
        let [[_, c, ..], [big, small, ..], ..] = self.terms;
        let square = c.dot(c) - small.dot(small);
        let half = gap.dot(c) + big.dot(small);
        let rest = gap.dot(gap) - big.dot(big);
        let size = c.dot(c) + small.dot(small);
        let extents = if square.abs() <= ROUNDING * size {
            if half.abs() <= ROUNDING * (gap.length() + big.length()) * size.sqrt() {
                return Err(NoChoice::NotSettled);
            }
            vec![rest / (2.0 * half)]
        } else {
            let inside = half * half - square * rest;
            if inside < -ROUNDING * (half * half + (square * rest).abs()) {
                let u = half / square;
                let miss = (gap - c.scaled(u)).length() - (big + small.scaled(u)).length();
                return Err(NoChoice::Misses(miss.abs()));
            }
            // The form that does not subtract nearly equal numbers.
            let sum = half + inside.max(0.0).sqrt().copysign(half);
            vec![sum / square, rest / sum]
        };
        let with_heading = extents.into_iter().filter(|u| u.is_finite()).map(|u| {
            let turned = big + small.scaled(u);
            (turned.turn_to(gap - c.scaled(u)), u)
        });
        Ok(with_heading.collect())
    }
}

/// How much of `one` and how much of `other` make up a vector; nothing when they are parallel.
fn parts(of: Across, one: Across, other: Across) -> Option<(f64, f64)> {
    let det = one.cross(other);
    (det.abs() > ROUNDING * one.length() * other.length())
        .then(|| (of.cross(other) / det, one.cross(of) / det))
}

/// The extent with which the chain ends at the middle, or as high as the peak where it does not move across.
fn extent_to_middle(gap: Across, step: Across) -> f64 {
    if step.x.abs() > ROUNDING * step.length() {
        gap.x / step.x
    } else {
        gap.z / step.z
    }
}

/// The heading with which the chain ends at the middle next to the peak, or else in the direction of the peak.
fn heading_to_middle(gap: Across, turned: Across) -> f64 {
    let height = (turned.dot(turned) - gap.x * gap.x).sqrt();
    let is_reached = (gap.length() - turned.length()).abs() <= 1e-8;
    if is_reached || height.is_nan() {
        return turned.turn_to(gap);
    }
    turned.turn_to(Across {
        x: gap.x,
        z: height.copysign(gap.z),
    })
}
