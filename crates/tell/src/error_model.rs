//! How far readings and parts are off: every figure that the answer leans on, with where it is from.
//!
//! Marks: S seen in the source, S2 second-hand, S2t a trade page, D computed, M from memory, **ours** a design value of
//! ours with no source. A limit of error `a` either way, of a part or a tool, is taken as a spread (standard deviation)
//! of `a / √3`, that of a value which lies anywhere within the limits (JCGM 100, *Guide to the expression of
//! uncertainty in measurement*, 4.3.7, M).
//!
//! # Parts
//!
//! | what | limit | from |
//! | --- | --- | --- |
//! | outside diameter of round tube, 2.375 in and over | ±1 % | ASTM F1083, S2t |
//! | the same, smaller | +1/64 in, −1/32 in | ASTM F1083, S2t; where it begins M |
//! | outside of square tube | ±1 % | ours |
//! | wall of tube | ±10 % | ours, from the weight tolerance |
//! | mass of tube and of whatever is not named below | ±10 % | ASTM F1083 for pipe, S2t; for the rest ours |
//! | thickness of film, and with it its mass | ±10 % | a film trade page, S2t |
//! | mass of timber | ±25 %: it is wet or dry | ours |
//! | length of tube, channel, wire | ±1/8 in | ours |
//! | length of timber | ±1/4 in | ours |
//! | length and width of film and cloth | ±2 % | ours |
//! | length of a bolt or a screw | ±1/32 in | ours |
//! | other lengths and widths | ±1/8 in, and ±1/16 in | ours |
//! | chord and rise of a bent piece, which springs | ±1-1/2 in | ours |
//! | rise of a straight piece | ±1/4 in | ours |
//! | hole spacing of a tube punched at both ends | its length less 2 in, ±1 in | ours |
//!
//! # Tools
//!
//! | what | spread | from |
//! | --- | --- | --- |
//! | a tape's own marks | limits of its class | NIST Handbook 44 §5.52, S2; EC classes S2t and D |
//! | a tape held to a straight piece | 1/32 in | ours |
//! | a tape laid along a bent piece | 3/16 in | ours |
//! | a tape across a tube | 1/24 in | ours |
//! | a string or a tape around a tube | 1/20 in, and 0.5 % | ours |
//! | a caliper: zinc, burrs, tubes out of round | 0.005 in across, 0.003 in at a wall | ours |
//! | a gauge plate at a wall | 0.003 in | ours |
//! | a scale | half its step, and 0.2 % | ours |
//!
//! # Slips and looks
//!
//! | what | rate | from |
//! | --- | --- | --- |
//! | a foot too many or too few, of what is 2 ft and longer | 0.5 % each | ours |
//! | 100 mm too many or too few on a metric tape | 0.25 % each | ours |
//! | 10 mm too many or too few on a metric tape | 0.25 % each | ours |
//! | anything at all is read of a size | 0.5 % | ours |
//! | anything at all is said of what is judged by eye | 1 % | ours |
//! | a kind taken for another | see [`mistaken_kind`] | ours |
//! | an end taken for another | see [`mistaken_end`] | ours |
//! | straight for bent or bent for straight | 1.5 % | ours |
//! | a coating taken for another | see [`mistaken_coating`] | ours |
//! | a look taken for another of its kind | 5 % | ours |
//! | a length, and a size across, as the eye judges it | spread 10 %, and 8 % | ours |
//! | holes miscounted, or drilled and not in the list | 15 % | ours |
//!
//! # None of this order
//!
//! A piece is none of this order with a chance of 2 % before anything is read (ours). 70 % of that are the known parts
//! of other orders, each as likely as the next; the rest is anything: each look as likely as the next, and sizes and
//! masses spread evenly over their logarithm.

use measure::{Length, Tolerance};

use crate::reading::{Coating, EndLook, Kind, TapeClass};

