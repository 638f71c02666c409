//! The profile: one half of a bow's line, from the ground to the peak, as a chain of straights and arcs.

use crate::segment::Segment;

/// A point across the house: `x` from the middle line, `z` over the ground, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Across {
    /// From the middle line, left negative.
    pub x: f64,
    /// Over the ground.
    pub z: f64,
}

/// What a part of the chain is asked to be, before the solver has given the last two their extent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// A straight of this length.
    Straight(f64),
    /// An arc of this radius that bends towards the middle.
    Arc(f64),
}

/// One link of the chain with its name in the family file.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Such as "side" or "roof".
    pub name: String,
    start: Across,
    /// Direction at the start, radians over the horizontal, pointing to the middle at 0.
    heading: f64,
    /// Radius, or nothing for a straight.
    radius: Option<f64>,
    /// Length along the link.
    pub length: f64,
}

impl Link {
    /// The point `s` metres along the link.
    fn at(&self, s: f64) -> Across {
        match self.radius {
            None => Across {
                x: self.start.x + s * self.heading.cos(),
                z: self.start.z + s * self.heading.sin(),
            },
            Some(r) => {
                // The centre lies to the right of the heading, since every arc bends to the middle.
                let (sin, cos) = self.heading.sin_cos();
                let centre = Across {
                    x: self.start.x + r * sin,
                    z: self.start.z - r * cos,
                };
                let (sin, cos) = (self.heading - s / r).sin_cos();
                Across {
                    x: centre.x - r * sin,
                    z: centre.z + r * cos,
                }
            }
        }
    }

    fn heading_after(&self) -> f64 {
        self.radius
            .map_or(self.heading, |r| self.heading - self.length / r)
    }

    /// Chord, rise and radius of the link, if it is an arc.
    pub fn segment(&self) -> Option<Segment> {
        self.radius.map(|r| Segment::from_arc(r, self.length / r))
    }
}

/// A whole profile: the solved left half, mirrored at the middle line.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    half: Vec<Link>,
    half_length: f64,
}

/// Why no profile has the asked width, height and links.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoProfile {
    /// The chain needs two links whose extent can follow from width and height.
    #[error("the profile needs at least two links, the last of them an arc; it has {0}")]
    TooFewLinks(usize),
    /// One of the last two links is a straight.
    #[error("the last two links of the profile must both be arcs, so that they can meet the peak")]
    NotArcs,
    /// A link before the last two is an arc.
    #[error("`{0}` is an arc; before the last two links of the profile only straights can stand")]
    ArcTooEarly(String),
    /// The circles meet, but only by bending outward or by sinking towards the middle.
    #[error(
        "arcs of {shoulder:.3} m and {roof:.3} m meet a peak {height:.3} m high over a half width of \
         {half_width:.3} m only by bending the wrong way"
    )]
    ArcsBendWrong {
        /// Radius of the last arc but one.
        shoulder: f64,
        /// Radius of the last arc.
        roof: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
    },
    /// The circles do not reach each other.
    #[error(
        "arcs of {shoulder:.3} m and {roof:.3} m do not meet a peak {height:.3} m high over a half width of \
         {half_width:.3} m: the roof's circle misses it by {miss:.3} m"
    )]
    ArcsDoNotMeet {
        /// Radius of the last arc but one.
        shoulder: f64,
        /// Radius of the last arc.
        roof: f64,
        /// Height asked for.
        height: f64,
        /// Half of the width asked for.
        half_width: f64,
        /// How far apart the circles stay.
        miss: f64,
    },
    /// A measure that is nothing, negative, or no length that a house could have.
    #[error("`{0}` must be longer than nothing and not over {MOST_METRES} m")]
    NotPositive(String),
}

/// The largest measure of a profile; a roof's radius may be far longer than the house is wide.
const MOST_METRES: f64 = 1_000.0;

fn must_be_possible(name: &str, metres: f64) -> Result<(), NoProfile> {
    if metres > 0.0 && metres <= MOST_METRES {
        Ok(())
    } else {
        Err(NoProfile::NotPositive(name.into()))
    }
}

