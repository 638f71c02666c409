//! How a number of pieces was come by.

use measure::{Grid, Length, System};
use serde::{Deserialize, Serialize};

use crate::by_length::Coils;
use crate::by_weight::ByWeight;
use crate::digest::Digest;
use crate::rules::{MAX_QUANTITY, Refusal, range, within};

/// The most rings that one picture can hold.
pub const MAX_RINGS: usize = 2_000;

/// How a number of pieces was come by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum How {
    /// One by one.
    #[default]
    Piece,
    /// By the bundle: so many bundles of so many, and a rest.
    Bundle {
        /// Bundles.
        bundles: i64,
        /// Pieces in each.
        of: i64,
        /// Pieces beside them.
        rest: i64,
        /// The bundles stayed closed, so that the number in each is what their label says, and nobody's count.
        closed: bool,
    },
    /// By length, of what comes in coils and rolls: so many coils of a length, and a rest.
    Length {
        /// The coils.
        coils: Coils,
        /// The length of a piece that is cut from them.
        piece: Length,
    },
    /// By weight, against a counted sample.
    Weight {
        /// What was weighed.
        weighing: ByWeight,
    },
    /// From a picture of the ends of a bundle, each ring confirmed by the person who counted.
    Photo {
        /// The picture, a document of the job.
        photo: Digest,
        /// The rings that were counted.
        rings: Vec<Ring>,
    },
    /// A way that a newer build knows; the number stands.
    #[serde(other)]
    Other,
}

/// The most samples of one weighing.
const MAX_SAMPLES: usize = 100;

/// A tube's end in a picture, in ten-thousandths of the picture's width (as it stands upright).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Ring {
    /// From the left edge.
    pub x: i32,
    /// From the upper edge.
    pub y: i32,
    /// Its radius.
    pub r: i32,
}

impl How {
    /// Whether pieces were counted one by one, which needs no saying.
    pub fn is_by_piece(&self) -> bool {
        *self == Self::Piece
    }

    /// Pieces of these that lie in bundles that nobody opened.
    pub fn unopened(&self) -> i64 {
        match self {
            Self::Bundle {
                bundles,
                of,
                closed: true,
                ..
            } => bundles.saturating_mul(*of),
            _ => 0,
        }
    }

    /// The fewest and the most pieces that this way of counting allows for, when it came to so many.
    pub fn bounds(&self, quantity: i64) -> (i64, i64) {
        let bounds = match self {
            Self::Weight { weighing } => weighing.weigh().ok().map(|seen| (seen.least, seen.most)),
            Self::Length { coils, piece } => {
                coils.cut(*piece).ok().map(|cut| (cut.least, cut.most))
            }
            _ => None,
        };
        // What a person then put down may be another number; it is within its own bounds in any case.
        let (least, most) = bounds.unwrap_or((quantity, quantity));
        (least.min(quantity), most.max(quantity))
    }

    /// The way of counting in a word or two.
    pub fn in_short(&self) -> &'static str {
        match self {
            Self::Piece => "by piece",
            Self::Bundle { closed: true, .. } => "by closed bundle, as labelled",
            Self::Bundle { .. } => "by bundle",
            Self::Length { .. } => "by length",
            Self::Weight { .. } => "by weight",
            Self::Photo { .. } => "from a photo",
            Self::Other => "in another way",
        }
    }

    /// What people read; nothing of pieces counted one by one.
    pub fn in_words(&self, system: System) -> Option<String> {
        match self {
            Self::Piece | Self::Other => None,
            Self::Bundle {
                bundles,
                of,
                rest,
                closed,
            } => {
                let kind = if *closed { "closed " } else { "" };
                let bundle = if *bundles == 1 { "bundle" } else { "bundles" };
                let rest = match rest {
                    0 => String::new(),
                    n => format!(" and {n}"),
                };
                Some(format!("{bundles} {kind}{bundle} of {of}{rest}"))
            }
            Self::Length { coils, piece } => {
                let cut = coils.cut(*piece).ok()?;
                let grid = match system {
                    System::FeetInch => Grid::SIXTEENTH,
                    System::Metric => Grid::MILLIMETRE,
                };
                Some(cut.in_words(system, grid))
            }
            Self::Weight { weighing } => Some(match weighing.weigh() {
                Ok(seen) if seen.least < seen.most => {
                    format!("by weight, {} to {} at 95 %", seen.least, seen.most)
                }
                _ => "by weight".into(),
            }),
            Self::Photo { .. } => Some("from a photo".into()),
        }
    }

    /// Checks it against every limit, and against the number of pieces where that follows from it.
    pub(crate) fn check(&self, quantity: i64) -> Result<(), Refusal> {
        let pieces = |field, n: i64| range(field, n.into(), 0, MAX_QUANTITY.into());
        match self {
            Self::Piece | Self::Other => Ok(()),
            Self::Bundle {
                bundles, of, rest, ..
            } => {
                pieces("bundles", *bundles)?;
                pieces("of", *of)?;
                pieces("rest", *rest)?;
                sums_to("bundles and rest", bundles * of + rest, quantity)
            }
            // What was weighed or measured stays, whatever a later build reads from it.
            Self::Length { .. } => Ok(()),
            Self::Weight { weighing } => within("samples", weighing.samples.len(), MAX_SAMPLES),
            Self::Photo { photo: _, rings } => {
                within("rings", rings.len(), MAX_RINGS)?;
                for ring in rings {
                    for (field, n) in [("x", ring.x), ("y", ring.y), ("r", ring.r)] {
                        range(field, n.into(), 0, MAX_SHARE.into())?;
                    }
                }
                sums_to("rings", rings.len() as i64, quantity)
            }
        }
    }
}

/// A picture 100 times as high as it is wide; none comes near.
const MAX_SHARE: i32 = 1_000_000;

/// What was counted must be what it was made up from.
fn sums_to(field: &'static str, sum: i64, quantity: i64) -> Result<(), Refusal> {
    range(field, sum.into(), quantity.into(), quantity.into())
}
