//! The shapes of a family file's tables, as they are read.

use std::collections::BTreeMap;

use measure::{Length, Mass};
use serde::Deserialize;

use crate::family_read::{
    all, density, ends, extent, length, lengths, maybe_length, maybe_mass, maybe_thickness, turn,
};
use crate::part::{End, Mark, SubKit};
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

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PartFile {
    pub mark: String,
    pub noun: String,
    pub says: Option<String>,
    pub tube: Option<TubeFile>,
    #[serde(rename = "box")]
    pub square: Option<BoxFile>,
    pub timber: Option<TimberFile>,
    pub channel: Option<ChannelFile>,
    pub cloth: Option<ClothFile>,
    #[serde(default, deserialize_with = "maybe_length")]
    pub wire: Option<Length>,
    #[serde(default, deserialize_with = "maybe_thickness")]
    pub film: Option<Length>,
    pub fastener: Option<FastenerFile>,
    /// Left out where the length follows from the places (bow pieces, headers, film). Of a bow piece that has one, it
    /// is the stock that the piece is cut from.
    #[serde(default, deserialize_with = "maybe_length")]
    pub length: Option<Length>,
    #[serde(default, deserialize_with = "ends")]
    pub ends: Option<[End; 2]>,
    pub finish: Option<String>,
    /// Left out where it follows from the section (tube, timber, channel, film, cloth).
    #[serde(default, deserialize_with = "maybe_mass")]
    pub mass: Option<Mass>,
    pub spare: Option<Spare>,
}

/// What the sender packs beyond what the house needs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Spare {
    /// In hundredths of what is needed.
    #[serde(default)]
    pub percent: u32,
    #[serde(default)]
    pub at_least: u32,
    /// The whole is rounded up to bags of this many.
    pub pack: Option<u32>,
}