impl Profile {
    /// Solves the chain for a width (leg to leg) and a height (ground to peak), in metres.
    ///
    /// All links but the last two are as asked; the turns of the last two arcs follow, each tangent to the link
    /// before it. The centre of the roof's circle lies `R − r` from the shoulder's (circles that touch inside) and
    /// `R` from the peak: an intersection of two circles, in closed form.
    pub fn solve(width: f64, height: f64, asked: &[(String, Asked)]) -> Result<Self, NoProfile> {
        for (name, extent) in asked {
            let (Asked::Straight(metres) | Asked::Arc(metres)) = *extent;
            must_be_possible(name, metres)?;
        }
        must_be_possible("width", width)?;
        must_be_possible("height", height)?;
        let [given @ .., (shoulder_name, shoulder), (roof_name, roof)] = asked else {
            return Err(NoProfile::TooFewLinks(asked.len()));
        };
        let (Asked::Arc(r), Asked::Arc(big)) = (*shoulder, *roof) else {
            return Err(NoProfile::NotArcs);
        };

        let mut half: Vec<Link> = Vec::with_capacity(asked.len());
        let mut start = Across {
            x: -width / 2.0,
            z: 0.0,
        };
        let heading = std::f64::consts::FRAC_PI_2;
        for (name, extent) in given {
            let Asked::Straight(length) = *extent else {
                return Err(NoProfile::ArcTooEarly(name.clone()));
            };
            half.push(Link {
                name: name.clone(),
                start,
                heading,
                radius: None,
                length,
            });
            start.z += length;
        }

        let misses = |miss: f64| NoProfile::ArcsDoNotMeet {
            shoulder: r,
            roof: big,
            height,
            half_width: width / 2.0,
            miss,
        };
        // From the shoulder's centre, the roof's centre is at `near`, and from the peak at `big`.
        let centre = Across {
            x: start.x + r,
            z: start.z,
        };
        let (dx, dz) = (-centre.x, height - centre.z);
        let apart = dx.hypot(dz);
        let near = big - r;
        if near <= 0.0 || apart < r || apart > near + big || apart < (near - big).abs() {
            let miss = (apart - near - big)
                .max((near - big).abs() - apart)
                .max(r - apart)
                .max(-near);
            return Err(misses(miss));
        }
        let along = (near * near - big * big + apart * apart) / (2.0 * apart);
        let aside = (near * near - along * along).max(0.0).sqrt();
        // Of the two intersections the one to the lower right bends the roof the right way.
        let roof_centre = Across {
            x: centre.x + (along * dx + aside * dz) / apart,
            z: centre.z + (along * dz - aside * dx) / apart,
        };
        // A point of the arc lies from its centre at (−sin, cos) of the heading there.
        let touch_heading = (roof_centre.x - centre.x).atan2(centre.z - roof_centre.z);
        let peak_heading = roof_centre.x.atan2(height - roof_centre.z);
        let shoulder_turn = heading - touch_heading;
        let roof_turn = touch_heading - peak_heading;
        if shoulder_turn <= 0.0 || roof_turn <= 0.0 || peak_heading < -1e-9 {
            return Err(NoProfile::ArcsBendWrong {
                shoulder: r,
                roof: big,
                height,
                half_width: width / 2.0,
            });
        }
        let first = Link {
            name: shoulder_name.clone(),
            start,
            heading,
            radius: Some(r),
            length: r * shoulder_turn,
        };
        let second = Link {
            name: roof_name.clone(),
            start: first.at(first.length),
            heading: first.heading_after(),
            radius: Some(big),
            length: big * roof_turn,
        };
        half.extend([first, second]);
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
            let mirrored = self.at_left(self.length() - s);
            return Across {
                x: -mirrored.x,
                z: mirrored.z,
            };
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
        (length <= link.length + 1e-9)
            .then(|| self.along_link(name, length / link.length))
            .flatten()
    }

    /// How far along the left half a distance from the middle is reached, under the roof; nothing outside the house.
    pub fn along_aside(&self, x: f64) -> Option<f64> {
        self.along_height(self.height_at(x)?)
    }

    /// How far along the left half a height is reached; nothing when the peak is lower.
    ///
    /// A bow rises all the way to its peak, so halving the interval finds it to a fraction of a nanometre.
    pub fn along_height(&self, z: f64) -> Option<f64> {
        self.find(|p| p.z >= z)
    }

    /// Height of the bow over the ground at `x` from the middle, inside the legs; nothing outside the house, and
    /// the ground itself where `x` is on an upright leg.
    pub fn height_at(&self, x: f64) -> Option<f64> {
        let half_width = -self.at_left(0.0).x;
        if x.abs() > half_width + 1e-9 {
            return None;
        }
        self.find(|p| p.x >= -x.abs()).map(|s| self.at_left(s).z)
    }

    /// The first place on the left half from which a condition holds up to the peak.
    fn find(&self, holds: impl Fn(Across) -> bool) -> Option<f64> {
        if !holds(self.at_left(self.half_length)) {
            return None;
        }
        let (mut low, mut high) = (0.0, self.half_length);
        // Sixty halvings bring any profile that can be solved below the last digit of a float.
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if holds(self.at_left(middle)) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
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
