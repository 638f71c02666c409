//! How far a build goes: against trying every way, and what must hold of every answer.

use std::cmp::Ordering;

use proptest::prelude::*;
use ready::{HowFar, how_far};

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