impl Spare {
    /// How many are packed when so many are needed.
    pub(crate) fn supplied(self, needed: i64) -> i64 {
        let share = (needed * i64::from(self.percent) + 99) / 100;
        let packed = needed + share.max(i64::from(self.at_least));
        match self.pack.map(i64::from).filter(|pack| *pack > 0) {
            Some(pack) => (packed + pack - 1) / pack * pack,
            None => packed,
        }
    }
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

/// Square or rectangular tube.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BoxFile {
    pub called: String,
    #[serde(deserialize_with = "length")]
    pub width: Length,
    /// The width again when left out: the tube is square.
    #[serde(default, deserialize_with = "maybe_length")]
    pub depth: Option<Length>,
    #[serde(deserialize_with = "length")]
    pub wall: Length,
    pub gauge: Option<u8>,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TimberFile {
    pub called: String,
    #[serde(deserialize_with = "length")]
    pub width: Length,
    #[serde(deserialize_with = "length")]
    pub depth: Length,
    /// In kilograms a cubic metre.
    #[serde(deserialize_with = "density")]
    pub density: f64,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ClothFile {
    pub called: String,
    /// In grams a square metre.
    #[serde(deserialize_with = "density")]
    pub area_density: f64,
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
    /// A line that hangs free: it meets no bow and no post. Of a level piece: its ends need nothing that holds them.
    #[serde(default)]
    pub loose: bool,
    /// How far the joints of a line keep from every bow.
    #[serde(default, deserialize_with = "maybe_length")]
    pub splices_clear: Option<Length>,
    /// Where an upright begins, if not on the ground.
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

/// Which sides of the house.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Sides {
    #[default]
    Both,
    Left,
    Right,
}

impl Sides {
    /// By the side's index: left, right.
    pub(crate) fn has(self, side: usize) -> bool {
        match self {
            Sides::Both => true,
            Sides::Left => side == 0,
            Sides::Right => side == 1,
        }
    }
}

/// Which bows of the house.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(
    untagged,
    expecting = "bows are \"all\", \"ends\", \"inner\", \"middle\" or \"rest\", { from_end = 1 } (so many in from either \
                 end), { every = 2 } (counted from the front, `from` the first unless said), { inner_every = 2 }, or a list \
                 ([1, 4], counted from the front)"
)]
pub(crate) enum Bows {
    /// The default, as no word.
    #[default]
    All,
    Word(BowsWord),
    /// Counted from the front, from 1. Before the tables, since serde takes a list for one of those.
    List(Vec<i64>),
    FromEnd(FromEnd),
    Every(Every),
    InnerEvery(InnerEvery),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum BowsWord {
    All,
    Ends,
    Inner,
    Middle,
    /// Those that no rule above it for the same role has.
    Rest,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FromEnd {
    pub from_end: i64,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Every {
    pub every: i64,
    /// Counted from 1.
    #[serde(default = "first")]
    pub from: i64,
}

/// As `Every` from the second bow on, and never the end bows.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct InnerEvery {
    pub inner_every: i64,
}

fn first() -> i64 {
    1
}

impl Bows {
    /// Whether a bow is one of them: its index from the front, of so many bays.
    pub(crate) fn has(&self, bow: i64, bays: i64) -> bool {
        let inner = bow > 0 && bow < bays;
        match self {
            // Which are the rest is found where the rules above are known.
            Bows::All | Bows::Word(BowsWord::All | BowsWord::Rest) => true,
            Bows::Word(BowsWord::Ends) => !inner,
            Bows::Word(BowsWord::Inner) => inner,
            Bows::Word(BowsWord::Middle) => bow == bays / 2,
            Bows::List(bows) => bows.contains(&(bow + 1)),
            Bows::FromEnd(FromEnd { from_end }) => bow == *from_end || bow == bays - from_end,
            Bows::Every(Every { every, from }) => {
                bow + 1 >= *from && (bow + 1 - from).checked_rem(*every) == Some(0)
            }
            Bows::InnerEvery(InnerEvery { inner_every }) => {
                inner && (bow - 1).checked_rem(*inner_every) == Some(0)
            }
        }
    }

    pub(crate) fn is_all(&self) -> bool {
        matches!(self, Bows::All | Bows::Word(BowsWord::All))
    }

    pub(crate) fn is_rest(&self) -> bool {
        matches!(self, Bows::Word(BowsWord::Rest))
    }
}

/// A place across the house, on its left half; mirrored.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(
    untagged,
    deny_unknown_fields,
    expecting = "a place is \"peak\", a height ({ height = \"6 in\" }), a share of a link ({ of = \"roof\", share = \
                 0.5 }), a length along it ({ of = \"roof\", along = \"5 ft\" }), a distance from the middle \
                 ({ x = \"4 ft\" }), or a point off the profile ({ x = \"4 ft\", height = \"8 ft\" })"
)]
pub(crate) enum Spot {
    /// Only the words "peak" and, of a bow's last piece, "over the peak".
    Word(String),
    /// A share of a named link, counted from its lower end.
    Share { of: String, share: f64 },
    /// A length along a named link, counted from its lower end.
    Along {
        of: String,
        #[serde(deserialize_with = "length")]
        along: Length,
    },
    /// From the middle and over the ground, wherever the profile is.
    Point {
        #[serde(deserialize_with = "length")]
        x: Length,
        #[serde(deserialize_with = "length")]
        height: Length,
    },
    /// Over the ground.
    Height {
        #[serde(deserialize_with = "length")]
        height: Length,
    },
    /// From the middle.
    Aside {
        #[serde(deserialize_with = "length")]
        x: Length,
    },
}

impl Spot {
    pub(crate) fn is_word(&self, wanted: &str) -> bool {
        matches!(self, Spot::Word(word) if word == wanted)
    }
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
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct JointFile {
    pub between: Option<[String; 2]>,
    pub splice: Option<String>,
    pub peak: Option<String>,
    pub foot: Option<Vec<String>>,
    pub fasten: Option<Vec<String>>,
    pub ends: Option<Vec<String>>,
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

impl From<&str> for SubKit {
    fn from(name: &str) -> Self {
        SubKit(name.into())
    }
}

impl PartFile {
    pub(crate) fn mark(&self) -> Mark {
        Mark(self.mark.clone())
    }

    /// How much of the length goes into the next piece of a line.
    pub(crate) fn swage(&self) -> Length {
        self.swages().max().unwrap_or(Length::ZERO)
    }

    pub(crate) fn swages(&self) -> impl Iterator<Item = Length> {
        (self.ends.iter().flatten()).filter_map(|end| match end {
            End::Swaged(length) => Some(*length),
            _ => None,
        })
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(transparent)]
pub(crate) struct Profiles(#[serde(deserialize_with = "all")] pub Vec<ProfileFile>);
