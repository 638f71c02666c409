//! The ground that the parts are laid out on and the house will stand on, and what was measured of its corners.

use serde::{Deserialize, Serialize};

use crate::rules::{self, Refusal, range, within};

/// The most corners of an outline.
pub const MAX_CORNERS: usize = 100;
/// The most patches of one kind on one ground, and the most readings of stakes.
pub const MAX_PATCHES: usize = 100;
/// The farthest that anything lies from the origin, in millimetres.
pub const MAX_AWAY: i64 = 2_000_000;

/// A point on the ground, in whole millimetres: `x` to the right and `y` up on the drawing, from wherever the person who
/// measured began.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Spot {
    /// To the right.
    pub x: i64,
    /// Up.
    pub y: i64,
}

/// The ground, whole. The last word stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Ground {
    /// Its edge, corner by corner; closed by itself.
    pub outline: Vec<Spot>,
    /// Where the house will stand.
    pub house: HouseSpot,
    /// Where the truck puts its load down.
    pub drop: Spot,
    /// Where people or trucks come in: the two posts of each gate.
    #[serde(default)]
    pub gates: Vec<[Spot; 2]>,
    /// What the truck drives and swings over; nothing lies there.
    #[serde(default)]
    pub truck: Vec<Patch>,
    /// What stands in the way: trees, sheds, ditches.
    #[serde(default)]
    pub obstacles: Vec<Patch>,
    /// Under a roof, or dry by other means.
    #[serde(default)]
    pub covered: Vec<Patch>,
    /// In the shade for most of the day.
    #[serde(default)]
    pub shade: Vec<Patch>,
    /// Where the ground slopes.
    #[serde(default)]
    pub slopes: Vec<Slope>,
    /// The way that is kept free between piles, in millimetres.
    pub aisle: i64,
    /// Height of the truck's bed over the ground, in millimetres.
    pub truck_bed: i64,
    /// How far before the ankles a load is held when it is taken off, in millimetres.
    pub reach: i64,
}

/// Where the house will stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct HouseSpot {
    /// The middle of the front end.
    pub front: Spot,
    /// The way the house runs from its front, in hundredths of a degree counter-clockwise from the right.
    pub towards: i64,
}

/// A part of the ground.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Patch {
    /// Its edge.
    pub outline: Vec<Spot>,
    /// What it is, such as "apple tree"; may be empty.
    #[serde(default)]
    pub words: String,
}

/// A part of the ground that slopes.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Slope {
    /// Its edge.
    pub outline: Vec<Spot>,
    /// How steep it is: the rise in thousandths of the level distance.
    pub rise: i64,
}

/// Where a person wants a pile. The last word on a pile stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PileSpot {
    /// The pile, by the name that the staging plan gives it.
    pub pile: String,
    /// Its middle; nothing: wherever the plan puts it.
    pub at: Option<Spot>,
    /// Its long side, in hundredths of a degree counter-clockwise from the right.
    pub turn: i64,
}

/// What was measured of the house's corner stakes; the last word stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct StakesRead {
    /// What was read.
    pub readings: Vec<StakeReading>,
}

/// One length between two corner stakes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct StakeReading {
    /// From this stake.
    pub from: Corner,
    /// To this one.
    pub to: Corner,
    /// Along the tape, in nanometres.
    pub length: i64,
    /// By how much the ground rises from one to the other, in nanometres, where the tape followed the slope.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rise: Option<i64>,
}

/// A corner of the house; left and right are those of someone who stands before the front and looks in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Corner {
    /// Front, left.
    FrontLeft,
    /// Front, right.
    FrontRight,
    /// Back, right.
    BackRight,
    /// Back, left.
    BackLeft,
    /// What a newer build knows.
    #[serde(other)]
    Other,
}

impl Corner {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::FrontLeft => "front left",
            Self::FrontRight => "front right",
            Self::BackRight => "back right",
            Self::BackLeft => "back left",
            Self::Other => "a corner that a newer build knows",
        }
    }
}

impl Ground {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        outline("outline", &self.outline)?;
        spot("house", self.house.front)?;
        turn("house", self.house.towards)?;
        spot("drop", self.drop)?;
        within("gates", self.gates.len(), MAX_PATCHES)?;
        for gate in self.gates.iter().flatten() {
            spot("gates", *gate)?;
        }
        let kinds = [
            ("truck", &self.truck),
            ("obstacles", &self.obstacles),
            ("covered", &self.covered),
            ("shade", &self.shade),
        ];
        for (field, patches) in kinds {
            within(field, patches.len(), MAX_PATCHES)?;
            for patch in patches {
                outline(field, &patch.outline)?;
                rules::empty_or_name(field, &patch.words)?;
            }
        }
        within("slopes", self.slopes.len(), MAX_PATCHES)?;
        for slope in &self.slopes {
            outline("slopes", &slope.outline)?;
            range("rise", slope.rise.into(), 0, 1_000)?;
        }
        range("aisle", self.aisle.into(), 0, 20_000)?;
        range("truck_bed", self.truck_bed.into(), 0, 5_000)?;
        range("reach", self.reach.into(), 0, 2_000)
    }
}

impl PileSpot {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("pile", &self.pile)?;
        turn("turn", self.turn)?;
        self.at.map_or(Ok(()), |at| spot("at", at))
    }
}

impl StakesRead {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        within("readings", self.readings.len(), MAX_PATCHES)?;
        for reading in &self.readings {
            // A kilometre is farther than any house is long.
            range("length", reading.length.into(), 1, 1_000_000_000_000)?;
            if let Some(rise) = reading.rise {
                range("rise", rise.into(), -1_000_000_000_000, 1_000_000_000_000)?;
            }
        }
        Ok(())
    }
}

fn outline(field: &'static str, corners: &[Spot]) -> Result<(), Refusal> {
    range(field, corners.len() as i128, 3, MAX_CORNERS as i128)?;
    corners.iter().try_for_each(|corner| spot(field, *corner))
}

fn spot(field: &'static str, at: Spot) -> Result<(), Refusal> {
    for value in [at.x, at.y] {
        range(field, value.into(), -MAX_AWAY as i128, MAX_AWAY.into())?;
    }
    Ok(())
}

fn turn(field: &'static str, hundredths: i64) -> Result<(), Refusal> {
    range(field, hundredths.into(), -36_000, 36_000)
}
