//! The chances of stages, against numbers worked by hand and against going through every world one by one.

use jiff::civil::{Date, date};
use proptest::prelude::*;
use ready::{
    Build, BuildStage, Coming, ComingIs, Gap, Rests, Share, Supplies, Supply, Unit, stage_chances,
};

const DAY: Date = date(2026, 12, 5);

fn unit(stage: usize, needs: &[(usize, i64)], after: &[usize]) -> Unit {
    Unit {
        stage,
        name: String::new(),
        bows: [1, 1],
        needs: needs.to_vec(),
        after: after.to_vec(),
        pieces: Vec::new(),
        gap: Gap::Waits,
    }
}

/// Stages that follow each other, with units by stage and needs.
fn build(stages: usize, units: Vec<Unit>, marks: usize) -> Build {
    Build {
        stages: (0..stages)
            .map(|stage| BuildStage {
                name: format!("stage {stage}"),
                follows: stage.checked_sub(1).into_iter().collect(),
                work: String::new(),
            })
            .collect(),
        units,
        marks: (0..marks).map(|mark| format!("M{mark}")).collect(),
        bows: 1,
        shared: Vec::new(),
        may_leave: Vec::new(),
    }
}

fn share(odds: &[(i64, f64)], with: Option<usize>) -> Share {
    Share {
        rests: Rests::Listed,
        pieces: odds.last().map_or(0, |(n, _)| *n),
        odds: odds.to_vec(),
        with,
        says: String::new(),
    }
}

fn supplies(marks: Vec<Vec<Share>>, coming: &[f64]) -> Supplies {
    Supplies {
        marks: (marks.into_iter().enumerate())
            .map(|(mark, shares)| Supply {
                mark: format!("M{mark}"),
                shares,
                built: 0,
            })
            .collect(),
        coming: (coming.iter())
            .map(|chance| Coming {
                name: "Load".into(),
                is: ComingIs::Shipment,
                here_by: vec![(DAY, *chance)],
                says: String::new(),
            })
            .collect(),
    }
}

fn near(said: f64, worked: f64) {
    assert!((said - worked).abs() < 1e-12, "{said}, by hand {worked}");
}

/// Two marks, each a toss of its own: 2 of the first are there in nine cases of ten, else 1; 1 of the second in eight,
/// else none. The second stage follows the first, so it takes both: 0.9 × 0.8.
#[test]
fn two_marks_by_hand() {
    let build = build(
        2,
        vec![
            unit(0, &[(0, 1)], &[]),
            unit(0, &[(0, 1)], &[]),
            unit(1, &[(1, 1)], &[0, 1]),
        ],
        2,
    );
    let supplies = supplies(
        vec![
            vec![share(&[(1, 0.1), (2, 0.9)], None)],
            vec![share(&[(0, 0.2), (1, 0.8)], None)],
        ],
        &[],
    );
    let chances = stage_chances(&build, &supplies, DAY);
    near(chances[0].start, 1.0);
    near(chances[0].complete, 0.9);
    near(chances[1].start, 0.72);
    near(chances[1].complete, 0.72);
}

/// One shipment brings both marks, so they come together: 0.6, not 0.6 × 0.6. Of the first it may be one short: 0.6 × 0.9.
#[test]
fn what_comes_in_one_shipment_comes_together() {
    let build = build(1, vec![unit(0, &[(0, 2), (1, 1)], &[])], 2);
    let of = |first: &[(i64, f64)]| {
        let marks = vec![
            vec![share(&[(1, 1.0)], None), share(first, Some(0))],
            vec![share(&[(1, 1.0)], Some(0))],
        ];
        stage_chances(&build, &supplies(marks, &[0.6]), DAY)[0].complete
    };
    near(of(&[(1, 1.0)]), 0.6);
    near(of(&[(0, 0.1), (1, 0.9)]), 0.54);
    let before = date(2026, 12, 4);
    let marks = vec![
        vec![share(&[(2, 1.0)], Some(0))],
        vec![share(&[(1, 1.0)], None)],
    ];
    near(
        stage_chances(&build, &supplies(marks, &[0.6]), before)[0].complete,
        0.0,
    );
}

/// Either of two units begins the stage, one with the first mark (0.9), one with the second (0.8): 1 − 0.1 × 0.2.
#[test]
fn a_stage_starts_with_whichever_unit_has_its_pieces() {
    let build = build(1, vec![unit(0, &[(0, 1)], &[]), unit(0, &[(1, 1)], &[])], 2);
    let marks = vec![
        vec![share(&[(0, 0.1), (1, 0.9)], None)],
        vec![share(&[(0, 0.2), (1, 0.8)], None)],
    ];
    let chances = stage_chances(&build, &supplies(marks, &[]), DAY);
    near(chances[0].start, 0.98);
    near(chances[0].complete, 0.72);
}

/// An explanation that moves 2 pieces from one mark to the other: with it 13 + 2 and 10 − 2, without it 13 and 10.
#[test]
fn an_explanation_gives_to_one_mark_what_it_takes_from_the_other() {
    let marks = || {
        vec![
            vec![share(&[(13, 1.0)], None), share(&[(2, 1.0)], Some(0))],
            vec![share(&[(10, 1.0)], None), share(&[(-2, 1.0)], Some(0))],
        ]
    };
    let chance = |needs: [i64; 2]| {
        let build = build(1, vec![unit(0, &[(0, needs[0]), (1, needs[1])], &[])], 2);
        stage_chances(&build, &supplies(marks(), &[0.85]), DAY)[0].complete
    };
    near(chance([15, 8]), 0.85);
    near(chance([13, 10]), 0.15);
    near(chance([13, 8]), 1.0);
    near(chance([15, 10]), 0.0);
}

