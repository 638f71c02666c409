//! Sizes of fasteners from published standards, for orders that name a size and no more.
//!
//! The standards are sold; what stands here is from pages that print their tables, each row with how sure it is.
//! Where a table gives a greatest and a least size, the greatest stands here.

use measure::{Length, Sure};

/// The head of a hex washer head screw.
pub(crate) struct HexWasherHead {
    pub size: &'static str,
    pub across_flats: Length,
    pub height: Length,
    pub washer: Length,
    pub thickness: Length,
    pub per_inch: u8,
}

/// SAE J78 self-drilling screws take their heads from ASME B18.6.4; flats, washers and threads from a trade page
/// (S2t), heights and thicknesses from two trade pages that print ASME B18.6.3 (S2t), where the same flats and
/// washers stand.
pub(crate) const HEX_WASHER_HEADS: (&str, Sure, [HexWasherHead; 6]) = (
    "SAE J78, ASME B18.6.3 and B18.6.4",
    Sure::TradePage,
    [
        hex_washer("#6", [250, 93, 328, 25], 20),
        hex_washer("#8", [250, 110, 348, 31], 18),
        hex_washer("#10", [312, 120, 414, 31], 16),
        hex_washer("#12", [312, 155, 432, 39], 14),
        hex_washer("#14", [375, 190, 520, 50], 14),
        hex_washer("1/4", [375, 190, 520, 50], 14),
    ],
);

/// The head of a hex bolt or a lag screw.
pub(crate) struct HexHead {
    pub size: &'static str,
    pub across_flats: Length,
    pub height: Length,
    /// UNC.
    pub per_inch: u8,
}

/// ASME B18.2.1, hex bolts: a trade page (S2t). Lag screws have the same heads (from memory).
pub(crate) const HEX_HEADS: (&str, Sure, [HexHead; 3]) = (
    "ASME B18.2.1",
    Sure::TradePage,
    [
        hex("1/4", [438, 188], 20),
        hex("5/16", [500, 235], 18),
        hex("3/8", [562, 268], 16),
    ],
);

/// The head of a carriage bolt.
pub(crate) struct RoundHead {
    pub size: &'static str,
    pub across: Length,
    pub height: Length,
    pub neck: Length,
    pub neck_depth: Length,
    /// UNC.
    pub per_inch: u8,
}

/// ASME B18.5, round head square neck bolts: three trade pages that agree (S2t).
pub(crate) const ROUND_HEADS: (&str, Sure, [RoundHead; 4]) = (
    "ASME B18.5",
    Sure::TradePage,
    [
        round("#10", [469, 114, 199, 125], 24),
        round("1/4", [594, 145, 260, 156], 20),
        round("5/16", [719, 176, 324, 187], 18),
        round("3/8", [844, 208, 388, 219], 16),
    ],
);

/// Across the flats of a nut, by size. ASME B18.2.2 and, of lock nuts with an insert, B18.16.6 have the same flats
/// within 1/500 in: two trade pages (S2t).
pub(crate) const NUTS: (&str, Sure, [(&str, Length, Length); 5]) = (
    "ASME B18.2.2",
    Sure::TradePage,
    [
        ("#8", Length::ten_thousandths(3438), Length::mils(164)),
        ("#10", Length::ten_thousandths(3750), Length::mils(190)),
        ("1/4", Length::ten_thousandths(4375), Length::mils(250)),
        ("5/16", Length::mils(500), Length::ten_thousandths(3125)),
        ("3/8", Length::ten_thousandths(5625), Length::mils(375)),
    ],
);

/// A flat washer.
pub(crate) struct Washer {
    pub size: &'static str,
    pub series: &'static str,
    pub inside: Length,
    pub outside: Length,
    pub thickness: Length,
    pub sure: Sure,
}

/// ASME B18.21.1. Type A from Machinery's Handbook, 31st ed., p. 1694, table 1a (S); type B from a trade page (S2t).
pub(crate) const WASHER_STANDARD: &str = "ASME B18.21.1";
/// By size; of one size the commoner first.
pub(crate) const WASHERS: [Washer; 12] = [
    washer("#10", "type A", [219, 500, 49], Sure::Seen),
    washer("#12", "type A", [250, 562, 65], Sure::Seen),
    washer("1/4", "type A narrow", [281, 625, 65], Sure::Seen),
    washer("1/4", "type A wide", [312, 734, 65], Sure::Seen),
    washer("1/4", "type B narrow", [281, 500, 63], Sure::TradePage),
    washer("1/4", "type B regular", [281, 734, 63], Sure::TradePage),
    washer("1/4", "type B wide", [281, 1000, 63], Sure::TradePage),
    washer("5/16", "type A narrow", [344, 688, 65], Sure::Seen),
    washer("5/16", "type A wide", [375, 875, 83], Sure::Seen),
    washer("5/16", "type B narrow", [344, 625, 63], Sure::TradePage),
    washer("3/8", "type A narrow", [406, 812, 65], Sure::Seen),
    washer("3/8", "type A wide", [438, 1000, 83], Sure::Seen),
];

/// A bolt of up to 6 in is threaded over twice its diameter and a quarter inch (ASME B18.2.1, S2t).
pub(crate) fn threaded(diameter: Length) -> Length {
    diameter + diameter + Length::mils(250)
}

/// In 1/1000 in: across flats, height, washer, thickness.
const fn hex_washer(size: &'static str, mils: [i64; 4], per_inch: u8) -> HexWasherHead {
    HexWasherHead {
        size,
        across_flats: Length::mils(mils[0]),
        height: Length::mils(mils[1]),
        washer: Length::mils(mils[2]),
        thickness: Length::mils(mils[3]),
        per_inch,
    }
}

const fn hex(size: &'static str, mils: [i64; 2], per_inch: u8) -> HexHead {
    HexHead {
        size,
        across_flats: Length::mils(mils[0]),
        height: Length::mils(mils[1]),
        per_inch,
    }
}

const fn round(size: &'static str, mils: [i64; 4], per_inch: u8) -> RoundHead {
    RoundHead {
        size,
        across: Length::mils(mils[0]),
        height: Length::mils(mils[1]),
        neck: Length::mils(mils[2]),
        neck_depth: Length::mils(mils[3]),
        per_inch,
    }
}

const fn washer(size: &'static str, series: &'static str, mils: [i64; 3], sure: Sure) -> Washer {
    Washer {
        size,
        series,
        inside: Length::mils(mils[0]),
        outside: Length::mils(mils[1]),
        thickness: Length::mils(mils[2]),
        sure,
    }
}
