//! What carries the house: every stage that the film waits for.
//!
//! Ours, and on the safe side: whatever stands before the film goes on carries it, wind and snow with it, so that a change
//! there is a question to the sender.

use crate::build::Build;

/// The kind of work after which the house carries load.
const FILM: &str = "film";

/// Whether each stage is part of what carries the house; all of them where no stage is about film.
pub(crate) fn carries(build: &Build) -> Vec<bool> {
    let film = |stage: usize| build.stages[stage].work == FILM;
    let mut left: Vec<usize> = (0..build.stages.len()).filter(|s| film(*s)).collect();
    if left.is_empty() {
        return vec![true; build.stages.len()];
    }
    let mut carries = vec![false; build.stages.len()];
    while let Some(stage) = left.pop() {
        for before in &build.stages[stage].follows {
            if !carries[*before] {
                carries[*before] = true;
                left.push(*before);
            }
        }
    }
    carries
}
