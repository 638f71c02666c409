//! A family as its file says it: what can be ordered, what can be in the box, and where it lies.

use std::collections::BTreeMap;

use measure::{Length, Mass, Unit};
use serde::{Deserialize, Deserializer, de::Error as _};

use crate::part::{End, Mark, SubKit};
use crate::profile::Profile;
use crate::profile_asked::{Ask, AskedLink, NoProfile, Peak};

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

/// A design that can be ordered in sizes, read from its file and checked against itself.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// The name that an order gives.
    pub name: String,
    /// What people read.
    pub title: String,
    /// Other words by which a packing list may call it.
    #[serde(default)]
    pub words: Vec<String>,
    pub(crate) size: Size,
    pub(crate) profile: ProfileFile,
    #[serde(default, rename = "option")]
    pub(crate) options: Vec<Choice>,
    #[serde(default, rename = "exclusion")]
    pub(crate) exclusions: Vec<Exclusion>,
    #[serde(rename = "stage")]
    pub(crate) stages: Vec<StageFile>,
    #[serde(rename = "part")]
    pub(crate) parts: Vec<PartFile>,
    #[serde(rename = "member")]
    pub(crate) members: Vec<MemberFile>,
    #[serde(default, rename = "joint")]
    pub(crate) joints: Vec<JointFile>,
    #[serde(default, rename = "skin")]
    pub(crate) skins: Vec<SkinFile>,
    #[serde(default, rename = "fitting")]
    pub(crate) fittings: Vec<FittingFile>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Size {
    #[serde(deserialize_with = "lengths")]
    pub bow_spacing: Vec<Length>,
    #[serde(deserialize_with = "length")]
    pub least_length: Length,
    #[serde(deserialize_with = "length")]
    pub most_length: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ProfileFile {
    #[serde(deserialize_with = "length")]
    pub width: Length,
    #[serde(deserialize_with = "length")]
    pub height: Length,
    #[serde(default)]
    pub peak: PeakFile,
    pub half: Vec<LinkFile>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum PeakFile {
    #[default]
    Pointed,
    Smooth,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LinkFile {
    pub name: String,
    #[serde(default, deserialize_with = "maybe_length")]
    pub straight: Option<Length>,
    #[serde(default, deserialize_with = "maybe_length")]
    pub arc: Option<Length>,
    /// Instead of `straight` or `arc`: it is one, and its length or radius follows.
    pub follows: Option<FollowsFile>,
    /// Of an arc, degrees; it follows where none is said.
    pub turn: Option<f64>,
    /// Where the link starts, degrees towards the middle.
    pub kink: Option<KinkFile>,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum FollowsFile {
    Straight,
    Arc,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
pub(crate) enum KinkFile {
    Degrees(f64),
    Word(KinkWord),
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum KinkWord {
    Follows,
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
    /// The first is what an order gets that says nothing.
    pub choices: Vec<String>,
}

impl Choice {
    /// The tables of the order file that it may stand in.
    pub fn tables(&self) -> &'static [&'static str] {
        if self.each_end {
            &["front", "back"]
        } else {
            &["options"]
        }
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Exclusion {
    pub together: When,
    pub why: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StageFile {
    pub name: String,
    #[serde(default)]
    pub follows: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PartFile {
    pub mark: String,
    pub noun: String,
    pub says: Option<String>,
    pub tube: Option<TubeFile>,
    pub channel: Option<ChannelFile>,
    #[serde(default, deserialize_with = "maybe_length")]
    pub wire: Option<Length>,
    #[serde(default, deserialize_with = "maybe_thickness")]
    pub film: Option<Length>,
    pub fastener: Option<FastenerFile>,
    /// Left out where the length follows from the places (bow pieces, headers, film).
    #[serde(default, deserialize_with = "maybe_length")]
    pub length: Option<Length>,
    #[serde(default, deserialize_with = "ends")]
    pub ends: Option<[End; 2]>,
    pub finish: Option<String>,
    /// Left out where it follows from the section (tube, channel, film).
    #[serde(default, deserialize_with = "maybe_mass")]
    pub mass: Option<Mass>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TubeFile {
    pub called: String,
    #[serde(deserialize_with = "length")]
    pub outside: Length,
    #[serde(deserialize_with = "length")]
    pub wall: Length,
    pub gauge: Option<u8>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ChannelFile {
    pub called: String,
    #[serde(deserialize_with = "length")]
    pub width: Length,
    #[serde(deserialize_with = "length")]
    pub depth: Length,
    /// Width of the strip that it is folded from.
    #[serde(deserialize_with = "length")]
    pub strip: Length,
    #[serde(deserialize_with = "length")]
    pub thickness: Length,
    pub metal: Metal,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Metal {
    Steel,
    Aluminium,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FastenerFile {
    pub size: String,
    #[serde(deserialize_with = "length")]
    pub diameter: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct MemberFile {
    pub role: String,
    /// What it is made of; a bow names its pieces itself.
    pub part: Option<String>,
    pub post: Option<PostFile>,
    pub bow: Option<BowFile>,
    pub along: Option<Spot>,
    #[serde(default, deserialize_with = "maybe_lengths")]
    pub upright: Option<Vec<Length>>,
    pub level: Option<LevelFile>,
    pub arch: Option<ArchFile>,
    pub follow: Option<Vec<String>>,
    /// Where a following member ends on an upright.
    #[serde(default, deserialize_with = "maybe_length")]
    pub to_height: Option<Length>,
    /// How far two pieces of a line lie over each other.
    #[serde(default, deserialize_with = "maybe_length")]
    pub lap: Option<Length>,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}

/// A place on the left half of the profile.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(
    untagged,
    deny_unknown_fields,
    expecting = "a place is \"peak\", a height ({ height = \"6 in\" }) or a share of a link ({ of = \"roof\", share = 0.5 })"
)]
pub(crate) enum Spot {
    /// Only the word "peak".
    Word(String),
    /// A share of a named link, counted from its lower end.
    Share { of: String, share: f64 },
    /// Over the ground.
    Height {
        #[serde(deserialize_with = "length")]
        height: Length,
    },
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PostFile {
    #[serde(deserialize_with = "length")]
    pub above_ground: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BowFile {
    pub half: Vec<BowPieceFile>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BowPieceFile {
    pub part: String,
    pub to: Spot,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LevelFile {
    /// From the middle to either end.
    #[serde(deserialize_with = "length")]
    pub reach: Length,
    #[serde(deserialize_with = "length")]
    pub height: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ArchFile {
    pub from: Spot,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct JointFile {
    pub between: Option<[String; 2]>,
    pub splice: Option<String>,
    pub foot: Option<Vec<String>>,
    pub fasten: Option<Vec<String>>,
    #[serde(default, deserialize_with = "maybe_length")]
    pub every: Option<Length>,
    pub says: String,
    pub hardware: BTreeMap<String, i64>,
    pub stage: String,
    pub sub_kit: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SkinFile {
    pub role: String,
    pub part: String,
    pub over: Option<OverFile>,
    pub end: Option<EndFilmFile>,
    #[serde(default, deserialize_with = "lengths")]
    pub roll_widths: Vec<Length>,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct OverFile {
    pub from: Spot,
    /// Film beyond the fastening line on either side, to hold on to.
    #[serde(deserialize_with = "length")]
    pub grip: Length,
    #[serde(deserialize_with = "length")]
    pub end_allowance: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct EndFilmFile {
    #[serde(deserialize_with = "length")]
    pub grip: Length,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FittingFile {
    pub role: String,
    pub parts: BTreeMap<String, i64>,
    #[serde(default)]
    pub when: When,
    pub stage: String,
    pub sub_kit: String,
}

/// Why a family file cannot be used.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FamilyError {
    /// The file's form; the message points at the line.
    #[error("the family file cannot be read: {0}")]
    Form(String),
    /// Something names what is not there, or cannot be; one line each.
    #[error("the family file does not agree with itself:\n{}", .0.join("\n"))]
    Content(Vec<String>),
    /// The profile cannot be.
    #[error("the family's profile cannot be: {0}")]
    Profile(#[from] NoProfile),
    /// No family has the name.
    #[error("no family is called `{name}`; there is: {}", .known.join(", "))]
    Unknown {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
}

/// The largest family file that is read, in bytes; gothic-24 has twelve thousand.
pub const MOST_FAMILY_BYTES: usize = 1024 * 1024;

/// The families that come with the program: name and file.
const SHIPPED: &[(&str, &str)] = &[(
    "gothic-24",
    include_str!("../../../families/gothic-24.toml"),
)];

impl Family {
    /// A family that comes with the program.
    pub fn named(name: &str) -> Result<Self, FamilyError> {
        match SHIPPED.iter().find(|(known, _)| *known == name) {
            Some((_, text)) => Self::read(text),
            None => Err(FamilyError::Unknown {
                name: name.into(),
                known: SHIPPED.iter().map(|(known, _)| (*known).into()).collect(),
            }),
        }
    }

    /// All families that come with the program.
    pub fn shipped() -> Vec<Self> {
        SHIPPED
            .iter()
            .filter_map(|(name, _)| Self::named(name).ok())
            .collect()
    }

    /// What an order may choose.
    pub fn choices(&self) -> &[Choice] {
        &self.options
    }

    /// Reads a family file and checks that whatever it names is there.
    pub fn read(text: &str) -> Result<Self, FamilyError> {
        if text.len() > MOST_FAMILY_BYTES {
            return Err(FamilyError::Form(format!(
                "it has {} bytes, more than the {MOST_FAMILY_BYTES} that a family may have",
                text.len()
            )));
        }
        let family: Self = toml::from_str(text).map_err(|e| FamilyError::Form(e.to_string()))?;
        let troubles = crate::family_check::troubles(&family);
        if !troubles.is_empty() {
            return Err(FamilyError::Content(troubles));
        }
        family.solve_profile()?;
        Ok(family)
    }

    /// Width, post centre to post centre.
    pub fn width(&self) -> Length {
        self.profile.width
    }

    /// Height, ground to the axis of the bow at the peak.
    pub fn height(&self) -> Length {
        self.profile.height
    }

    /// The spacings that can be ordered.
    pub fn bow_spacings(&self) -> &[Length] {
        &self.size.bow_spacing
    }

    /// Names of the stages, in the order of the build.
    pub fn stages(&self) -> impl Iterator<Item = &str> {
        self.stages.iter().map(|s| s.name.as_str())
    }

    pub(crate) fn solve_profile(&self) -> Result<Profile, NoProfile> {
        let asked: Vec<AskedLink> = (self.profile.half.iter())
            .filter_map(LinkFile::asked)
            .collect();
        let peak = match self.profile.peak {
            PeakFile::Pointed => Peak::Pointed,
            PeakFile::Smooth => Peak::Smooth,
        };
        Profile::solve(
            self.profile.width.to_metres(),
            self.profile.height.to_metres(),
            peak,
            &asked,
        )
    }

    /// Whether any of the conditions is on an option that each end has for itself.
    pub(crate) fn is_by_end(&self, when: &When) -> bool {
        (self.options.iter()).any(|o| o.each_end && when.contains_key(&o.key))
    }

    pub(crate) fn part_file(&self, mark: &str) -> Option<&PartFile> {
        self.parts.iter().find(|p| p.mark == mark)
    }
}

impl LinkFile {
    fn asked(&self) -> Option<AskedLink> {
        let given = |length: Length| Ask::Given(length.to_metres());
        let (straight, arc) = match self.follows {
            Some(FollowsFile::Straight) => (Some(Ask::Follows), None),
            Some(FollowsFile::Arc) => (None, Some(Ask::Follows)),
            None => (self.straight.map(given), self.arc.map(given)),
        };
        let link = match (straight, arc) {
            (Some(length), _) => AskedLink::straight(&self.name, length),
            (None, Some(radius)) => AskedLink::arc(&self.name, radius),
            (None, None) => return None,
        };
        let link = match self.turn {
            Some(degrees) => link.turning(degrees.to_radians()),
            None => link,
        };
        Some(match self.kink {
            Some(KinkFile::Degrees(degrees)) => link.kinked(Ask::Given(degrees.to_radians())),
            Some(KinkFile::Word(KinkWord::Follows)) => link.kinked(Ask::Follows),
            None => link,
        })
    }
}

impl PartFile {
    pub(crate) fn mark(&self) -> Mark {
        Mark(self.mark.clone())
    }

    /// How much of the length goes into the next piece of a line.
    pub(crate) fn swage(&self) -> Length {
        (self.ends.iter().flatten())
            .filter_map(|end| match end {
                End::Swaged(length) => Some(*length),
                _ => None,
            })
            .max()
            .unwrap_or(Length::ZERO)
    }
}

impl From<&str> for SubKit {
    fn from(name: &str) -> Self {
        SubKit(name.into())
    }
}

fn read_length<E: serde::de::Error>(text: &str) -> Result<Length, E> {
    Length::read(text, None).map_err(E::custom)
}

fn length<'de, D: Deserializer<'de>>(from: D) -> Result<Length, D::Error> {
    read_length(&String::deserialize(from)?)
}

fn maybe_length<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Length>, D::Error> {
    length(from).map(Some)
}

fn lengths<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Length>, D::Error> {
    Vec::<String>::deserialize(from)?
        .iter()
        .map(|text| read_length(text))
        .collect()
}

fn maybe_lengths<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Vec<Length>>, D::Error> {
    lengths(from).map(Some)
}

/// Film is sold in mil, thousandths of an inch; anything else is read as a length.
fn maybe_thickness<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Length>, D::Error> {
    let text = String::deserialize(from)?;
    let Some(mil) = text.trim().strip_suffix("mil") else {
        return read_length(&text).map(Some);
    };
    let mil: i64 = mil.trim().parse().map_err(|_| {
        D::Error::custom(format!(
            "`{text}` is no thickness; write a whole count, such as \"6 mil\""
        ))
    })?;
    Ok(mil.checked_mul(25_400).map(Length::nanometres))
}

fn maybe_mass<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Mass>, D::Error> {
    Mass::read(&String::deserialize(from)?, None)
        .map(Some)
        .map_err(D::Error::custom)
}

fn ends<'de, D: Deserializer<'de>>(from: D) -> Result<Option<[End; 2]>, D::Error> {
    let [one, other] = <[String; 2]>::deserialize(from)?;
    Ok(Some([end(&one)?, end(&other)?]))
}

fn end<E: serde::de::Error>(text: &str) -> Result<End, E> {
    match text {
        "plain" => Ok(End::Plain),
        "flattened" => Ok(End::Flattened),
        "punched" => Ok(End::Punched),
        _ => match text.strip_prefix("swaged ") {
            Some(over) => Ok(End::Swaged(
                Length::read(over, Some(Unit::Inch)).map_err(E::custom)?,
            )),
            None => Err(E::custom(format!(
                "`{text}` is no end of a tube; it may be plain, flattened, punched, or swaged with a length \
                 (\"swaged 4 in\")"
            ))),
        },
    }
}
