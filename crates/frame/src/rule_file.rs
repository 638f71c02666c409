//! The shapes of a family file's `[[member]]` and `[[joint]]` tables.

use std::collections::BTreeMap;

use measure::Length;
use serde::Deserialize;

use crate::family_file::When;
use crate::family_read::{length, lengths, maybe_length, roles};
use crate::where_file::{Bows, Sides, Spot};

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MemberFile {
    pub role: String,
    /// What it is made of; a bow names its pieces itself.
    pub part: Option<String>,
    /// What may finish a line instead of one more cut piece.
    pub extension: Option<String>,
    pub post: Option<PostFile>,
    pub bow: Option<BowFile>,
    pub along: Option<Spot>,
    pub across: Option<Spot>,
    pub strut: Option<StrutFile>,
    pub upright: Option<UprightFile>,
    pub level: Option<LevelFile>,
    pub arch: Option<ArchFile>,
    pub follow: Option<Vec<String>>,
    /// At which bows it stands.
    #[serde(default)]
    pub bows: Bows,
    #[serde(default)]
    pub sides: Sides,
    /// A line that hangs free: it meets no bow and no post. Of a level piece: its ends need nothing that holds them; of an
    /// upright: its top.
    #[serde(default)]
    pub loose: bool,
    /// How far the joints of a line keep from every bow.
    #[serde(default, deserialize_with = "maybe_length")]
    pub splices_clear: Option<Length>,
    /// Where an upright, or what follows one, begins, if not on the ground.
    #[serde(default, deserialize_with = "maybe_length")]
    pub from_height: Option<Length>,
    /// Where a following member, or an upright, ends.
    #[serde(default, deserialize_with = "maybe_length")]
    pub to_height: Option<Length>,
    /// How deep an upright stands in the ground.
    #[serde(default, deserialize_with = "maybe_length")]
    pub below_ground: Option<Length>,
    /// How far two pieces of a line lie over each other.
    #[serde(default, deserialize_with = "maybe_length")]
    pub lap: Option<Length>,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PostFile {
    #[serde(deserialize_with = "length")]
    pub above_ground: Length,
    /// What it is cut to, where its part comes longer; its part as it comes when left out.
    #[serde(default, deserialize_with = "maybe_length")]
    pub long: Option<Length>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BowFile {
    pub half: Vec<BowPieceFile>,
    /// How far a leg goes into its post, or over it, beyond where the post ends.
    #[serde(default, deserialize_with = "maybe_length")]
    pub insert: Option<Length>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BowPieceFile {
    pub part: String,
    pub to: Spot,
}

/// A straight piece from one place to another, at each of its bows and on both sides.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StrutFile {
    pub from: StrutEnd,
    pub to: StrutEnd,
    /// Which way its ends' bows are counted.
    #[serde(default)]
    pub towards: Towards,
}

/// Which way bows are counted on from the one that a strut stands at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Towards {
    /// As braces lean: the same from either end.
    #[default]
    Middle,
    /// As a cord runs: one to each bay, none at the last bow.
    Back,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StrutEnd {
    pub at: Spot,
    /// So many bows on, towards the middle of the house.
    #[serde(default)]
    pub bow: i64,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(
    untagged,
    expecting = "uprights are a list of distances from the middle ([\"3 ft\", \"8 ft\"]) or { every = \"4 ft\", \
                 start = \"2 ft\" }"
)]
pub(crate) enum UprightFile {
    List(#[serde(deserialize_with = "lengths")] Vec<Length>),
    Spaced(SpacedUprights),
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SpacedUprights {
    #[serde(deserialize_with = "length")]
    pub every: Length,
    /// The first one, from the middle.
    #[serde(deserialize_with = "length")]
    pub start: Length,
    /// None stands where it would be shorter.
    #[serde(default, deserialize_with = "maybe_length")]
    pub least_height: Option<Length>,
}

/// A level piece in an end wall: from the middle both ways, or from one distance to another on either side.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LevelFile {
    /// From the middle to either end; to the end bow when left out.
    #[serde(default, deserialize_with = "maybe_length")]
    pub reach: Option<Length>,
    /// Begins so far from the middle and ends at the reach, once a side.
    #[serde(default, deserialize_with = "maybe_length")]
    pub from: Option<Length>,
    #[serde(deserialize_with = "length")]
    pub height: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ArchFile {
    pub from: Spot,
    #[serde(default)]
    pub over: Over,
}

/// What an arch goes over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub(crate) enum Over {
    #[default]
    #[serde(rename = "end bows")]
    EndBows,
    /// Half way between each two bows, as a rope over the film lies.
    #[serde(rename = "bays")]
    Bays,
}

/// One role, or several.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(transparent)]
pub(crate) struct Roles(#[serde(deserialize_with = "roles")] pub Vec<String>);

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct JointFile {
    /// One role or several on either side; each of the one with each of the other.
    pub between: Option<[Roles; 2]>,
    pub splice: Option<Roles>,
    pub peak: Option<Roles>,
    pub foot: Option<Roles>,
    pub fasten: Option<Roles>,
    pub ends: Option<Roles>,
    #[serde(default, deserialize_with = "maybe_length")]
    pub every: Option<Length>,
    /// At which bows it holds.
    #[serde(default)]
    pub bows: Bows,
    #[serde(default)]
    pub when: When,
    pub says: String,
    pub hardware: BTreeMap<String, i64>,
    pub stage: String,
    pub sub_kit: String,
}