/// How sure the answer must be to be called decided. At 0.95 one name in twenty may be wrong at the very limit, and a
/// count by pile or a second reading finds it; a limit much higher would ask for a reading more of nearly every piece,
/// since slips alone hold about one in a hundred.
pub const CONFIDENCE: f64 = 0.95;
/// How likely a piece is none of this order before anything is read.
pub const NONE_OF_THIS_ORDER: f64 = 0.02;
/// How much of that are known parts of other orders, if any are known.
pub const KNOWN_ELSEWHERE: f64 = 0.7;

/// A limit either way as a spread.
pub fn spread_of_limit(limit: f64) -> f64 {
    limit / 3f64.sqrt()
}

/// Metres in an inch.
pub const INCH: f64 = 0.0254;

/// How far the length of tube, channel and wire may be off, metres: ours.
pub const TUBE_LENGTH: f64 = INCH / 8.0;
/// Of timber: ours.
pub const TIMBER_LENGTH: f64 = INCH / 4.0;
/// Of a bolt or a screw: ours.
pub const FASTENER_LENGTH: f64 = INCH / 32.0;
/// Of other things: ours.
pub const OTHER_LENGTH: f64 = INCH / 8.0;
/// How far the wider side of what is neither tube nor fastener may be off: ours.
pub const OTHER_ACROSS: f64 = INCH / 16.0;
/// How far a thread may be off: ours.
pub const FASTENER_ACROSS: f64 = INCH * 0.006;
/// How far wire may be off: ours.
pub const WIRE_ACROSS: f64 = INCH * 0.004;
/// How far film and cloth may be off in length and width, as a share: ours.
pub const SHEET_SHARE: f64 = 0.02;
/// How far square tube may be off, as a share: ours.
pub const BOX_SHARE: f64 = 0.01;
/// How far a wall may be off, as a share: ours, from the weight tolerance.
pub const WALL_SHARE: f64 = 0.10;
/// How far a mass may be off, as a share: ASTM F1083 for pipe, S2t; thickness of film, S2t; for the rest ours.
pub const MASS_SHARE: f64 = 0.10;
/// How far the mass of timber may be off, as a share: ours.
pub const TIMBER_MASS_SHARE: f64 = 0.25;
/// How far chord and rise of a bent piece may be off: ours.
pub const BEND: f64 = INCH * 1.5;
/// How far what is straight may rise over its chord: ours.
pub const STRAIGHT_RISE: f64 = INCH / 4.0;
/// How much the holes of a tube punched at both ends lie inside its ends, both together: ours.
pub const HOLE_FROM_ENDS: f64 = INCH * 2.0;
/// How far that may be off: ours.
pub const HOLE_SPACING: f64 = INCH;

/// How far the outside of a round tube may be off; see [`measure::tube::pipe_od_tolerance`]. The same is taken for
/// lighter tube, for which no limit was found.
pub fn tube_across(outside: Length) -> Tolerance {
    measure::tube::pipe_od_tolerance(outside).0
}

/// Spread of a tape held to a straight piece: ours.
pub const TAPE_HELD: f64 = INCH / 32.0;
/// Spread of a tape laid along a bent piece: ours.
pub const TAPE_ALONG_BEND: f64 = INCH * 3.0 / 16.0;
/// Spread of a tape across a tube: ours.
pub const TAPE_ACROSS: f64 = INCH / 24.0;
/// Spread of a string around a tube: ours.
pub const AROUND: f64 = INCH / 20.0;
/// The same that grows with the size, as a share of it: ours.
pub const AROUND_SHARE: f64 = 0.005;
/// Spread of a caliper across a piece: ours.
pub const CALIPER_ACROSS: f64 = INCH * 0.005;
/// Spread of a caliper at a wall: ours.
pub const CALIPER_WALL: f64 = INCH * 0.003;
/// Spread of a gauge plate at a wall: ours.
pub const PLATE_WALL: f64 = INCH * 0.003;
/// Spread of a scale beside half its step, as a share of the mass: ours.
pub const SCALE_SHARE: f64 = 0.002;

