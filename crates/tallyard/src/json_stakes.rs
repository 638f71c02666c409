//! What `tallyard stakes --json` and `tallyard lift --json` print.

use measure::Length;
use ready::corners::{CORNERS, Corners};
use ready::handling::{Handling, Hands};
use ready::stakes::{SettingOut, Side, how};
use serde::Serialize;

#[derive(Serialize)]
pub struct Stakes {
    strings_mm: [f64; 2],
    centres_mm: [f64; 2],
    offset_mm: f64,
    must: Vec<Must>,
    triangles: Vec<Triangle>,
    blind_mm: [f64; 2],
    posts: Vec<Post>,
    steps: Vec<Step>,
    measured: Option<Measured>,
}

#[derive(Serialize)]
struct Must {
    between: &'static str,
    level_mm: f64,
    on_ground_mm: f64,
}

#[derive(Serialize)]
struct Triangle {
    along_mm: f64,
    across_mm: f64,
    slant_mm: f64,
}

#[derive(Serialize)]
struct Post {
    bow: usize,
    side: &'static str,
    along_mm: f64,
    on_ground_mm: f64,
    above_ground_mm: Option<f64>,
    in_ground_mm: Option<f64>,
    below_line_mm: Option<f64>,
}

#[derive(Serialize)]
struct Step {
    says: String,
    caution: &'static str,
}

#[derive(Serialize)]
struct Measured {
    within: bool,
    agree: bool,
    spare: usize,
    misfit: f64,
    says: Vec<String>,
    stakes: Vec<At>,
    readings: Vec<Reading>,
    moves: Vec<Move>,
    misread: Option<Misread>,
}

#[derive(Serialize)]
struct At {
    corner: &'static str,
    right_mm: f64,
    back_mm: f64,
    error_mm: [f64; 2],
}

#[derive(Serialize)]
struct Reading {
    from: &'static str,
    to: &'static str,
    level_mm: f64,
    over_mm: f64,
}

#[derive(Serialize)]
struct Move {
    corner: &'static str,
    right_mm: f64,
    back_mm: f64,
}

#[derive(Serialize)]
struct Misread {
    named: bool,
    suspects: Vec<Suspect>,
}

#[derive(Serialize)]
struct Suspect {
    from: &'static str,
    to: &'static str,
    over_mm: f64,
    share: f64,
    says: String,
}

fn mm(length: Length) -> f64 {
    length.as_nanometres() as f64 / 1e6
}

/// Metres to the nearest thousandth of a millimetre, in millimetres.
fn metres(metres: f64) -> f64 {
    (metres * 1e6).round() / 1e3
}

pub fn stakes(out: &SettingOut, found: Option<&Corners>) -> Stakes {
    Stakes {
        strings_mm: out.strings.map(mm),
        centres_mm: out.centres.map(mm),
        offset_mm: mm(out.offset),
        must: (out.must.iter())
            .map(|must| Must {
                between: must.between,
                level_mm: mm(must.level),
                on_ground_mm: mm(must.on_ground),
            })
            .collect(),
        triangles: (out.triangles.iter())
            .map(|t| Triangle {
                along_mm: mm(t.along),
                across_mm: mm(t.across),
                slant_mm: mm(t.slant),
            })
            .collect(),
        blind_mm: out.blind.map(mm),
        posts: (out.posts.iter())
            .map(|post| Post {
                bow: post.bow,
                side: match post.side {
                    Side::Left => "left",
                    Side::Right => "right",
                },
                along_mm: mm(post.along),
                on_ground_mm: mm(post.on_ground),
                above_ground_mm: post.level.map(|level| mm(level.above_ground)),
                in_ground_mm: post.level.map(|level| mm(level.in_ground)),
                below_line_mm: post.level.map(|level| mm(level.below_line)),
            })
            .collect(),
        steps: (how(out).into_iter())
            .map(|step| Step {
                says: step.says,
                caution: step.caution,
            })
            .collect(),
        measured: found.map(measured),
    }
}

fn name(corner: usize) -> &'static str {
    CORNERS[corner].in_words()
}

fn measured(found: &Corners) -> Measured {
    Measured {
        within: found.within,
        agree: found.agree,
        spare: found.spare,
        misfit: (found.misfit * 1e3).round() / 1e3,
        says: found.says.clone(),
        stakes: (0..4)
            .map(|i| At {
                corner: name(i),
                right_mm: metres(found.at[i][0]),
                back_mm: metres(found.at[i][1]),
                error_mm: found.error[i].map(metres),
            })
            .collect(),
        readings: (found.residuals.iter())
            .map(|residual| Reading {
                from: name(residual.between[0]),
                to: name(residual.between[1]),
                level_mm: metres(residual.level),
                over_mm: metres(residual.over),
            })
            .collect(),
        moves: (found.moves.moves.iter())
            .map(|by| Move {
                corner: by.corner.in_words(),
                right_mm: metres(by.right),
                back_mm: metres(by.back),
            })
            .collect(),
        misread: found.blunder.as_ref().map(|blunder| Misread {
            named: blunder.named,
            suspects: (blunder.suspects.iter())
                .map(|suspect| Suspect {
                    from: name(suspect.between[0]),
                    to: name(suspect.between[1]),
                    over_mm: metres(suspect.over),
                    share: (suspect.share * 1e3).round() / 1e3,
                    says: suspect.says.clone(),
                })
                .collect(),
        }),
    }
}

#[derive(Serialize)]
pub struct Lift {
    people: Option<u8>,
    machine: bool,
    says: String,
    cautions: Vec<&'static str>,
    units: &'static str,
    constant: f64,
    multipliers: Multipliers,
    limit: f64,
    index: Option<f64>,
    may_kg: [f64; 3],
}

#[derive(Serialize)]
struct Multipliers {
    horizontal: f64,
    vertical: f64,
    distance: f64,
    asymmetry: f64,
    frequency: f64,
    coupling: f64,
}

pub fn lift(handling: &Handling) -> Lift {
    let one = &handling.one;
    Lift {
        people: match handling.hands {
            Hands::People(people) => Some(people),
            Hands::Machine => None,
        },
        machine: handling.hands == Hands::Machine,
        says: handling.says.clone(),
        cautions: handling.cautions.clone(),
        units: match one.system {
            measure::System::FeetInch => "lb",
            measure::System::Metric => "kg",
        },
        constant: one.constant,
        multipliers: Multipliers {
            horizontal: one.horizontal,
            vertical: one.vertical,
            distance: one.distance,
            asymmetry: one.asymmetry,
            frequency: one.frequency,
            coupling: one.coupling,
        },
        limit: one.limit,
        index: one.index,
        may_kg: handling.may.map(measure::Mass::to_kilograms),
    }
}
