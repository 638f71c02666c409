//! How far a build goes: against trying every way, and what must hold of every answer.

use std::cmp::Ordering;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use ready::{Build, HowFar, how_far, how_far_effort, how_far_programmes};

use crate::houses::House;
use crate::small_builds::{Small, any_build, any_house};

fn counts(far: &HowFar) -> Vec<usize> {
    far.stages.iter().map(|stage| stage.done).collect()
}

fn is_best(small: &Small) -> Result<(), TestCaseError> {
    let far = how_far(&small.build, &small.there);
    prop_assert!(far.proven);
    prop_assert_eq!(counts(&far), small.best());
    prop_assert_eq!(counts(&far), small.counts(&far.done));
    prop_assert!(small.can_be(&far.done, &far.left_out), "{far:?}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn no_way_of_any_small_build_gets_farther(small in any_build()) {
        is_best(&small)?;
    }

    #[test]
    fn no_way_of_any_small_house_gets_farther_with_bows_left_out_or_none(small in any_house()) {
        is_best(&small)?;
    }

    #[test]
    fn a_piece_less_is_never_better_and_a_piece_more_never_worse(
        small in prop_oneof![any_build(), any_house()],
        mark in 0..3usize,
    ) {
        let far = how_far(&small.build, &small.there);
        let mut more = small.there.clone();
        more[mark] += 1;
        let more = how_far(&small.build, &more);
        prop_assert_ne!(more.compare(&far), Ordering::Less);
        for (used, there) in far.used.iter().zip(&small.there) {
            prop_assert!(used <= there);
        }
    }
}

/// So many random small houses are gone through for the bows that they leave out.
const HOUSES: usize = 600;

#[test]
fn random_small_houses_do_leave_bows_out() {
    let mut runner = TestRunner::deterministic();
    let left_out = (0..HOUSES)
        .filter(|_| {
            let small = any_house().new_tree(&mut runner).unwrap().current();
            !how_far(&small.build, &small.there).left_out.is_empty()
        })
        .count();
    assert!(left_out >= HOUSES / 50, "{left_out} of {HOUSES}");
}

/// The longest house of the families, bows as near as they come, every option that goes with another.
fn largest() -> Build {
    House::of(include_str!("../../../frame/benches/largest.toml")).build
}

/// Whole numbers below a limit, the same in every run.
struct Draws(u64);

impl Draws {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % limit as u64) as usize
    }
}

/// Some marks short, each by one and up to an eighth.
fn short(needed: &[i64], marks: usize, draws: &mut Draws) -> Vec<i64> {
    let mut there = needed.to_vec();
    for _ in 0..marks {
        let mark = draws.below(there.len());
        let by = 1 + draws.below(1 + needed[mark] as usize / 8) as i64;
        there[mark] = (there[mark] - by).max(0);
    }
    there
}

#[test]
fn of_the_largest_house_with_thirty_marks_short_the_effort_is_bounded() {
    let build = largest();
    let needed = build.needs();
    let mut draws = Draws(5);
    for case in 0..12 {
        let there = short(&needed, 30, &mut draws);
        let (far, effort) = how_far_effort(&build, &there);
        // One programme for each of 17 stages and one more.
        assert!(effort.columns <= 550, "{case}: {effort:?}");
        assert!(effort.programmes <= 18, "{case}: {effort:?}");
        // Two million are allowed. The programme with which they are used up may go over: its nodes are reckoned at 20
        // pivots and take up to 50. Without a bound and a guess a single programme took 200 million.
        assert!(effort.spent <= 6_000_000, "{case}: {effort:?}");
        assert!(
            far.used
                .iter()
                .zip(&there)
                .all(|(used, there)| used <= there)
        );
        assert!(far.stages.iter().any(|stage| stage.done > 0));
    }
}

#[test]
fn of_the_largest_house_with_every_mark_one_short_the_answer_is_proven_with_few_nodes() {
    let build = largest();
    let there: Vec<i64> = build.needs().iter().map(|n| (n - 1).max(0)).collect();
    let (far, effort) = how_far_effort(&build, &there);
    assert!(far.proven, "{effort:?}");
    assert!(effort.nodes <= 100 && effort.columns <= 550, "{effort:?}");
    // Each programme proves its own: none is left out.
    assert!(!how_far_programmes(&build, &there).is_empty());
}

#[test]
fn of_the_largest_house_with_any_one_mark_one_short_the_answer_is_proven() {
    let build = largest();
    let needed = build.needs();
    for mark in 0..needed.len() {
        let mut there = needed.clone();
        there[mark] -= 1;
        let (far, effort) = how_far_effort(&build, &there);
        assert!(far.proven, "{}: {effort:?}", build.marks[mark]);
    }
}
