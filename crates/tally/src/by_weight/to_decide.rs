//! How large a sample settles whether a bag is short.

use std::fmt;

use super::{ByWeight, OUTSIDE, SampleIs, WeightRefused, Weights};

/// How far a weighing falls to the wrong side one time of five, in standard errors.
const ONE_OF_FIVE: f64 = 0.841_621_233_572_914_3;

/// What would settle whether a bag is short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToDecide {
    /// It is settled.
    Decided,
    /// A counted sample of so many, weighed, settles it four times of five if the bag holds what
    /// it seems to hold.
    Weigh(i64),
    /// No sample up to half of the pieces settles it; beyond that counting all is as quick, and
    /// sure.
    CountThem {
        /// Half of the pieces.
        half: i64,
    },
}

impl fmt::Display for ToDecide {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Decided => f.write_str("this weighing decides it"),
            Self::Weigh(pieces) => write!(f, "weigh a counted sample of {pieces} to decide"),
            Self::CountThem { half } => write!(
                f,
                "no sample decides this with this scale, not even one of {half}: count them"
            ),
        }
    }
}

impl ByWeight {
    /// Returns how large a sample would settle whether there are fewer than `needed`.
    ///
    /// # Errors
    /// As [`ByWeight::weigh`].
    pub fn sample_to_decide(&self, needed: i64) -> Result<ToDecide, WeightRefused> {
        let weighed = self.weigh()?;
        if weighed.against(needed).is_decided() {
            return Ok(ToDecide::Decided);
        }
        let weights = Weights::of(self)?;
        let seems = weighed.count;
        // What must be ruled out: the nearest count on the other side of the question.
        let other = if seems >= needed { needed - 1 } else { needed };
        let decides = |pieces: i64| weights.would_tell(self.sample_is, seems, other, pieces);
        let half = seems / 2;
        let smallest = smallest(self.sample_pieces(), half, decides);
        Ok(match smallest {
            Some(pieces) => ToDecide::Weigh(round_up(pieces).min(half)),
            None => ToDecide::CountThem { half },
        })
    }
}

impl Weights {
    /// Whether a sample of so many pieces would tell `seems` pieces from `other`, four times of
    /// five.
    fn would_tell(&self, sample_is: SampleIs, seems: i64, other: i64, pieces: i64) -> bool {
        let by_hand = if sample_is == SampleIs::Other {
            0
        } else {
            pieces
        };
        let (rest, other_rest) = (seems - by_hand, (other - by_hand).max(0));
        let mean = self.sample / self.pieces as f64;
        let sample = mean * pieces as f64;
        let in_bag = mean * rest as f64;
        let planned = Weights {
            pieces,
            sample,
            bag: if self.put_back {
                in_bag + sample
            } else {
                in_bag
            },
            scatter: self
                .scatter
                .expected(self.sample_readings, pieces as f64, self.reading),
            ..*self
        };
        let unlucky = ONE_OF_FIVE * planned.standard_error(rest) * mean;
        let off = planned.off(other_rest).abs() - unlucky;
        off > 0.0 && planned.odds_of(off, other_rest, 0.0) < OUTSIDE
    }
}

/// The smallest number above `from`, up to `to`, that does; what a number does all greater do.
fn smallest(from: i64, to: i64, does: impl Fn(i64) -> bool) -> Option<i64> {
    if to <= from || !does(to) {
        return None;
    }
    let (mut not, mut enough) = (from, to);
    while enough - not > 1 {
        let middle = not + (enough - not) / 2;
        if does(middle) {
            enough = middle;
        } else {
            not = middle;
        }
    }
    Some(enough)
}

/// People count out fives.
fn round_up(pieces: i64) -> i64 {
    (pieces + 4) / 5 * 5
}
