//! What can be read of a part: its sizes with their spread, and its looks.

use frame::{Bend, End, Part, Section};
use measure::{Length, Tolerance};

use crate::error_model::{
    BEND, BOX_SHARE, FASTENER_ACROSS, FASTENER_LENGTH, HOLE_FROM_ENDS, HOLE_SPACING, MASS_SHARE,
    OTHER_ACROSS, OTHER_LENGTH, SHEET_SHARE, STRAIGHT_RISE, TIMBER_LENGTH, TIMBER_MASS_SHARE,
    TUBE_LENGTH, WALL_SHARE, WIRE_ACROSS, spread_of_limit, tube_across,
};
use crate::kit::SizeOf;
use crate::reading::{Coating, EndLook, Kind};

/// A quantity that belongs to the piece, however it is read: around and across are both of one diameter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Quantity {
    Length,
    Across,
    Wall,
    Chord,
    Rise,
    HoleSpacing,
    Mass,
}

pub(crate) const QUANTITIES: usize = 7;

/// A quantity of a part before it is read: metres, or kilograms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    pub mean: f64,
    pub sd: f64,
}

/// All of a part that can be read. Two parts for which it is equal cannot be told apart.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Readable {
    pub kind: Kind,
    /// What the eye calls it; see [`look`].
    pub look: String,
    /// A nut or a washer.
    pub small: bool,
    pub bent: Option<bool>,
    /// The lesser look first: nobody knows which end is which.
    pub ends: Option<[EndLook; 2]>,
    pub holes: Option<i64>,
    pub coating: Option<Coating>,
    sizes: [Option<Spread>; QUANTITIES],
    /// How many times its measure across a string around it shows.
    pub around: f64,
}

impl Readable {
    pub(crate) fn of(part: &Part) -> Self {
        let kind = kind(part);
        let mut readable = Self {
            kind,
            look: look(part),
            small: kind == Kind::Fastener && part.length.is_none(),
            bent: bent(part, kind),
            ends: part.ends.map(ends),
            holes: part.ends.map(holes),
            coating: part.finish.as_deref().and_then(coating),
            sizes: [None; QUANTITIES],
            around: std::f64::consts::PI,
        };
        readable.set(Quantity::Length, length(part, kind));
        readable.set(Quantity::Mass, mass(part, kind));
        if let Some(section) = &part.section {
            readable.set_section(section);
        }
        if let (None, Some(width)) = (readable.size(Quantity::Across), part.width) {
            let limit = match kind {
                Kind::Sheet => width.to_metres() * SHEET_SHARE,
                _ => OTHER_ACROSS,
            };
            readable.set(Quantity::Across, either_way(width.to_metres(), limit));
        }
        readable.set_bend(part.bend.as_ref());
        if let (Some(2), Some(length)) = (readable.holes, readable.size(Quantity::Length)) {
            let spacing = (length.mean - HOLE_FROM_ENDS).max(0.0);
            readable.set(Quantity::HoleSpacing, either_way(spacing, HOLE_SPACING));
        }
        readable
    }

    pub(crate) fn size(&self, quantity: Quantity) -> Option<Spread> {
        self.sizes[quantity as usize]
    }

    pub(crate) fn size_of(&self, quantity: usize) -> SizeOf {
        SizeOf {
            spread: self.sizes[quantity],
            around: self.around,
            bent: self.bent == Some(true),
        }
    }

    fn set(&mut self, quantity: Quantity, spread: Option<Spread>) {
        self.sizes[quantity as usize] = spread;
    }

    fn set_section(&mut self, section: &Section) {
        let metres = |length: &Length| length.to_metres();
        match section {
            Section::Tube { outside, wall, .. } => {
                self.set(Quantity::Across, within(*outside, tube_across(*outside)));
                self.set(Quantity::Wall, share(metres(wall), WALL_SHARE));
            }
            Section::Box {
                width, depth, wall, ..
            } => {
                let wider = metres(width).max(metres(depth));
                self.set(Quantity::Across, share(wider, BOX_SHARE));
                self.set(Quantity::Wall, share(metres(wall), WALL_SHARE));
                self.around = 2.0 * (metres(width) + metres(depth)) / wider;
            }
            Section::Timber { width, depth, .. } | Section::Channel { width, depth, .. } => {
                let wider = metres(width).max(metres(depth));
                self.set(Quantity::Across, either_way(wider, OTHER_ACROSS));
                self.around = 2.0 * (metres(width) + metres(depth)) / wider;
            }
            Section::Film { thickness } => {
                self.set(Quantity::Wall, share(metres(thickness), MASS_SHARE));
            }
            Section::Wire { diameter } => {
                self.set(Quantity::Across, either_way(metres(diameter), WIRE_ACROSS));
            }
            // What is known of a nut or a washer is its thread, not what a caliper finds across it.
            Section::Fastener { diameter, .. } if !self.small => {
                self.set(
                    Quantity::Across,
                    either_way(metres(diameter), FASTENER_ACROSS),
                );
            }
            Section::Fastener { .. } | Section::Cloth { .. } => {}
        }
    }

