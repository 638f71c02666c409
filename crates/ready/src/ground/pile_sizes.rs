//! How large a pile gets: every figure that the sizes rest on, and the sums.
//!
//! Figures without a source are ours. "Common practice, no source" are: long stock lies off the ground on timbers so close
//! that it does not sag, film in its wrap and lying, timber flat with stickers, bows in one another.

use frame::{Part, Section};

use super::pile::{Dunnage, PileKind};

/// No pile is higher, so that nobody lifts from over the knuckles: ours, about 30 in.
pub const HIGHEST: f64 = 0.75;
/// Bows slide on each other: ours, about knee-high.
pub const HIGHEST_BOWS: f64 = 0.5;
/// No pile of long stock is wider, so that its middle is in reach from both sides: ours.
pub const WIDEST: f64 = 1.2;
/// What a pile lies on is so high: a 4x4 as it measures (3-1/2 in).
pub const BEARER: f64 = 0.0889;
/// From one bearer to the next, at most: ours.
pub const BEARERS_APART: f64 = 2.0;
/// From the last bearer to the end, at most: ours.
const OVERHANG: f64 = 0.6;
/// Between layers of timber: a 1x2 lath as it measures (3/4 in).
const STICKER: f64 = 0.019;
/// Pieces never lie quite close: ours.
const LOOSE: f64 = 1.1;
/// Film and cloth come folded to no more than this: ours.
const LONGEST_ROLL: f64 = 3.0;
/// A roll holds as much air as film: ours.
const ROLL_AIR: f64 = 2.0;
/// Cloth, whose thickness no family gives: half a millimetre, ours.
const CLOTH: f64 = 0.0005;
/// A bin on the table, along and across: ours.
pub const BIN: [f64; 2] = [0.25, 0.35];
/// Bins behind one another on a table; a table is so deep.
pub const BINS_DEEP: usize = 2;
/// Height of a table: ours.
pub const TABLE_HIGH: f64 = 0.75;
/// The longest row of tables; a second stands behind it, a way between: ours.
const LONGEST_TABLE: f64 = 5.4;
/// Between two rows of tables: ours.
const BETWEEN_TABLES: f64 = 1.0;
/// What no family gives the size of, by its mass: from these kilograms on, length, width and thickness. Ours.
const SIZE_BY_MASS: [(f64, [f64; 3]); 3] = [
    (8.0, [2.1, 1.1, 0.06]),
    (3.0, [0.8, 0.6, 0.25]),
    (0.0, [0.5, 0.4, 0.15]),
];

/// A stack: length, width and height in metres, the height without what it lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stack {
    pub length: f64,
    pub width: f64,
    pub height: f64,
}

/// One piece as it lies: length, width and height.
pub(super) fn piece(part: &Part, kind: PileKind) -> [f64; 3] {
    let length = part.length.map(|l| l.to_metres());
    match kind {
        PileKind::Bows => {
            let bend = part.bend.as_ref();
            let chord = bend.map(|b| b.chord.to_metres()).or(length).unwrap_or(1.0);
            let rise = bend.map_or(0.0, |b| b.rise.to_metres());
            [chord, rise, thick(part)]
        }
        PileKind::Long => [length.unwrap_or(1.0), thick(part), thick(part)],
        PileKind::Timber => {
            let (width, depth) = match &part.section {
                Some(Section::Timber { width, depth, .. }) => {
                    (width.to_metres(), depth.to_metres())
                }
                _ => (0.05, 0.1),
            };
            [
                length.unwrap_or(1.0),
                width.max(depth),
                width.min(depth) + STICKER,
            ]
        }
        PileKind::Rolls => roll(part),
        PileKind::Large | PileKind::Table => large(part),
    }
}

