//! A bent piece of a bow: what its bender and its drawing need to know.

use crate::across::Across;
use crate::profile::{Link, Profile};

/// A piece of a profile, as it lies flat on the ground; metres.
#[derive(Clone, Debug, PartialEq)]
pub struct BentLine {
    /// One after the other along the piece; neighbours differ in radius.
    pub stretches: Vec<BentStretch>,
    /// Straight from end to end.
    pub chord: f64,
    /// Greatest distance of the piece from that line.
    pub rise: f64,
}

/// A stretch that is bent to one radius, or straight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BentStretch {
    /// Length along it.
    pub length: f64,
    /// Of the axis; nothing where it is straight.
    pub radius: Option<f64>,
}

/// Why no single piece can be bent so.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoBend {
    /// The stretch is empty or not on the profile.
    #[error("from {from:.3} m to {to:.3} m is no stretch of a profile {length:.3} m long")]
    NotOnProfile {
        /// Start asked for.
        from: f64,
        /// End asked for.
        to: f64,
        /// Of the whole profile.
        length: f64,
    },
    /// A tube is bent round a former, so it has no corner.
    #[error(
        "the profile kinks by {degrees:.3} degrees {at:.3} m along it, inside the piece; let a piece end there"
    )]
    Kink {
        /// Length along the whole profile.
        at: f64,
        /// Towards the inside of the house, or to the outside when under nothing.
        degrees: f64,
    },
}

/// What is nothing, of metres and of radians.
const NOTHING: f64 = 1e-9;

impl Profile {
    /// The piece from one length along the whole profile to another, over the peak if that lies between.
    pub fn bend(&self, from: f64, to: f64) -> Result<BentLine, NoBend> {
        let length = self.length();
        let is_on_profile = from >= -NOTHING && to <= length + NOTHING && to - from > NOTHING;
        if !is_on_profile {
            return Err(NoBend::NotOnProfile { from, to, length });
        }
        let links = self.cut_out(from, to)?;
        let mut stretches: Vec<BentStretch> = Vec::new();
        for link in &links {
            match stretches.last_mut() {
                Some(last) if last.radius == link.radius => last.length += link.length,
                _ => stretches.push(BentStretch {
                    length: link.length,
                    radius: link.radius,
                }),
            }
        }
        let (start, end) = (self.at(from), self.at(to));
        Ok(BentLine {
            stretches,
            chord: (end - start).length(),
            rise: rise(&links, start, end),
        })
    }

    /// The links between two lengths along the whole profile, the first and the last cut short.
    fn cut_out(&self, from: f64, to: f64) -> Result<Vec<Link>, NoBend> {
        let right = self.links().iter().rev().map(Link::mirrored);
        let mut cut: Vec<Link> = Vec::new();
        let mut before = 0.0;
        for link in self.links().iter().cloned().chain(right) {
            let (start, end) = ((from - before).max(0.0), (to - before).min(link.length));
            let at = before;
            before += link.length;
            if end - start <= NOTHING {
                continue;
            }
            if let Some(last) = cut.last() {
                let kink = last.heading_after() - link.heading;
                if kink.abs() > NOTHING {
                    let degrees = kink.to_degrees();
                    return Err(NoBend::Kink { at, degrees });
                }
            }
            cut.push(Link {
                start: link.at(start),
                heading: link.heading - link.radius.map_or(0.0, |r| start / r),
                length: end - start,
                ..link
            });
        }
        Ok(cut)
    }
}

/// The greatest distance from the line between two points: at an end of a link, or where an arc runs along the line.
fn rise(links: &[Link], start: Across, end: Across) -> f64 {
    let chord = end - start;
    let along = Across::towards(chord.heading());
    let off = |at: Across| along.cross(at - start).abs();
    let mut most: f64 = 0.0;
    for link in links {
        most = most.max(off(link.at(link.length)));
        let Some(radius) = link.radius else {
            continue;
        };
        // A piece without kinks bulges to one side, so it runs along its chord once.
        let s = radius * (link.heading - chord.heading());
        if s > 0.0 && s < link.length {
            most = most.max(off(link.at(s)));
        }
    }
    most
}
