//! What `--json` prints. The shapes are promised in docs/schema; they are written out by hand, apart from the types
//! of the crates, so that those may change.

use std::io::{Write, stdout};

use frame::Line;
use serde::Serialize;
use tally::{Explanation, Ordered, Verdict};

use crate::failure::Failure;
use crate::json_explained::{Explained, explained};

/// Prints one JSON value and a newline.
pub fn print(value: &impl Serialize) -> Result<(), Failure> {
    let mut out = stdout().lock();
    let text = serde_json::to_string_pretty(value).map_err(|e| Failure::Says(e.to_string()))?;
    writeln!(out, "{text}")?;
    out.flush()?;
    Ok(())
}

#[derive(Serialize)]
pub struct Parts {
    order: String,
    family: String,
    parts: Vec<Part>,
    pieces: i64,
    mass_kg: f64,
    gross_kg: f64,
    packages: Vec<Package>,
}

/// A crate or a roll as it goes over the carrier's scale.
#[derive(Serialize)]
struct Package {
    says: String,
    contents_kg: f64,
    gross_kg: f64,
}

#[derive(Serialize)]
struct Part {
    mark: String,
    description: String,
    quantity: i64,
    supplied: i64,
    uses: Vec<Use>,
    stage: String,
    sub_kits: Vec<Share>,
    unit_mass_kg: f64,
    length_mm: Option<f64>,
    bend: Option<Bend>,
    cut: Option<Cut>,
}

/// What a tape measures of a bent piece on the ground.
#[derive(Serialize)]
struct Bend {
    chord_mm: f64,
    rise_mm: f64,
}

/// How the pieces cut in the yard come out of whole ones.
#[derive(Serialize)]
struct Cut {
    pieces: usize,
    whole: usize,
    waste_mm: f64,
    proven: bool,
}

#[derive(Serialize)]
struct Use {
    #[serde(rename = "use")]
    role: String,
    quantity: i64,
}

#[derive(Serialize)]
struct Share {
    sub_kit: String,
    quantity: i64,
}

pub fn parts(ordered: &Ordered) -> Parts {
    let part = |line: &Line| Part {
        mark: line.part.mark.0.clone(),
        description: line.part.description.clone(),
        quantity: line.quantity,
        supplied: line.supplied,
        uses: uses(line),
        stage: ordered.parts.first_stage(line).into(),
        sub_kits: (line.sub_kits().into_iter())
            .map(|(name, quantity)| Share {
                sub_kit: name.into(),
                quantity,
            })
            .collect(),
        unit_mass_kg: line.part.unit_mass.to_kilograms(),
        length_mm: line.part.length.map(|length| length.to_metres() * 1e3),
        bend: line.part.bend.as_ref().map(|bend| Bend {
            chord_mm: bend.chord.to_metres() * 1e3,
            rise_mm: bend.rise.to_metres() * 1e3,
        }),
        cut: line.cut.as_ref().map(|cut| Cut {
            pieces: cut.pieces,
            whole: cut.stock,
            waste_mm: cut.waste.to_metres() * 1e3,
            proven: cut.proven,
        }),
    };
    Parts {
        order: ordered.order.name.clone(),
        family: ordered.family.name.clone(),
        parts: ordered.parts.lines.iter().map(part).collect(),
        pieces: ordered.parts.pieces(),
        mass_kg: ordered.parts.mass().to_kilograms(),
        gross_kg: ordered.parts.gross().to_kilograms(),
        packages: (ordered.parts.packed.iter())
            .map(|package| Package {
                says: package.says.clone(),
                contents_kg: package.contents.to_kilograms(),
                gross_kg: package.gross.to_kilograms(),
            })
            .collect(),
    }
}

fn uses(line: &Line) -> Vec<Use> {
    line.uses()
        .into_iter()
        .map(|(role, quantity)| Use {
            role: role.into(),
            quantity,
        })
        .collect()
}

#[derive(Serialize)]
pub struct Places {
    mark: String,
    quantity: i64,
    places: Vec<Place>,
}

#[derive(Serialize)]
struct Place {
    #[serde(rename = "use")]
    role: String,
    place: String,
    quantity: i64,
    cut_to_mm: Option<f64>,
    left_from: Option<String>,
    why: String,
    stage: String,
    sub_kit: String,
}

pub fn places(line: &Line) -> Places {
    Places {
        mark: line.part.mark.0.clone(),
        quantity: line.quantity,
        places: (line.places.iter())
            .map(|place| Place {
                role: place.role.clone(),
                place: place.name.clone(),
                quantity: place.quantity,
                cut_to_mm: place.cut_to.map(|length| length.to_metres() * 1e3),
                left_from: place.left_from.clone(),
                why: place.why.to_string(),
                stage: place.stage.clone(),
                sub_kit: place.sub_kit.0.clone(),
            })
            .collect(),
    }
}

#[derive(Serialize)]
pub struct Difference {
    explanation: Explained,
    marks: Vec<MarkDifference>,
    not_of_this_order: Vec<Strange>,
}

#[derive(Serialize)]
struct Strange {
    mark: String,
    counted: i64,
}

#[derive(Serialize)]
struct MarkDifference {
    mark: String,
    description: String,
    needed: i64,
    listed: Option<i64>,
    coming: i64,
    counted: Option<i64>,
    good: Option<i64>,
    short: i64,
    over: i64,
    likely_short: i64,
    likely_over: i64,
    damaged: i64,
    bent: i64,
    wet: i64,
    wrong: i64,
    says: Vec<String>,
}

pub fn difference(difference: &tally::Difference, explanation: &Explanation) -> Difference {
    let mark = |mark: &tally::MarkDifference| {
        let counted = |n: i64| mark.on_hand.is_counted().then_some(n);
        MarkDifference {
            mark: mark.mark.clone(),
            description: mark.description.clone(),
            needed: mark.needed,
            listed: mark.listed,
            coming: mark.coming,
            counted: counted(mark.on_hand.counted),
            good: counted(mark.on_hand.good()),
            short: mark.short(),
            over: mark.over(),
            likely_short: explanation.short(&mark.mark),
            likely_over: explanation.over(&mark.mark),
            damaged: mark.on_hand.damaged,
            bent: mark.on_hand.bent,
            wet: mark.on_hand.wet,
            wrong: mark.on_hand.wrong,
            says: mark.verdicts.iter().map(Verdict::in_words).collect(),
        }
    };
    Difference {
        explanation: explained(explanation),
        marks: difference.marks.iter().map(mark).collect(),
        not_of_this_order: (difference.strange.iter())
            .map(|(mark, on_hand)| Strange {
                mark: mark.clone(),
                counted: on_hand.counted,
            })
            .collect(),
    }
}
