//! What is refused of a ground before a plan is made of it, because house, drop or cover do not fit on it.

use measure::System;
use tally::Ground;

use super::polygon::{NEAR, Point, Polygon};
use super::site::{Area, AreaKind, said};
use super::trouble::GroundTrouble;

/// Nobody carries a kit farther than this from the drop to the house: ours.
pub const MOST_CARRY: f64 = 200.0;
/// What is under cover reaches no farther than this from the house: the plan looks at all between, on a lattice that would
/// be too coarse to lay a pile by. Ours.
pub const MOST_TO_COVER: f64 = 100.0;
/// More corners than this in the way of somebody who walks, and a plan takes too long: ours.
pub const MOST_CORNERS: usize = 500;

/// Every walk is held against every side of these.
pub(super) fn not_too_fine(ground: &Ground) -> Result<(), GroundTrouble> {
    let obstacles = ground.obstacles.iter().map(|patch| patch.outline.len());
    let slopes = ground.slopes.iter().map(|slope| slope.outline.len());
    let corners = ground.outline.len() + obstacles.chain(slopes).sum::<usize>();
    match corners > MOST_CORNERS {
        true => Err(GroundTrouble::TooFine {
            corners,
            most: MOST_CORNERS,
        }),
        false => Ok(()),
    }
}

pub(super) fn house_fits(
    outline: &Polygon,
    kept: &[Area],
    corners: &[Point; 4],
) -> Result<(), GroundTrouble> {
    let names = [
        "the front left corner",
        "the front right corner",
        "the back right corner",
        "the back left corner",
    ];
    let footprint = Polygon::new(corners.to_vec());
    for (corner, name) in corners.iter().zip(names) {
        if !outline.contains(*corner) && outline.from_edge(*corner) > NEAR {
            return Err(GroundTrouble::HouseOutside { corner: name });
        }
    }
    if !outline.holds(&footprint) {
        let corner = "a part of one side";
        return Err(GroundTrouble::HouseOutside { corner });
    }
    let blocks =
        |area: &&Area| area.kind == AreaKind::Obstacle && area.outline.overlaps(&footprint);
    match kept.iter().find(blocks) {
        Some(area) => Err(GroundTrouble::HouseBlocked {
            what: area.says.clone(),
        }),
        None => Ok(()),
    }
}

pub(super) fn drop_fits(
    outline: &Polygon,
    kept: &[Area],
    corners: &[Point; 4],
    drop: Point,
    system: System,
) -> Result<(), GroundTrouble> {
    let lies = |whence: String| Err(GroundTrouble::Drop { whence });
    if !outline.contains(drop) && outline.from_edge(drop) > NEAR {
        return lies("outside the ground".into());
    }
    let footprint = Polygon::new(corners.to_vec());
    if footprint.contains(drop) {
        return lies("where the house will stand".into());
    }
    let in_the_way = |area: &&Area| area.kind == AreaKind::Obstacle && area.outline.contains(drop);
    if let Some(area) = kept.iter().find(in_the_way) {
        return lies(format!("in {}", area.says));
    }
    let away = footprint.from_edge(drop);
    match away > MOST_CARRY {
        true => Err(GroundTrouble::TooFar {
            away: said(away, system),
            most: said(MOST_CARRY, system),
        }),
        false => Ok(()),
    }
}

/// What is under cover reaches no farther off than the plan looks. Cover beyond the edge is none: no pile lies there.
pub(super) fn covered_near(
    outline: &Polygon,
    covered: &[Area],
    corners: &[Point; 4],
    system: System,
) -> Result<(), GroundTrouble> {
    let footprint = Polygon::new(corners.to_vec());
    for area in covered.iter().filter(|area| area.outline.overlaps(outline)) {
        let spots = area.outline.corners().iter();
        let away = spots.map(|corner| footprint.from_edge(*corner));
        let away = away.fold(0.0, f64::max);
        if away > MOST_TO_COVER {
            return Err(GroundTrouble::CoverTooFar {
                what: area.says.clone(),
                away: said(away, system),
                most: said(MOST_TO_COVER, system),
            });
        }
    }
    Ok(())
}
