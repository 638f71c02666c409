//! What was read of a piece, and with what. This is also how it is written into the log, so no name here may change.

use serde::{Deserialize, Serialize};

/// One thing that somebody read of a piece in hand.
///
/// Lengths are whole nanometres and masses whole micrograms, so that what was seen is kept exactly. Whatever stands
/// here is taken: a negative length, or a wall read of a bolt, is weighed like any other reading and tells little.
/// What a later program writes and this one does not know is read as [`Reading::Unknown`], which weighs nothing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(tag = "read", rename_all = "snake_case")]
pub enum Reading {
    /// What kind of thing it is, by eye.
    Kind {
        /// What it was taken for.
        is: Kind,
    },
    /// What it looks like, in the words of [`crate::Kit::looks`], such as "hinge" or "lock channel", by eye.
    Looks {
        /// One of those words; any other counts as something else.
        like: String,
    },
    /// How one of its two ends looks, by eye. Which of the two is called one and which other is free.
    End {
        /// The end that was looked at.
        end: Which,
        /// How it looks.
        is: EndLook,
    },
    /// Whether it is straight, by eye.
    Bend {
        /// How it looks.
        is: BendLook,
    },
    /// Its colour or coating, by eye.
    Coating {
        /// How it looks.
        is: Coating,
    },
    /// How many holes it has.
    Holes {
        /// As counted.
        count: i64,
    },
    /// A length of some kind, with a tool.
    Size {
        /// What was measured.
        of: Size,
        /// What the tool showed.
        nanometres: i64,
        /// The tool.
        with: Tool,
    },
    /// Its mass, on a scale.
    Mass {
        /// What the scale showed.
        micrograms: i64,
        /// The step in which the scale shows masses.
        step_micrograms: i64,
    },
    /// Something that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// What kind of thing a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Round tube.
    RoundTube,
    /// Square or rectangular tube.
    SquareTube,
    /// Timber.
    Timber,
    /// Channel.
    Channel,
    /// Film, cloth, screen, ground cover.
    Sheet,
    /// Wire.
    Wire,
    /// A bolt or a screw.
    Fastener,
    /// Plates, clamps, nuts, washers, doors: all other hardware.
    Hardware,
    /// A kind that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// One end of a piece, or the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// The end that was looked at first.
    One,
    /// The end across from it.
    Other,
}

/// How an end looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EndLook {
    /// Cut square, full size.
    Plain,
    /// Drawn thinner, to go into the next tube.
    Swaged,
    /// Pressed flat.
    Flattened,
    /// Pressed flat, with a hole.
    Punched,
    /// With a thread.
    Threaded,
    /// Cut to fit round another tube.
    Coped,
    /// A look that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// Whether a piece is straight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BendLook {
    /// Straight.
    Straight,
    /// Bent.
    Bent,
    /// A look that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// A colour or a coating.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coating {
    /// Zinc with a grey bloom or spangle, as tube has it.
    Galvanized,
    /// Thin bright zinc, as bolts have it.
    ZincPlated,
    /// Bare metal as it leaves the mill.
    Mill,
    /// Coated with plastic or painted.
    Coated,
    /// Rusty or bare steel.
    Rusty,
    /// Clear.
    Clear,
    /// White.
    White,
    /// Black or dark green.
    Dark,
    /// Wood, treated or not.
    Wood,
    /// A look that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// Which size of a piece was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Size {
    /// From end to end, along the piece; of a bolt or a screw, under the head.
    Length,
    /// Outside diameter; of a box, board or channel its wider side; of film its width.
    Across,
    /// Once around: the circumference.
    Around,
    /// Wall of a tube; thickness of film.
    Wall,
    /// Of a bent piece, straight from end to end.
    Chord,
    /// Of a bent piece, its greatest height over that line.
    Rise,
    /// From hole to hole, of the two that lie farthest apart.
    HoleSpacing,
    /// A size that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// What a length was read with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(tag = "tool", rename_all = "snake_case")]
pub enum Tool {
    /// A tape.
    Tape {
        /// How it is marked.
        marks: Marks,
        /// How true it is.
        #[serde(default)]
        class: TapeClass,
    },
    /// A string, then laid along a tape.
    String {
        /// How the tape is marked.
        marks: Marks,
    },
    /// A caliper.
    Caliper {
        /// How it is marked.
        marks: Marks,
    },
    /// A plate with slots of the common thicknesses.
    GaugePlate {
        /// How it is marked.
        marks: Marks,
    },
    /// A tool that this program does not know yet.
    #[serde(other)]
    Unknown,
}

/// How a tool is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Marks {
    /// A tape in feet, inches and 1/16 in; a caliper to 0.001 in, a gauge plate to 0.005 in.
    Inch,
    /// A tape to 1 mm; a caliper and a gauge plate to 0.1 mm.
    Metric,
}

/// How true a tape is.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum TapeClass {
    /// Within NIST Handbook 44.
    #[serde(rename = "handbook_44")]
    Handbook44,
    /// EC class I.
    #[serde(rename = "ec_1")]
    EcI,
    /// EC class II.
    #[serde(rename = "ec_2")]
    EcII,
    /// EC class III.
    #[serde(rename = "ec_3")]
    EcIII,
    /// Nobody knows; taken as EC class III.
    #[default]
    #[serde(other)]
    Unknown,
}
