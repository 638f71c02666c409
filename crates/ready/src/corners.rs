//! From what was measured between the corner stakes: where they stand, whether that is square, and which to move.
//!
//! The left string is trusted: front left stays where it is, and back left lies straight back from it. All else follows
//! from the lengths by weighted least squares.

mod blunder;
mod fit;
mod moves;
mod read;
mod sheet;
mod words;

use measure::{Length, System};
use tally::{Corner, StakeReading};
use thiserror::Error;

use crate::tape::TapeClass;
pub use blunder::{Blunder, Suspect};
pub use fit::{Fit, Measured, PAIRS, fit};
pub use moves::{Move, Moves};
pub use read::{SHORT, read_measured, read_reading};
pub use sheet::corners_svg;

/// The corners, in the order of every array here: front left, front right, back right, back left.
pub const CORNERS: [Corner; 4] = [
    Corner::FrontLeft,
    Corner::FrontRight,
    Corner::BackRight,
    Corner::BackLeft,
];

/// The most readings that are taken together.
pub const MOST_READINGS: usize = 60;

/// What is asked of the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SquareUp {
    /// From left to right as it should be, stake to stake, level.
    pub width: Length,
    /// From front to back as it should be.
    pub length: Length,
    /// How far a side or a diagonal may be off. A setting: 1/2 in is called good, 1 in usual (M, no source).
    pub tolerance: Length,
    /// How long the tape is.
    pub tape: Length,
    /// Its class.
    pub class: TapeClass,
    /// In which units people read it.
    pub system: System,
}

/// Where the stakes stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Corners {
    /// Right of front left, and back from it, in metres; in the order of [`CORNERS`].
    pub at: [[f64; 2]; 4],
    /// Standard errors of those, in metres; nought for what is held.
    pub error: [[f64; 2]; 4],
    /// Each reading against the fit.
    pub residuals: Vec<Residual>,
    /// How many readings there are beyond the five that it takes.
    pub spare: usize,
    /// The weighted sum of the squared residuals.
    pub misfit: f64,
    /// Whether the readings agree with each other within the tape's error; with none to spare they always do.
    pub agree: bool,
    /// A reading that seems to be misread.
    pub blunder: Option<Blunder>,
    /// What to move, as few stakes as will do; empty when all is within the tolerance. With a blunder: nothing.
    pub moves: Moves,
    /// Whether all sides and diagonals are within the tolerance.
    pub within: bool,
    /// The sides and the diagonals of the fit, in metres: front, back, left, right, from front left, from front right.
    pub lengths: [f64; 6],
    /// The answer in plain words, the first sentence first.
    pub says: Vec<String>,
}

/// One reading against the fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Residual {
    /// From which corner to which (by place in [`CORNERS`]).
    pub between: [usize; 2],
    /// What was read, brought level, in metres.
    pub level: f64,
    /// By how much it is more than the fit has it, in metres.
    pub over: f64,
    /// The standard error that it is given, in metres.
    pub error: f64,
}

/// Why readings give no corners.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Trouble {
    /// Nothing can be said of readings that are not between two of the four corners.
    #[error("reading {0} is not between two different corners of the house")]
    NotBetween(usize),
    /// The rise is more than the tape read.
    #[error(
        "{between}: the rise is as much as the length along the tape, so one of them is misread"
    )]
    TooSteep {
        /// The two corners.
        between: String,
    },
    /// Too few lengths.
    #[error("these lengths leave the corners loose: measure {missing} too")]
    Loose {
        /// Which would help.
        missing: String,
    },
    /// Three readings that are of no triangle.
    #[error(
        "{longest} cannot be longer than {others} together: one of the three is misread; measure them again"
    )]
    NoTriangle {
        /// The longest.
        longest: String,
        /// The other two.
        others: String,
    },
    /// More readings than are taken.
    #[error("at most {MOST_READINGS} readings are taken together")]
    TooMany,
    /// The house has no size.
    #[error("the house must be between 1 m and 1 km wide and long")]
    NoHouse,
}