    /// A straight piece has a chord too, its length, and no rise.
    fn set_bend(&mut self, bend: Option<&Bend>) {
        let (chord, rise) = match (bend, self.bent, self.size(Quantity::Length)) {
            (Some(bend), ..) => (
                either_way(bend.chord.to_metres(), BEND),
                either_way(bend.rise.to_metres(), BEND),
            ),
            (None, Some(false), Some(length)) => (Some(length), either_way(0.0, STRAIGHT_RISE)),
            _ => (None, None),
        };
        self.set(Quantity::Chord, chord);
        self.set(Quantity::Rise, rise);
    }
}

fn kind(part: &Part) -> Kind {
    match part.section {
        Some(Section::Tube { .. }) => Kind::RoundTube,
        Some(Section::Box { .. }) => Kind::SquareTube,
        Some(Section::Timber { .. }) => Kind::Timber,
        Some(Section::Channel { .. }) => Kind::Channel,
        Some(Section::Cloth { .. } | Section::Film { .. }) => Kind::Sheet,
        Some(Section::Wire { .. }) => Kind::Wire,
        Some(Section::Fastener { .. }) => Kind::Fastener,
        None => Kind::Hardware,
    }
}

/// What the eye calls it. Of tube, board, film and wire the part's own word is of no help, for it says where the piece
/// will lie in the house; of all else it says how the piece looks.
fn look(part: &Part) -> String {
    match &part.section {
        Some(Section::Tube { .. }) => "round tube".into(),
        Some(Section::Box { .. }) => "square tube".into(),
        Some(Section::Timber { .. }) => "board".into(),
        Some(Section::Film { .. }) => "film".into(),
        Some(Section::Wire { .. }) => "wire".into(),
        Some(Section::Channel { called, .. } | Section::Cloth { called }) => called.clone(),
        Some(Section::Fastener { .. }) | None => part.noun.clone(),
    }
}

/// Whether it is bent; nothing of what is neither, such as film, or wire that is wavy all along.
fn bent(part: &Part, kind: Kind) -> Option<bool> {
    match kind {
        _ if part.bend.is_some() => Some(true),
        Kind::RoundTube | Kind::SquareTube | Kind::Timber | Kind::Channel => Some(false),
        _ => None,
    }
}

fn ends(ends: [End; 2]) -> [EndLook; 2] {
    let mut looks = ends.map(|end| match end {
        End::Plain => EndLook::Plain,
        End::Swaged(_) => EndLook::Swaged,
        End::Flattened => EndLook::Flattened,
        End::Punched => EndLook::Punched,
    });
    looks.sort_unstable();
    looks
}

fn holes(ends: [End; 2]) -> i64 {
    ends.iter().map(|end| i64::from(*end == End::Punched)).sum()
}

/// The coating that a part's finish means.
fn coating(finish: &str) -> Option<Coating> {
    let finish = finish.to_lowercase();
    let words: [(&str, Coating); 15] = [
        ("galvan", Coating::Galvanized),
        ("zinc", Coating::ZincPlated),
        ("plated", Coating::ZincPlated),
        ("mill", Coating::Mill),
        ("bare", Coating::Mill),
        ("clear", Coating::Clear),
        ("treated", Coating::Wood),
        ("wood", Coating::Wood),
        ("white", Coating::White),
        ("black", Coating::Dark),
        ("green", Coating::Dark),
        ("coated", Coating::Coated),
        ("paint", Coating::Coated),
        ("rust", Coating::Rusty),
        ("raw", Coating::Rusty),
    ];
    (words.iter())
        .find(|(word, _)| finish.contains(word))
        .map(|(_, coating)| *coating)
}

fn length(part: &Part, kind: Kind) -> Option<Spread> {
    let length = part.length?.to_metres();
    let limit = match kind {
        Kind::RoundTube | Kind::SquareTube | Kind::Channel | Kind::Wire => TUBE_LENGTH,
        Kind::Timber => TIMBER_LENGTH,
        Kind::Sheet => length * SHEET_SHARE,
        Kind::Fastener => FASTENER_LENGTH,
        Kind::Hardware | Kind::Unknown => OTHER_LENGTH,
    };
    either_way(length, limit)
}

fn mass(part: &Part, kind: Kind) -> Option<Spread> {
    share(
        part.unit_mass.to_kilograms(),
        match kind {
            Kind::Timber => TIMBER_MASS_SHARE,
            _ => MASS_SHARE,
        },
    )
}

fn share(mean: f64, share: f64) -> Option<Spread> {
    either_way(mean, mean * share)
}

/// Nothing for what a part of the list cannot have, such as a mass of nothing where the family states none.
fn either_way(mean: f64, limit: f64) -> Option<Spread> {
    let is_known = mean.is_finite() && mean >= 0.0 && limit > 0.0;
    is_known.then(|| Spread {
        mean,
        sd: spread_of_limit(limit),
    })
}

/// The middle of limits that are not the same either way is off the nominal measure.
fn within(nominal: Length, tolerance: Tolerance) -> Option<Spread> {
    let (plus, minus) = (tolerance.plus().to_metres(), tolerance.minus().to_metres());
    either_way(
        nominal.to_metres() + (plus - minus) / 2.0,
        (plus + minus) / 2.0,
    )
}
