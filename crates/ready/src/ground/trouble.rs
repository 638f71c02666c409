//! What is wrong with a ground, and what would be right.

use thiserror::Error;

/// Why no plan can be made of a ground. Each names what is wrong and says what would be right.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum GroundTrouble {
    /// An outline crosses or touches itself.
    #[error(
        "{what} crosses itself: its sides {} and {} meet; give its corners one after the other along the edge",
        sides.0,
        sides.1
    )]
    Crosses {
        /// Which outline.
        what: String,
        /// The sides, from 1.
        sides: (usize, usize),
    },
    /// More corners than a plan can be made with in time.
    #[error(
        "the edge, what stands in the way and what slopes have {corners} corners together, more than {most}: give them coarser"
    )]
    TooFine {
        /// So many.
        corners: usize,
        /// The most.
        most: usize,
    },
    /// An outline has hardly any area.
    #[error("{what} is empty: its corners lie in a line; give at least three that do not")]
    Empty {
        /// Which outline.
        what: String,
    },
    /// The house does not fit.
    #[error(
        "the house does not lie on the ground: {corner} of it is outside; move the house or give the ground larger"
    )]
    HouseOutside {
        /// The first corner that lies outside.
        corner: &'static str,
    },
    /// Something stands where the house will stand.
    #[error(
        "{what} stands where the house will stand; move the house, or leave it out if it will be gone"
    )]
    HouseBlocked {
        /// What.
        what: String,
    },
    /// The drop is somewhere that it cannot be.
    #[error("the truck's drop lies {whence}; put it on free ground, outside the house to come")]
    Drop {
        /// Where, such as "outside the ground".
        whence: String,
    },
    /// Nobody can walk from the drop to the house.
    #[error(
        "nobody can walk from the truck's drop to the house: obstacles close the way; leave at least {least} between them"
    )]
    NoWay {
        /// How wide a way has to be.
        least: String,
    },
    /// A gate is not on the edge.
    #[error("gate {gate} is {away} from the edge of the ground; give its two posts on the edge")]
    Gate {
        /// The gate, from 1.
        gate: usize,
        /// How far away, in words.
        away: String,
    },
    /// A covered place reaches farther from the house than a plan looks.
    #[error(
        "{what} reaches {away} from the house, and a plan looks no farther than {most}: give only the part of it that is nearer, or leave it out"
    )]
    CoverTooFar {
        /// Which.
        what: String,
        /// How far.
        away: String,
        /// The most.
        most: String,
    },
    /// Too far to carry.
    #[error(
        "the truck's drop is {away} from the house; farther than {most} nobody carries: give the spot to which a vehicle brings the load"
    )]
    TooFar {
        /// How far.
        away: String,
        /// The most.
        most: String,
    },
}
