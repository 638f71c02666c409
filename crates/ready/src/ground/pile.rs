//! A pile: what lies in it, how large it is, and what it asks of its place.

use super::polygon::Point;

/// Things that lie together, under one name.
#[derive(Clone, Debug, PartialEq)]
pub struct Pile {
    /// "1", "2", …: in the order in which the build first needs them. The same order has the same names again.
    pub name: String,
    /// What it is, such as "Half bows".
    pub says: String,
    /// How it is laid.
    pub kind: PileKind,
    /// What lies in it, from the top.
    pub from_top: Vec<PileMark>,
    /// Its longer side on the ground, in metres.
    pub length: f64,
    /// Its shorter side.
    pub width: f64,
    /// Over the ground, with what it lies on.
    pub height: f64,
    /// All of it, in kilograms.
    pub mass: f64,
    /// The stages that need something of it (by index), rising.
    pub stages: Vec<usize>,
    /// Whether it should lie under cover.
    pub under_cover: bool,
    /// What it lies on; nothing for what stands on legs of its own.
    pub dunnage: Option<Dunnage>,
    /// Where it is carried to: spots in the plane of the house (`x` across from its middle, `y` from its front), with
    /// the kilograms that go there.
    pub goes: Vec<(Point, f64)>,
    /// What is to be minded, in sentences.
    pub care: Vec<String>,
}

/// A mark in a pile.
#[derive(Clone, Debug, PartialEq)]
pub struct PileMark {
    /// The mark.
    pub mark: String,
    /// How many, spares with them.
    pub pieces: i64,
    /// The first stage that needs it (by index).
    pub stage: usize,
    /// The bin that it lies in, by the share of the kit; nothing for what lies in no bin.
    pub bin: Option<String>,
}

/// How a pile is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PileKind {
    /// Tube and channel, side by side in layers.
    Long,
    /// Bows, flat on their sides, one in the other.
    Bows,
    /// Sawn timber, flat, with stickers between the layers.
    Timber,
    /// Doors, fans and what else is large.
    Large,
    /// Film and cloth, rolled.
    Rolls,
    /// Hardware in bins, on a table.
    Table,
}

impl PileKind {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            PileKind::Long => "side by side in layers",
            PileKind::Bows => "flat, one in the other",
            PileKind::Timber => "flat, stickers between the layers",
            PileKind::Large => "flat, each on the other",
            PileKind::Rolls => "in its wrap, lying",
            PileKind::Table => "in bins on a table",
        }
    }
}

/// The timbers that a pile lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dunnage {
    /// How many.
    pub bearers: usize,
    /// From one to the next, in metres.
    pub apart: f64,
}
