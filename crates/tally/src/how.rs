//! How a number of pieces was come by.

use measure::Length;
use serde::{Deserialize, Serialize};

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
        /// Coils.
        coils: i64,
        /// Length of each.
        of: Length,
        /// What is left of an opened one.
        rest: Length,
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
        (quantity, quantity)
    }

    /// What people read; nothing of pieces counted one by one.
    pub fn in_words(&self, system: measure::System) -> Option<String> {
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
            Self::Length { coils, of, rest } => {
                let coil = if *coils == 1 { "coil" } else { "coils" };
                let rest = match *rest == Length::ZERO {
                    true => String::new(),
                    false => format!(" and {} of an opened one", rest.tape(system)),
                };
                Some(format!("{coils} {coil} of {}{rest}", of.tape(system)))
            }
            Self::Photo { .. } => Some("from a photo".into()),
        }
    }

    /// Checks it against every limit, and against the number of pieces where that follows from it.
    pub(crate) fn check(&self, quantity: i64) -> Result<(), Refusal> {
        let pieces = |field, n: i64| range(field, n.into(), 0, MAX_QUANTITY.into());
        let length = |field, length: Length| {
            range(
                field,
                length.as_nanometres().into(),
                0,
                MAX_NANOMETRES.into(),
            )
        };
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
            Self::Length { coils, of, rest } => {
                pieces("coils", *coils)?;
                length("of", *of)?;
                length("rest", *rest)
            }
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

/// A length of 10 km; no coil comes near.
const MAX_NANOMETRES: i64 = 10_000_000_000_000;

/// A picture 100 times as high as it is wide; none comes near.
const MAX_SHARE: i32 = 1_000_000;

/// What was counted must be what it was made up from.
fn sums_to(field: &'static str, sum: i64, quantity: i64) -> Result<(), Refusal> {
    range(field, sum.into(), quantity.into(), quantity.into())
}
