//! The shapes of a family file's tables, as they are read.

use std::collections::BTreeMap;

use measure::{Length, Mass};
use serde::Deserialize;

use crate::family_read::{all, extent, length, lengths, maybe_length, maybe_mass, turn};
use crate::part::SubKit;
use crate::profile_asked::Peak;

/// What a text in an order or a `when` may be: one choice or several.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
pub(crate) enum OneOf {
    One(String),
    Any(Vec<String>),
}

impl OneOf {
    pub(crate) fn holds(&self, value: &str) -> bool {
        self.choices().any(|c| c == value)
    }

    pub(crate) fn choices(&self) -> impl Iterator<Item = &str> {
        match self {
            OneOf::One(one) => std::slice::from_ref(one).iter(),
            OneOf::Any(any) => any.iter(),
        }
        .map(String::as_str)
    }
}

/// Conditions on options, all of which must hold.
pub(crate) type When = BTreeMap<String, OneOf>;

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Size {
    #[serde(deserialize_with = "lengths")]
    pub bow_spacing: Vec<Length>,
    #[serde(deserialize_with = "length")]
    pub least_length: Length,
    #[serde(deserialize_with = "length")]
    pub most_length: Length,
    /// What an order may ask for when the length is no whole number of bays.
    #[serde(default)]
    pub uneven: Vec<Uneven>,
}

/// Ways to build a length that is no whole number of bays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(crate) enum Uneven {
    /// Whole bays from the front, and what is left at the back.
    #[serde(rename = "short last bay")]
    ShortLastBay,
    /// Bays all alike, none over the spacing.
    #[serde(rename = "equal bays")]
    EqualBays,
    /// Whole bays from the front, the last of which takes on what is left.
    #[serde(rename = "long last bay")]
    LongLastBay,
    /// Whole bays between two end bays that share one bay and what is left.
    #[serde(rename = "short end bays")]
    ShortEndBays,
}

impl Uneven {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Uneven::ShortLastBay => "short last bay",
            Uneven::EqualBays => "equal bays",
            Uneven::LongLastBay => "long last bay",
            Uneven::ShortEndBays => "short end bays",
        }
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ProfileFile {
    #[serde(default)]
    pub when: When,
    #[serde(deserialize_with = "length")]
    pub width: Length,
    #[serde(deserialize_with = "length")]
    pub height: Length,
    #[serde(default)]
    pub peak: PeakFile,
    pub half: Vec<LinkFile>,
}

/// One link of the half profile, from the ground up.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LinkFile {
    pub name: String,
    /// Its length.
    #[serde(default, deserialize_with = "extent")]
    pub straight: Option<Extent>,
    /// Its radius.
    #[serde(default, deserialize_with = "extent")]
    pub arc: Option<Extent>,
    /// By how many degrees an arc turns; follows when left out.
    #[serde(default, deserialize_with = "turn")]
    pub turn: Option<Turn>,
    /// By how many degrees the profile turns to the middle where the link starts; goes on smoothly when left out.
    #[serde(default, deserialize_with = "turn")]
    pub kink: Option<Turn>,
}

/// A length that is given, or follows from width and height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Extent {
    Of(Length),
    Follows,
}

/// An angle that is given in degrees, or follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Turn {
    Of(f64),
    Follows,
}

/// How the halves meet at the peak.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum PeakFile {
    #[default]
    Pointed,
    Smooth,
}

impl From<PeakFile> for Peak {
    fn from(peak: PeakFile) -> Self {
        match peak {
            PeakFile::Pointed => Peak::Pointed,
            PeakFile::Smooth => Peak::Smooth,
        }
    }
}

/// Something an order may choose.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// Its key in the order file.
    pub key: String,
    /// What it is, in words.
    pub says: String,
    /// Chosen for the front and for the back by themselves.
    #[serde(default)]
    pub each_end: bool,
    /// Chosen for the left side and for the right by themselves.
    #[serde(default)]
    pub each_side: bool,
    /// The first is what an order gets that says nothing.
    pub choices: Vec<String>,
}

impl Choice {
    /// The tables of the order file that it may stand in.
    pub fn tables(&self) -> &'static [&'static str] {
        match (self.each_end, self.each_side) {
            (true, _) => &["front", "back"],
            (_, true) => &["left", "right"],
            _ => &["options"],
        }
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Exclusion {
    pub together: When,
    pub why: String,
}

/// Where the one holds, the other must.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Need {
    pub when: When,
    pub needs: When,
    pub why: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StageFile {
    pub name: String,
    #[serde(default)]
    pub follows: Vec<String>,
    /// What is done, by the name of a kind of work that `ready` knows; the stage's own name when left out.
    #[serde(default)]
    pub work: Option<String>,
}

/// How stock is cut.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Cutting {
    #[serde(default, deserialize_with = "maybe_length")]
    pub kerf: Option<Length>,
    #[serde(default)]
    pub leftovers: Leftovers,
}

/// What becomes of what is left when a piece is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Leftovers {
    /// Shorter pieces are cut from it wherever that saves a whole one.
    #[default]
    Used,
    /// Every piece that is cut comes as a whole one; what is left stays in reserve.
    Reserve,
}

/// Something that the parts come in: a crate, a bundle, a roll.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PackageFile {
    pub says: String,
    #[serde(default, deserialize_with = "maybe_mass")]
    pub mass: Option<Mass>,
    pub sub_kits: Vec<String>,
}

impl From<&str> for SubKit {
    fn from(name: &str) -> Self {
        SubKit(name.into())
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(transparent)]
pub(crate) struct Profiles(#[serde(deserialize_with = "all")] pub Vec<ProfileFile>);