/// How far a tape's own marks may be off at a length: NIST Handbook 44 §5.52 by the interval from zero (S2; past 100 ft
/// taken as 3/8 in, ours), or EC classes I to III, 0.1 + 0.1 L, 0.3 + 0.2 L and 0.6 + 0.4 L in millimetres with L in
/// metres raised to the next whole one (S2t to 10 m, D beyond, the form of class III M).
pub fn tape_limit(class: TapeClass, metres: f64) -> f64 {
    let metres = if metres.is_finite() {
        metres.clamp(0.0, 1e3)
    } else {
        1e3
    };
    let ec = |fixed: f64, each: f64| (fixed + each * metres.ceil()) / 1e3;
    match class {
        TapeClass::Handbook44 => {
            let feet = metres / 0.3048;
            // A length on the limit itself comes out of a float a hair above it.
            let sixteenths = match feet - 1e-9 {
                f if f <= 6.0 => 0.5,
                f if f <= 30.0 => 1.0,
                f if f <= 55.0 => 2.0,
                f if f <= 80.0 => 3.0,
                f if f <= 100.0 => 4.0,
                _ => 6.0,
            };
            sixteenths / 16.0 * INCH
        }
        TapeClass::EcI => ec(0.1, 0.1),
        TapeClass::EcII => ec(0.3, 0.2),
        TapeClass::EcIII | TapeClass::Unknown => ec(0.6, 0.4),
    }
}

/// The slips of a tape in feet: how far, and how often.
pub const SLIPS_IN_FEET: [(f64, f64); 2] = [(0.3048, 0.005), (-0.3048, 0.005)];
/// The slips of a metric tape.
pub const SLIPS_IN_MILLIMETRES: [(f64, f64); 4] = [
    (0.1, 0.0025),
    (-0.1, 0.0025),
    (0.01, 0.0025),
    (-0.01, 0.0025),
];
/// What is shorter is seen at a glance, and no foot is lost.
pub const SHORTEST_WITH_SLIPS: f64 = 0.6096;
/// How often anything at all is read of a size.
pub const ANY_SIZE: f64 = 0.005;
/// How often anything at all is said of what is judged by eye.
pub const ANY_LOOK: f64 = 0.01;
/// Of what is read at all, how often it lies under the first mark or past the end of the tool: each.
pub const OFF_THE_TOOL: f64 = 0.005;
/// What is unknown in size and measured twice shows the second time what it showed the first, within the errors of both
/// tools and this share of the first one's step.
pub const UNKNOWN_AGAIN: f64 = 0.3;
/// The longest length that a tape, and a caliper, shows; metres.
pub const LONGEST: [f64; 2] = [100.0, 0.2];
/// The heaviest mass that a scale shows; kilograms.
pub const HEAVIEST: f64 = 1000.0;

/// How often what is bent is called straight, and the other way round: ours.
pub const BENT_FOR_STRAIGHT: f64 = 0.015;
/// How often a look is taken for another of its kind: ours.
pub const OTHER_LOOK: f64 = 0.05;
/// How often holes are miscounted, or drilled and not in the list: ours.
pub const HOLES_OFF: f64 = 0.15;
/// More holes than this are not told apart.
pub const MOST_HOLES: i64 = 12;

/// How often a kind is taken for another, beyond [`ANY_LOOK`]. A nut or a washer is hardware to most and belongs to the
/// bolts for some.
pub fn mistaken_kind(is: Kind, small: bool) -> &'static [(Kind, f64)] {
    match is {
        Kind::RoundTube => &[(Kind::SquareTube, 0.003), (Kind::Wire, 0.002)],
        Kind::SquareTube => &[(Kind::RoundTube, 0.003), (Kind::Channel, 0.01)],
        Kind::Timber => &[],
        Kind::Channel => &[(Kind::SquareTube, 0.01), (Kind::Hardware, 0.02)],
        Kind::Sheet => &[],
        Kind::Wire => &[(Kind::Hardware, 0.03), (Kind::RoundTube, 0.002)],
        Kind::Fastener if small => &[(Kind::Hardware, 0.6)],
        Kind::Fastener => &[(Kind::Hardware, 0.03)],
        Kind::Hardware => &[(Kind::Fastener, 0.03), (Kind::Channel, 0.005)],
        Kind::Unknown => &[],
    }
}