/// Returns where the stakes stand by what was read between them, and what to do about it.
///
/// Any lengths that hold the four corners fast will do; with six, one of them is a check on the others.
///
/// # Errors
/// [`Trouble`] says which reading cannot be, or which is missing.
pub fn corners(readings: &[StakeReading], asked: &SquareUp) -> Result<Corners, Trouble> {
    let taken = taken(readings, asked)?;
    let nominal = rectangle(asked);
    let measured: Vec<Measured> = taken.iter().map(|reading| reading.level).collect();
    let fit = fit(&measured, nominal).ok_or_else(|| {
        let missing = words::missing(&taken);
        words::no_triangle(&taken).unwrap_or(Trouble::Loose { missing })
    })?;
    let blunder = blunder::find(&taken, &fit, asked);
    // Where it can be told which is misread, that says more.
    if !blunder.as_ref().is_some_and(|blunder| blunder.named) {
        words::no_triangle(&taken).map_or(Ok(()), Err)?;
    }
    let lengths = fit::lengths(&fit.at);
    let within = moves::within(&fit.at, asked);
    let moves = match &blunder {
        None => moves::fewest(&fit.at, asked),
        Some(_) => Moves::default(),
    };
    let mut corners = Corners {
        agree: fit.agrees(),
        at: fit.at,
        error: fit.error,
        spare: fit.spare,
        misfit: fit.misfit,
        residuals: fit.residuals,
        blunder,
        moves,
        within,
        lengths,
        says: Vec::new(),
    };
    corners.says = words::says(&corners, &taken, asked);
    Ok(corners)
}

/// A reading as it is reckoned with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Taken {
    /// Brought level.
    pub level: Measured,
    /// Along the tape, in metres.
    pub read: f64,
    /// The rise, in metres.
    pub rise: f64,
}

/// What hooking a tape over a stake, sag and reading it add, in metres: 1/8 in, ours.
const BY_HAND: f64 = 0.003_175;

fn taken(readings: &[StakeReading], asked: &SquareUp) -> Result<Vec<Taken>, Trouble> {
    let sizes = [asked.width, asked.length].map(Length::to_metres);
    if sizes.iter().any(|size| !(1.0..=1_000.0).contains(size)) {
        return Err(Trouble::NoHouse);
    }
    if readings.len() > MOST_READINGS {
        return Err(Trouble::TooMany);
    }
    (readings.iter().enumerate())
        .map(|(number, reading)| {
            let place = |corner| CORNERS.iter().position(|known| *known == corner);
            let (Some(from), Some(to)) = (place(reading.from), place(reading.to)) else {
                return Err(Trouble::NotBetween(number + 1));
            };
            if from == to || reading.length <= 0 {
                return Err(Trouble::NotBetween(number + 1));
            }
            let between = [from.min(to), from.max(to)];
            let length = Length::nanometres(reading.length);
            let (read, rise) = (length.to_metres(), reading.rise.unwrap_or(0) as f64 / 1e9);
            let level = (read * read - rise * rise).sqrt();
            // Of a rise above the length it is no number.
            if level.is_nan() || level <= 0.01 * read {
                let between = words::between(between);
                return Err(Trouble::TooSteep { between });
            }
            // A limit by law is taken as two standard errors.
            let limit = asked.class.limit_over(length, asked.tape).to_metres();
            let level = Measured {
                between,
                level,
                error: (limit / 2.0).hypot(BY_HAND),
            };
            Ok(Taken { level, read, rise })
        })
        .collect()
}

/// The corners as they should be.
pub(crate) fn rectangle(asked: &SquareUp) -> [[f64; 2]; 4] {
    let (width, length) = (asked.width.to_metres(), asked.length.to_metres());
    [[0.0, 0.0], [width, 0.0], [width, length], [0.0, length]]
}
