//! The shape of a family file's `[[part]]` tables: what can be in the box.

use measure::{Length, Mass};
use serde::Deserialize;

use crate::family_read::{density, ends, length, maybe_length, maybe_mass, maybe_thickness};
use crate::part::{End, Mark};

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
