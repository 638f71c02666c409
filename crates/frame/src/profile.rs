//! The profile: one half of a bow's line, from the ground to the peak, as a chain of straights and arcs.

use std::f64::consts::FRAC_PI_2;

use crate::across::Across;
use crate::profile_asked::{AskedLink, NoProfile, Peak};
use crate::segment::Segment;

/// One link of the chain with its name in the family file.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Such as "side" or "roof".
    pub name: String,
    pub(crate) start: Across,
    /// Direction at the start, radians over the horizontal, pointing to the middle at 0.
    pub(crate) heading: f64,
    pub(crate) radius: Option<f64>,
    /// Length along the link.
    pub length: f64,
}

impl Link {
    /// Radius of the axis; nothing for a straight.
    pub fn radius(&self) -> Option<f64> {
        self.radius
    }

    /// Direction at the start, radians over the horizontal: 0 points to the middle, more than a right angle outward.
    pub fn heading(&self) -> f64 {
        self.heading
    }

    /// Direction at the end.
    pub fn heading_after(&self) -> f64 {
        self.heading - self.turn()
    }

    /// By how much the link turns towards the middle; nothing for a straight.
    pub fn turn(&self) -> f64 {
        self.radius.map_or(0.0, |r| self.length / r)
    }

    /// The point `s` metres along the link.
    pub(crate) fn at(&self, s: f64) -> Across {
        match self.radius {
            None => self.start + Across::towards(self.heading).scaled(s),
            Some(r) => {
                // The chord: half of the turn off the heading. It keeps its digits on the flattest arc, which the way
                // over a far centre does not.
                let half_turn = s / r / 2.0;
                let chord = 2.0 * r * half_turn.sin();
                self.start + Across::towards(self.heading - half_turn).scaled(chord)
            }
        }
    }

    /// Where along the link, which does not sink, a height is reached.
    fn along_height(&self, z: f64) -> f64 {
        let up = z - self.start.z;
        let (sin, cos) = self.heading.sin_cos();
        let s = match self.radius {
            None => up / sin,
            Some(r) => r * (self.heading - (cos + up / r).clamp(-1.0, 1.0).acos()),
        };
        // A level link is reached at its start.
        if s.is_nan() {
            0.0
        } else {
            s.clamp(0.0, self.length)
        }
    }

    /// Where along the link it comes for the last time from outside a line upright at `x` to the inside, if it does.
    fn enters(&self, x: f64) -> Option<f64> {
        let (sin, cos) = self.heading.sin_cos();
        let is_outside = |at: f64| at < x - NOTHING;
        let s = match self.radius {
            None if is_outside(self.start.x) => (x - self.start.x) / cos,
            None => return None,
            Some(r) => {
                // An arc that starts outward is farthest out where it heads upright.
                let turns_in = self.heading > FRAC_PI_2 && self.heading_after() < FRAC_PI_2;
                let farthest = if turns_in {
                    self.start.x + r * sin - r
                } else {
                    self.start.x
                };
                if !is_outside(farthest) {
                    return None;
                }
                r * (self.heading - (sin - (x - self.start.x) / r).clamp(-1.0, 1.0).asin())
            }
        };
        Some(s.clamp(0.0, self.length))
    }

    /// Chord, rise and radius of the link, if it is an arc.
    pub fn segment(&self) -> Option<Segment> {
        self.radius.map(|r| Segment::from_arc(r, self.turn()))
    }

    /// The same link on the right half, from the peak down.
    pub(crate) fn mirrored(&self) -> Self {
        Self {
            name: self.name.clone(),
            start: self.at(self.length).mirrored(),
            heading: -self.heading_after(),
            radius: self.radius,
            length: self.length,
        }
    }
}

/// What is nothing, of metres.
const NOTHING: f64 = 1e-9;

/// A whole profile: the solved left half, mirrored at the middle line.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    half: Vec<Link>,
    half_length: f64,
}

impl Profile {
    /// Solves the chain for a width (leg to leg) and a height (ground to peak), in metres.
    ///
    /// What is left to follow must be as much as the ends settle: two measures, and with a smooth peak a turn or kink
    /// besides. All is in closed form (see `closing.rs`), so the time it takes depends on the number of links only.
    ///
    /// Where two profiles would do, the one is taken that a builder means: the one that kinks less outward, then the
    /// one with the greater open extents (the flatter arc, the longer straight). A profile never sinks on its way to
    /// the peak, never passes the middle, and none of its arcs turns by more than a half circle.
    pub fn solve(
        width: f64,
        height: f64,
        peak: Peak,
        asked: &[AskedLink],
    ) -> Result<Self, NoProfile> {
        let half = crate::profile_solve::solve(width, height, peak, asked)?;
        let half_length = half.iter().map(|l| l.length).sum();
        Ok(Self { half, half_length })
    }

