//! Why a picture is not taken, or not worked on.

use crate::kind::Kind;
use crate::look::{MOST_BYTES, MOST_PIXELS};

/// Why a picture is not taken, or not worked on; each says what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// No bytes at all.
    #[error("the file is empty; take the photo again, or send it again")]
    Empty,
    /// More bytes than are taken.
    #[error(
        "the file has {} MB, and a photo may have {}; set the camera to a smaller picture size",
        bytes / 1_000_000,
        MOST_BYTES / 1_000_000
    )]
    TooManyBytes {
        /// The bytes that came.
        bytes: usize,
    },
    /// More pixels than are taken.
    #[error(
        "the picture is {width} × {height} pixels, and a photo may have {} million; set the camera to a smaller picture size",
        MOST_PIXELS / 1_000_000
    )]
    TooManyPixels {
        /// Its width.
        width: u32,
        /// Its height.
        height: u32,
    },
    /// It is something else.
    #[error("this is {0}, not a photo; send a JPEG, PNG, WebP or HEIC picture")]
    NotAPhoto(&'static str),
    /// It moves.
    #[error("this {0} is a moving picture; send a still one")]
    Moving(Kind),
    /// It is not whole, or not what it says it is.
    #[error("the {kind} is damaged: {why}; take the photo again, or send the file again")]
    Damaged {
        /// What it began as.
        kind: Kind,
        /// What is wrong with it.
        why: String,
    },
    /// It is what it says it is, but written so that it is not decoded here.
    #[error("the {kind} is kept, but is not shown small: {why}")]
    NotShown {
        /// Its kind.
        kind: Kind,
        /// What stands in the way.
        why: &'static str,
    },
    /// No decoder here, and no smaller JPEG within.
    #[error(
        "the {0} is kept as it is, but cannot be shown here and holds no small JPEG; open it on the phone that took it, and set the phone's camera to JPEG (\"most compatible\") for the next"
    )]
    CannotShow(Kind),
    /// What was noted in it cannot be taken out here.
    #[error(
        "what the {0} says of its place cannot be taken out here; share it as it is, place and all, or share a JPEG in its stead"
    )]
    CannotClean(Kind),
}

impl Refused {
    pub(crate) fn damaged(kind: Kind, why: impl Into<String>) -> Self {
        Self::Damaged {
            kind,
            why: why.into(),
        }
    }
}