/// How often an end is taken for another, beyond [`ANY_LOOK`].
pub fn mistaken_end(is: EndLook) -> &'static [(EndLook, f64)] {
    match is {
        EndLook::Plain => &[(EndLook::Swaged, 0.01)],
        EndLook::Swaged => &[(EndLook::Plain, 0.03)],
        EndLook::Flattened => &[(EndLook::Punched, 0.03), (EndLook::Coped, 0.01)],
        EndLook::Punched => &[(EndLook::Flattened, 0.05)],
        EndLook::Threaded => &[(EndLook::Plain, 0.03)],
        EndLook::Coped => &[(EndLook::Flattened, 0.03), (EndLook::Plain, 0.02)],
        EndLook::Unknown => &[],
    }
}

/// How often a coating is taken for another, beyond [`ANY_LOOK`].
pub fn mistaken_coating(is: Coating) -> &'static [(Coating, f64)] {
    match is {
        Coating::Galvanized => &[
            (Coating::ZincPlated, 0.12),
            (Coating::Mill, 0.08),
            (Coating::Rusty, 0.02),
        ],
        Coating::ZincPlated => &[(Coating::Galvanized, 0.12), (Coating::Mill, 0.05)],
        Coating::Mill => &[(Coating::Galvanized, 0.15), (Coating::ZincPlated, 0.05)],
        Coating::Coated => &[
            (Coating::White, 0.05),
            (Coating::Dark, 0.05),
            (Coating::Galvanized, 0.02),
        ],
        Coating::Rusty => &[(Coating::Mill, 0.05), (Coating::Dark, 0.05)],
        Coating::Clear => &[(Coating::White, 0.10)],
        Coating::White => &[(Coating::Clear, 0.05), (Coating::Coated, 0.10)],
        Coating::Dark => &[(Coating::Coated, 0.10)],
        Coating::Wood => &[],
        Coating::Unknown => &[],
    }
}

/// How well the eye judges a length, as a share of it.
pub const EYE_LENGTH: f64 = 0.10;
/// How well the eye judges a size across, as a share of it.
pub const EYE_ACROSS: f64 = 0.08;
/// A pair that is mistaken more seldom than this by eye is not worth showing.
pub const WORTH_SHOWING: f64 = 0.02;
/// A reading that is wrong no more often than this tells two marks apart.
pub const SEPARATES: f64 = 0.025;

/// How long a reading takes, in seconds; all ours. Counted for one person with gloves, tools at hand.
pub mod seconds {
    /// Its kind, by eye.
    pub const KIND: f64 = 2.0;
    /// What it looks like.
    pub const LOOKS: f64 = 4.0;
    /// One end.
    pub const END: f64 = 3.0;
    /// Whether it is straight, by eye.
    pub const BEND: f64 = 2.0;
    /// Its coating.
    pub const COATING: f64 = 3.0;
    /// Its holes.
    pub const HOLES: f64 = 6.0;
    /// Its length, with a tape; mostly two go.
    pub const LENGTH: f64 = 20.0;
    /// Across, with a tape.
    pub const TAPE_ACROSS: f64 = 8.0;
    /// Around, with a string.
    pub const AROUND: f64 = 15.0;
    /// Across, with a caliper.
    pub const CALIPER: f64 = 10.0;
    /// Its wall.
    pub const WALL: f64 = 12.0;
    /// Its chord.
    pub const CHORD: f64 = 30.0;
    /// Its rise.
    pub const RISE: f64 = 45.0;
    /// From hole to hole, with a tape.
    pub const HOLE_SPACING: f64 = 20.0;
    /// Its mass: it is carried to the scale.
    pub const MASS: f64 = 40.0;
}
