//! The shapes of a family file's `[[skin]]` and `[[fitting]]` tables.

use std::collections::BTreeMap;

use measure::Length;
use serde::Deserialize;

use crate::family_file::When;
use crate::family_read::{length, lengths, maybe_length};
use crate::where_file::{Bows, Spot};

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SkinFile {
    pub role: String,
    pub part: String,
    pub over: Option<OverFile>,
    pub end: Option<EndSkinFile>,
    pub side: Option<SideSkinFile>,
    pub ground: Option<GroundSkinFile>,
    #[serde(default, deserialize_with = "lengths")]
    pub roll_widths: Vec<Length>,
    /// What holds its edge, such as pins.
    pub edge: Option<EdgeFile>,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}

/// Over the whole house, from a line on the left to the same on the right.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct OverFile {
    pub from: Spot,
    /// Beyond the fastening line on either side, to hold on to.
    #[serde(deserialize_with = "length")]
    pub grip: Length,
    #[serde(deserialize_with = "length")]
    pub end_allowance: Length,
    /// Sides where it reaches further: the first whose `when` holds.
    #[serde(default)]
    pub reaching: Vec<ReachFile>,
}

/// A side where the film hangs on down, such as over a roll-up side.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReachFile {
    pub when: When,
    /// Down to here.
    pub from: Spot,
    /// What goes round the roll bar.
    #[serde(deserialize_with = "length")]
    pub wrap: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EndSkinFile {
    #[serde(deserialize_with = "length")]
    pub grip: Length,
}

/// Along a side, between two lines of it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SideSkinFile {
    pub from: Spot,
    pub to: Spot,
    /// Beyond the upper line, and beyond the lower one unless it wraps a bar there.
    #[serde(deserialize_with = "length")]
    pub grip: Length,
    #[serde(default, deserialize_with = "maybe_length")]
    pub wrap: Option<Length>,
    #[serde(deserialize_with = "length")]
    pub end_allowance: Length,
    #[serde(default)]
    pub bays: Bays,
}

/// Which bays a skin goes over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub(crate) enum Bays {
    #[default]
    #[serde(rename = "all")]
    All,
    /// A piece over the first bay and one over the last.
    #[serde(rename = "ends")]
    Ends,
}

/// Over the ground inside, in strips along the house.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct GroundSkinFile {
    /// Beyond the legs on either side.
    #[serde(deserialize_with = "length")]
    pub beyond: Length,
    /// One strip over the next.
    #[serde(deserialize_with = "length")]
    pub lap: Length,
    #[serde(deserialize_with = "length")]
    pub end_allowance: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EdgeFile {
    #[serde(deserialize_with = "length")]
    pub every: Length,
    pub hardware: BTreeMap<String, i64>,
    /// The step of the build, and the share of the kit, where they are not the sheet's.
    pub stage: Option<String>,
    pub sub_kit: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FittingFile {
    pub role: String,
    pub parts: BTreeMap<String, i64>,
    /// One on each member of these roles.
    pub on: Option<Vec<String>>,
    /// At which bows, of what stands at a bow.
    #[serde(default)]
    pub bows: Bows,
    /// Once a side even when no option is by side.
    #[serde(default)]
    pub per_side: bool,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}