fn thick(part: &Part) -> f64 {
    let across = match &part.section {
        Some(Section::Tube { outside, .. }) => outside.to_metres(),
        Some(Section::Box { width, depth, .. } | Section::Channel { width, depth, .. }) => {
            width.to_metres().max(depth.to_metres())
        }
        Some(Section::Wire { diameter }) => diameter.to_metres(),
        _ => 0.05,
    };
    across * LOOSE
}

fn roll(part: &Part) -> [f64; 3] {
    let sides = [part.width, part.length].map(|side| side.map_or(1.0, |l| l.to_metres()));
    let thickness = match &part.section {
        Some(Section::Film { thickness }) => thickness.to_metres(),
        _ => CLOTH,
    };
    let length = sides[0].min(sides[1]).clamp(0.3, LONGEST_ROLL);
    let round = ROLL_AIR * sides[0] * sides[1] * thickness / length;
    let across = (4.0 * round / std::f64::consts::PI).sqrt().max(0.1);
    [length, across, across]
}

fn large(part: &Part) -> [f64; 3] {
    let mass = part.unit_mass.to_kilograms();
    let by_mass = SIZE_BY_MASS.iter().find(|(from, _)| mass >= *from);
    let [length, width, height] = by_mass.map_or([0.5, 0.4, 0.15], |(_, size)| *size);
    [
        part.length.map_or(length, |l| l.to_metres()),
        part.width.map_or(width, |l| l.to_metres()),
        height,
    ]
}

/// How so many pieces lie: in a stack about as high as wide, no higher and no wider than it may be.
pub(super) fn stack(size: [f64; 3], pieces: i64, kind: PileKind) -> Stack {
    let [length, width, height] = size;
    let pieces = pieces.max(1) as f64;
    let highest = most_high(kind);
    let layers_at_most = ((highest / height).floor()).max(1.0);
    match kind {
        // Each lies in the one before: one more thickness a piece, not one more rise.
        PileKind::Bows => {
            let layers = layers_at_most.min(pieces);
            let beside = (pieces / layers).ceil();
            Stack {
                length,
                width: width + beside * height,
                height: (pieces / beside).ceil() * height,
            }
        }
        _ => {
            let square = (pieces * height / width).sqrt().ceil();
            let beside = square.max((pieces / layers_at_most).ceil()).max(1.0);
            let layers = (pieces / beside).ceil();
            Stack {
                length,
                width: beside.min(pieces) * width,
                height: layers * height,
            }
        }
    }
}

/// The highest that a stack gets, without what it lies on.
pub(super) fn most_high(kind: PileKind) -> f64 {
    match kind {
        PileKind::Bows => HIGHEST_BOWS - BEARER,
        _ => HIGHEST - BEARER,
    }
}

/// How many pieces a pile of one mark takes at most.
pub(super) fn most_pieces(size: [f64; 3], kind: PileKind) -> i64 {
    let layers = (most_high(kind) / size[2]).floor().max(1.0);
    let beside = match kind {
        PileKind::Bows => (WIDEST / size[2]).floor(),
        _ => (WIDEST / size[1]).floor(),
    };
    (layers * beside.max(1.0)) as i64
}

/// Bearers under a length.
pub(super) fn dunnage(length: f64) -> Dunnage {
    let between = (length - 2.0 * OVERHANG).max(0.0);
    let spans = (between / BEARERS_APART).ceil().max(1.0);
    let apart = match between > 0.3 {
        true => between / spans,
        false => length * 0.6,
    };
    Dunnage {
        bearers: spans as usize + 1,
        apart,
    }
}

/// Length and width of the tables for so many bins.
pub(super) fn tables(bins: usize) -> [f64; 2] {
    let columns = bins.div_ceil(BINS_DEEP).max(1) as f64;
    let depth = BIN[1] * BINS_DEEP as f64;
    let whole = columns * BIN[0];
    let rows = (whole / LONGEST_TABLE).ceil().max(1.0);
    let length = ((columns / rows).ceil() * BIN[0]).max(depth);
    [length, rows * depth + (rows - 1.0) * BETWEEN_TABLES]
}
