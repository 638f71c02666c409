//! What carries the house: every stage that the film waits for.
//!
//! Ours, and on the safe side: whatever stands before the film goes on carries it, wind and snow with it, so that a change
//! there is a question to the sender.

use std::collections::BTreeMap;

use frame::{Frame, PartsList};

use super::stock::Stock;
use crate::build::Build;

/// The kind of work after which the house carries load.
const FILM: &str = "film";

/// Whether each stage is part of what carries the house; all of them where no stage is about film.
pub(crate) fn carries(build: &Build) -> Vec<bool> {
    let stages = build.stages.iter();
    of_stages(
        &stages
            .map(|s| (s.work.as_str(), &s.follows[..]))
            .collect::<Vec<_>>(),
    )
}

/// By mark: how many are needed where they carry the house.
pub(crate) fn carrying(frame: &Frame, parts: &PartsList) -> BTreeMap<String, i64> {
    let steps = frame.steps.iter();
    let carries = of_stages(
        &steps
            .map(|s| (s.work.as_str(), &s.follows[..]))
            .collect::<Vec<_>>(),
    );
    let carries = |name: &str| {
        let stage = frame.stages.iter().position(|stage| stage == name);
        stage.is_none_or(|stage| carries.get(stage) != Some(&false))
    };
    (parts.lines.iter())
        .map(|line| {
            let places = line.places.iter().filter(|place| carries(&place.stage));
            let pieces = places.map(|place| place.quantity).sum();
            (line.part.mark.0.clone(), pieces)
        })
        .collect()
}

/// Whether a way, by its key, buys what carries no load wherever it goes, such as washers.
pub(crate) fn carries_nothing(key: &str) -> bool {
    let bought = key.strip_prefix("buy:");
    let stock = Stock::shipped();
    let light = |bought: &str| stock.pieces.iter().any(|p| !p.loaded && p.key == bought);
    bought.is_some_and(light)
}

/// Of each stage its work and what it follows.
fn of_stages(stages: &[(&str, &[usize])]) -> Vec<bool> {
    let mut left: Vec<usize> = (0..stages.len()).filter(|s| stages[*s].0 == FILM).collect();
    if left.is_empty() {
        return vec![true; stages.len()];
    }
    let mut carries = vec![false; stages.len()];
    while let Some(stage) = left.pop() {
        for before in stages[stage].1 {
            if !carries[*before] {
                carries[*before] = true;
                left.push(*before);
            }
        }
    }
    carries
}
