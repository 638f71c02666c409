//! What the tables of the error model say of a part.

use frame::{End, Part, Section};
use tell::error_model as m;
use tell::{Coating, EndLook, Kind, Size};

/// Mean and spread of a size of a part: metres, of a mass kilograms.
pub fn size(part: &Part, of: Size) -> Option<(f64, f64)> {
    let limit = |mean: f64, limit: f64| Some((mean, limit / 3f64.sqrt()));
    let length = part.length.map(|l| l.to_metres());
    let of_length = |kind: Kind, l: f64| match kind {
        Kind::Timber => m::TIMBER_LENGTH,
        Kind::Sheet => l * m::SHEET_SHARE,
        Kind::Fastener => m::FASTENER_LENGTH,
        Kind::Hardware => m::OTHER_LENGTH,
        _ => m::TUBE_LENGTH,
    };
    let has_holes = part.ends == Some([End::Punched, End::Punched]);
    match of {
        Size::Length => limit(length?, of_length(kind(part), length?)),
        Size::Across | Size::Around => match &part.section {
            Some(Section::Tube { outside, .. }) => {
                let od = outside.to_metres();
                // ASTM F1083: ±1 % at NPS 2 and over (S2t), else +1/64 and −1/32 in (S2t; the size limit M).
                match od >= 2.375 * 0.0254 - 1e-9 {
                    true => limit(od, 0.01 * od),
                    false => limit(od - 0.0254 / 128.0, 0.0254 * 3.0 / 128.0),
                }
            }
            Some(Section::Box { width, depth, .. }) => {
                let wide = width.to_metres().max(depth.to_metres());
                limit(wide, wide * m::BOX_SHARE)
            }
            Some(Section::Timber { width, depth, .. } | Section::Channel { width, depth, .. }) => {
                limit(width.to_metres().max(depth.to_metres()), m::OTHER_ACROSS)
            }
            Some(Section::Wire { diameter }) => limit(diameter.to_metres(), m::WIRE_ACROSS),
            Some(Section::Fastener { diameter, .. }) if length.is_some() => {
                limit(diameter.to_metres(), m::FASTENER_ACROSS)
            }
            _ => {
                let width = part.width?.to_metres();
                match kind(part) {
                    Kind::Sheet => limit(width, width * m::SHEET_SHARE),
                    _ => limit(width, m::OTHER_ACROSS),
                }
            }
        },
        Size::Wall => match &part.section {
            Some(Section::Tube { wall, .. } | Section::Box { wall, .. }) => {
                limit(wall.to_metres(), wall.to_metres() * m::WALL_SHARE)
            }
            Some(Section::Film { thickness }) => {
                limit(thickness.to_metres(), thickness.to_metres() * m::MASS_SHARE)
            }
            _ => None,
        },
        Size::Chord => match (&part.bend, bent(part)) {
            (Some(bend), _) => limit(bend.chord.to_metres(), m::BEND),
            (None, Some(false)) => limit(length?, of_length(kind(part), length?)),
            _ => None,
        },
        Size::Rise => match (&part.bend, bent(part)) {
            (Some(bend), _) => limit(bend.rise.to_metres(), m::BEND),
            (None, Some(false)) if length.is_some() => limit(0.0, m::STRAIGHT_RISE),
            _ => None,
        },
        Size::HoleSpacing if has_holes => limit(length? - m::HOLE_FROM_ENDS, m::HOLE_SPACING),
        Size::HoleSpacing => None,
        Size::Unknown => {
            let mass = part.unit_mass.to_kilograms();
            let share = if kind(part) == Kind::Timber {
                m::TIMBER_MASS_SHARE
            } else {
                m::MASS_SHARE
            };
            (mass > 0.0).then(|| limit(mass, mass * share))?
        }
    }
}

pub fn around(part: &Part) -> f64 {
    match &part.section {
        Some(
            Section::Box { width, depth, .. }
            | Section::Timber { width, depth, .. }
            | Section::Channel { width, depth, .. },
        ) => {
            let (a, b) = (width.to_metres(), depth.to_metres());
            2.0 * (a + b) / a.max(b)
        }
        _ => std::f64::consts::PI,
    }
}

pub fn kind(part: &Part) -> Kind {
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

pub fn look(part: &Part) -> String {
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

pub fn bent(part: &Part) -> Option<bool> {
    let straight = [
        Kind::RoundTube,
        Kind::SquareTube,
        Kind::Timber,
        Kind::Channel,
    ];
    match (&part.bend, straight.contains(&kind(part))) {
        (Some(_), _) => Some(true),
        (None, true) => Some(false),
        (None, false) => None,
    }
}

pub fn end(end: End) -> EndLook {
    match end {
        End::Plain => EndLook::Plain,
        End::Swaged(_) => EndLook::Swaged,
        End::Flattened => EndLook::Flattened,
        End::Punched => EndLook::Punched,
    }
}

pub fn coating(part: &Part) -> Option<Coating> {
    Some(match part.finish.as_deref()? {
        "galvanized" => Coating::Galvanized,
        "zinc plated" => Coating::ZincPlated,
        "mill" => Coating::Mill,
        "coated" => Coating::Coated,
        "clear" => Coating::Clear,
        "treated" => Coating::Wood,
        other => panic!("the draw knows no finish `{other}`"),
    })
}