    /// Length from the ground at the left to the peak.
    pub fn half_length(&self) -> f64 {
        self.half_length
    }

    /// Length from the ground at the left over the peak to the ground at the right.
    pub fn length(&self) -> f64 {
        2.0 * self.half_length
    }

    /// The links of the left half, from the ground up.
    pub fn links(&self) -> &[Link] {
        &self.half
    }

    /// The point `s` metres along the whole profile, from the ground at the left.
    pub fn at(&self, s: f64) -> Across {
        if s > self.half_length {
            return self.at_left(self.length() - s).mirrored();
        }
        self.at_left(s)
    }

    fn at_left(&self, mut s: f64) -> Across {
        s = s.clamp(0.0, self.half_length);
        let (last, before) = self.half.split_last().expect("a solved profile has links");
        for link in before {
            if s <= link.length {
                return link.at(s);
            }
            s -= link.length;
        }
        last.at(s)
    }

    /// How far along the left half a share of a named link lies; nothing when no link has the name.
    pub fn along_link(&self, name: &str, share: f64) -> Option<f64> {
        let index = self.half.iter().position(|l| l.name == name)?;
        let before: f64 = self.half[..index].iter().map(|l| l.length).sum();
        Some(before + share.clamp(0.0, 1.0) * self.half[index].length)
    }

    /// How far along the left half a length along a named link lies; nothing when no link has the name, or it is
    /// shorter.
    pub fn along_link_for(&self, name: &str, length: f64) -> Option<f64> {
        let link = self.half.iter().find(|l| l.name == name)?;
        (length <= link.length + NOTHING)
            .then(|| self.along_link(name, length / link.length))
            .flatten()
    }

    /// How far along the left half the roof is over a place `x` from the middle; nothing outside the legs.
    pub fn along_aside(&self, x: f64) -> Option<f64> {
        self.along_height(self.height_at(x)?)
    }

    /// How far along the left half a height is reached for the first time; nothing when the peak is lower.
    pub fn along_height(&self, z: f64) -> Option<f64> {
        let mut before = 0.0;
        for link in &self.half {
            if link.at(link.length).z >= z {
                return Some(before + link.along_height(z));
            }
            before += link.length;
        }
        // The peak itself, where rounding has left the last link a hair below it.
        let peak = self.at_left(self.half_length).z;
        (z <= peak + NOTHING).then_some(self.half_length)
    }

    /// Height of the roof over the ground at `x` from the middle; nothing outside the legs, even where a bow that
    /// starts outward reaches over them, and the ground itself where `x` is on an upright leg that goes straight into
    /// the roof.
    pub fn height_at(&self, x: f64) -> Option<f64> {
        let foot = self.at_left(0.0);
        let left = -x.abs();
        if left.is_nan() || left < foot.x - NOTHING {
            return None;
        }
        let entry = self.half.iter().rev().find_map(|link| {
            let s = link.enters(left)?;
            Some(link.at(s).z)
        });
        Some(entry.unwrap_or(foot.z))
    }

    /// How far along the left half the bow is farthest from the middle: at the ground, or, of one that starts outward,
    /// where it is upright again. The first of places that are as far.
    pub fn along_widest(&self) -> f64 {
        let mut before = 0.0;
        let mut widest = 0.0;
        for link in &self.half {
            // An arc is farthest out where it heads straight up; what is straight, at an end.
            let upright = link.radius.map(|r| r * (link.heading - FRAC_PI_2));
            let inside = upright.filter(|s| (0.0..=link.length).contains(s));
            for s in inside.into_iter().chain([link.length]) {
                if self.at_left(before + s).x < self.at_left(widest).x - NOTHING {
                    widest = before + s;
                }
            }
            before += link.length;
        }
        widest
    }

    /// Area between the bow and the ground, in square metres, by the chain's own formulas.
    pub fn area(&self) -> f64 {
        // The polygon through the link ends, then each arc's segment on top of its chord.
        let mut points: Vec<Across> = vec![self.at_left(0.0)];
        points.extend(self.half.iter().map(|l| l.at(l.length)));
        let polygon: f64 = points
            .windows(2)
            .map(|w| (w[1].x - w[0].x) * (w[0].z + w[1].z) / 2.0)
            .sum();
        let segments: f64 = self
            .half
            .iter()
            .filter_map(Link::segment)
            .map(|s| s.area())
            .sum();
        2.0 * (polygon + segments)
    }
}
