//! What was read, sorted by what it says something of.

use crate::again::MOST_READINGS;
use crate::kit::Hypothesis;
use crate::looks::{self, LookList};
use crate::question::{Asked, Question};
use crate::readable::{QUANTITIES, Quantity};
use crate::reading::{BendLook, Coating, EndLook, Kind, Reading, Which};
use crate::way::{By, Shown};

/// What was judged by eye stands once: who looks again sees with the same eyes, so the last look counts. Sizes stand as
/// often as they were measured, for a slip is not made twice; see [`crate::again`].
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Evidence {
    pub kind: Option<Kind>,
    /// By its number in the list of looks.
    pub look: Option<usize>,
    pub ends: [Option<EndLook>; 2],
    pub bend: Option<BendLook>,
    pub coating: Option<Coating>,
    pub holes: Option<i64>,
    /// By quantity, in the order in which they were measured.
    pub sizes: [Vec<Shown>; QUANTITIES],
}

impl Evidence {
    pub(crate) fn of(readings: &[Reading], list: &LookList) -> Self {
        let mut evidence = Self::default();
        for reading in readings {
            evidence.take(reading, list);
        }
        evidence
    }

    fn take(&mut self, reading: &Reading, list: &LookList) {
        match reading {
            Reading::Kind { is: Kind::Unknown }
            | Reading::End {
                is: EndLook::Unknown,
                ..
            }
            | Reading::Bend {
                is: BendLook::Unknown,
            }
            | Reading::Coating {
                is: Coating::Unknown,
            }
            | Reading::Unknown => {}
            Reading::Kind { is } => self.kind = Some(*is),
            Reading::Looks { like } => self.look = Some(list.find(like)),
            Reading::End { end, is } => self.ends[(*end == Which::Other) as usize] = Some(*is),
            Reading::Bend { is } => self.bend = Some(*is),
            Reading::Coating { is } => self.coating = Some(*is),
            Reading::Holes { count } => self.holes = Some(*count),
            Reading::Size { .. } | Reading::Mass { .. } => {
                if let Some(shown) = Shown::of(reading) {
                    let seen = &mut self.sizes[shown.way.quantity as usize];
                    if seen.len() == MOST_READINGS {
                        seen.remove(0);
                    }
                    seen.push(shown);
                }
            }
        }
    }

    pub(crate) fn sizes(&self, quantity: Quantity) -> &[Shown] {
        &self.sizes[quantity as usize]
    }

    /// The chance of all that was said by eye, if the piece is this; nothing stands for anything at all.
    pub(crate) fn chance_of_looks(&self, of: Option<&Hypothesis>, list: &LookList) -> f64 {
        let part = of.map(|of| &of.readable);
        let kind = self.kind.map(|said| looks::kind(said, part));
        let look = self.look.map(|said| {
            let is = of.map(|of| (of.look, of.readable.kind));
            list.chance(said, is)
        });
        let seen_ends = self.ends.iter().any(Option::is_some);
        let ends = seen_ends.then(|| looks::ends(self.ends, part));
        let bend = self.bend.map(|said| looks::bend(said, part));
        let coating = self.coating.map(|said| looks::coating(said, part));
        let holes = self.holes.map(|count| looks::holes(count, part));
        let chances = [kind, look, ends, bend, coating, holes];
        chances.into_iter().flatten().product()
    }

    /// Whether a question is still open: what was looked at by eye is not looked at again, nor is a size measured again,
    /// save across, with a finer tool. Such a tool finds the piece's own deviation too, of which the coarser one has
    /// told next to nothing; so the chances of its answers are taken as those before anything was measured.
    pub(crate) fn leaves_open(&self, question: &Question) -> bool {
        match (question.asked, question.way) {
            (_, Some(way)) => (self.sizes(way.quantity).iter())
                .all(|shown| way.quantity == Quantity::Across && fine(way.by) > fine(shown.way.by)),
            (Asked::Kind, _) => self.kind.is_none() && self.look.is_none(),
            (Asked::Looks, _) => self.look.is_none(),
            (Asked::End(_), _) => self.ends == [None, None],
            (Asked::Bend, _) => self.bend.is_none(),
            (Asked::Coating, _) => self.coating.is_none(),
            (Asked::Holes, _) => self.holes.is_none(),
            (Asked::Size { .. } | Asked::Mass { .. }, None) => false,
        }
    }
}

/// How fine a tool is across a piece.
pub(crate) fn fine(by: By) -> u8 {
    match by {
        By::Tape(..) => 0,
        By::Around(_) => 1,
        By::Plate(_) | By::Caliper(_) | By::Scale(_) => 2,
    }
}
