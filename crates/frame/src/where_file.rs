//! How a family file says where: which bows, which sides, which place across the house.

use measure::Length;
use serde::Deserialize;

use crate::family_read::length;

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