/// More may come or not than is gone through: nine loads bring one each, and the least likely thing of all, an explanation,
/// takes two. What is said is no more than what going through every world says.
#[test]
fn what_is_left_out_of_account_never_makes_it_likelier() {
    let loads = (0..9).map(|load| share(&[(1, 1.0)], Some(load)));
    let mut of_mark = vec![
        share(&[(3, 1.0)], None),
        share(&[(-2, 0.5), (1, 0.5)], Some(9)),
    ];
    of_mark.extend(loads);
    let chances = [[0.9; 9].as_slice(), &[0.4]].concat();
    let supplies = supplies(vec![of_mark], &chances);
    for need in 0..13 {
        let build = build(1, vec![unit(0, &[(0, need)], &[])], 1);
        let said = stage_chances(&build, &supplies, DAY)[0].complete;
        let all = world_by_world(&supplies, &[need]);
        assert!(said <= all + 1e-12, "{need}: {said}, of all worlds {all}");
        assert!(need > 1 || said > 0.99);
    }
}

/// What is built in is there, whatever was counted since.
#[test]
fn what_is_built_in_is_there() {
    let build = build(1, vec![unit(0, &[(0, 5)], &[])], 1);
    let mut supplies = supplies(vec![vec![share(&[(3, 1.0)], None)]], &[]);
    near(stage_chances(&build, &supplies, DAY)[0].complete, 0.0);
    supplies.marks[0].built = 5;
    near(stage_chances(&build, &supplies, DAY)[0].complete, 1.0);
}

/// The chance that there are at least so many, by going through every world: what came, and each share's number.
fn world_by_world(supplies: &Supplies, needs: &[i64]) -> f64 {
    let coming = &supplies.coming;
    (0..1_usize << coming.len())
        .map(|came| {
            let way: f64 = (coming.iter().enumerate())
                .map(|(nth, coming)| match came >> nth & 1 {
                    1 => coming.here_by[0].1,
                    _ => 1.0 - coming.here_by[0].1,
                })
                .product();
            let shares: Vec<(usize, &Share)> = (supplies.marks.iter().enumerate())
                .flat_map(|(mark, supply)| supply.shares.iter().map(move |share| (mark, share)))
                .filter(|(_, share)| share.with.is_none_or(|with| came >> with & 1 == 1))
                .collect();
            way * numbers(&shares, &mut vec![0; needs.len()], needs)
        })
        .sum()
}

fn numbers(shares: &[(usize, &Share)], there: &mut Vec<i64>, needs: &[i64]) -> f64 {
    let Some(((mark, share), rest)) = shares.split_first() else {
        return f64::from(u8::from(
            there.iter().zip(needs).all(|(n, need)| n.max(&0) >= need),
        ));
    };
    (share.odds.iter())
        .map(|(n, chance)| {
            there[*mark] += n;
            let of_rest = numbers(rest, there, needs);
            there[*mark] -= n;
            chance * of_rest
        })
        .sum()
}

fn any_share() -> impl Strategy<Value = Share> {
    let odds = proptest::collection::btree_map(-2..6_i64, 1..10_u32, 1..4);
    (odds, proptest::option::of(0..3_usize)).prop_map(|(odds, with)| {
        let all: u32 = odds.values().sum();
        let odds: Vec<(i64, f64)> = (odds.into_iter())
            .map(|(n, weight)| (n, f64::from(weight) / f64::from(all)))
            .collect();
        share(&odds, with)
    })
}

proptest! {
    #[test]
    fn chances_are_those_of_all_worlds(
        marks in proptest::collection::vec(proptest::collection::vec(any_share(), 0..3), 1..4),
        coming in proptest::collection::vec(0.0..=1.0_f64, 3),
        needs in proptest::collection::vec((0..7_i64, 0..3_i64), 3),
        built in 0..3_i64,
    ) {
        let count = marks.len();
        let mut supplies = supplies(marks, &coming);
        let needs = &needs[..count];
        let first: Vec<(usize, i64)> = needs.iter().map(|n| n.0).enumerate().collect();
        let second: Vec<(usize, i64)> = needs.iter().map(|n| n.1).enumerate().collect();
        let build = build(2, vec![unit(0, &first, &[]), unit(1, &second, &[0]), unit(1, &second, &[0])], count);
        let chances = stage_chances(&build, &supplies, DAY);
        let sum = |times: i64| -> Vec<i64> { needs.iter().map(|n| n.0 + times * n.1).collect() };
        prop_assert!((chances[0].complete - world_by_world(&supplies, &sum(0))).abs() < 1e-9);
        prop_assert!((chances[1].start - world_by_world(&supplies, &sum(1))).abs() < 1e-9);
        prop_assert!((chances[1].complete - world_by_world(&supplies, &sum(2))).abs() < 1e-9);
        // More is never worse.
        supplies.marks[0].built = built;
        let with = stage_chances(&build, &supplies, DAY);
        for (with, without) in with.iter().zip(&chances) {
            prop_assert!(with.complete >= without.complete - 1e-12);
            prop_assert!(with.start >= without.start - 1e-12);
        }
    }
}
