//! What `tallyard laydown --json` prints; the shape is promised in docs/schema/laydown.json.

use ready::ground::{Pile, found};
use serde::Serialize;
use tally::Ordered;
use yard::Laying;

#[derive(Serialize)]
pub struct Laydown {
    order: String,
    carry_kg_m: f64,
    least_kg_m: f64,
    piles: Vec<PileSaid>,
    unplaced: Vec<Unplaced>,
    faults: Vec<String>,
}

#[derive(Serialize)]
struct PileSaid {
    pile: String,
    says: String,
    laid: &'static str,
    from_top: Vec<MarkSaid>,
    mass_kg: f64,
    length_m: f64,
    width_m: f64,
    height_m: f64,
    bearers: usize,
    under_cover: bool,
    stages: Vec<String>,
    care: Vec<String>,
    place: Option<PlaceSaid>,
}

#[derive(Serialize)]
struct MarkSaid {
    mark: String,
    pieces: i64,
    bin: Option<String>,
}

#[derive(Serialize)]
struct PlaceSaid {
    x_mm: i64,
    y_mm: i64,
    turn_degrees: f64,
    by_hand: bool,
    carry_kg_m: f64,
    corner: String,
    lies: String,
    tapes: String,
}

#[derive(Serialize)]
struct Unplaced {
    pile: String,
    why: String,
}

pub fn laydown(ordered: &Ordered, laying: &Laying) -> Laydown {
    let plan = &laying.plan;
    let unplaced = plan.unplaced.iter().map(|(pile, why)| Unplaced {
        pile: pile.clone(),
        why: why.clone(),
    });
    Laydown {
        order: ordered.order.name.clone(),
        carry_kg_m: tenths(plan.cost_kg_m),
        least_kg_m: tenths(plan.bound_kg_m),
        piles: (laying.piles.iter().enumerate())
            .map(|(i, pile)| said(ordered, laying, i, pile))
            .collect(),
        unplaced: unplaced.collect(),
        faults: plan.faults.clone(),
    }
}

fn said(ordered: &Ordered, laying: &Laying, index: usize, pile: &Pile) -> PileSaid {
    let laid = laying.plan.piles.iter().find(|laid| laid.pile == index);
    let place = laid.map(|laid| {
        let there = found(&laying.site, pile, laid);
        PlaceSaid {
            x_mm: (laid.at.x * 1_000.0).round() as i64,
            y_mm: (laid.at.y * 1_000.0).round() as i64,
            turn_degrees: tenths(laid.turn.to_degrees()),
            by_hand: laid.by_hand,
            carry_kg_m: tenths(laid.carry_kg_m),
            corner: there.corner,
            lies: there.lies,
            tapes: there.tapes,
        }
    });
    let stages = &ordered.frame.stages;
    PileSaid {
        pile: pile.name.clone(),
        says: pile.says.clone(),
        laid: pile.kind.in_words(),
        from_top: (pile.from_top.iter())
            .map(|mark| MarkSaid {
                mark: mark.mark.clone(),
                pieces: mark.pieces,
                bin: mark.bin.clone(),
            })
            .collect(),
        mass_kg: tenths(pile.mass),
        length_m: thousandths(pile.length),
        width_m: thousandths(pile.width),
        height_m: thousandths(pile.height),
        bearers: pile.dunnage.map_or(0, |dunnage| dunnage.bearers),
        under_cover: pile.under_cover,
        stages: (pile
            .stages
            .iter()
            .filter_map(|stage| stages.get(*stage))
            .cloned())
        .collect(),
        care: pile.care.clone(),
        place,
    }
}

fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn thousandths(value: f64) -> f64 {
    (value * 1_000.0).round() / 1_000.0
}
