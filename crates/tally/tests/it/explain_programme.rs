//! The integer programme against another way of solving it: all amounts there are, gone through one by one.

use proptest::collection::vec;
use proptest::prelude::*;
use tally::programme::{Column, Cost, Programme, Unsolved};

/// The least cost of all amounts that make up the numbers and `may_be`, by going through all of them.
fn by_brute_force(programme: &Programme, may_be: impl Fn(&[i64]) -> bool) -> Option<Cost> {
    let mut amounts = vec![0; programme.columns.len()];
    let mut least: Option<Cost> = None;
    loop {
        if let Some(cost) = by_hand(programme, &amounts)
            && may_be(&amounts)
        {
            least = Some(least.map_or(cost, |least| least.min(cost)));
        }
        // The next amounts, as a number of several digits goes up.
        let Some(place) = (0..amounts.len()).find(|&c| amounts[c] < programme.columns[c].most)
        else {
            return least;
        };
        amounts[..place].fill(0);
        amounts[place] += 1;
    }
}

/// What amounts cost, reckoned here once more; nothing where they do not make up the numbers or break a rule.
fn by_hand(programme: &Programme, amounts: &[i64]) -> Option<Cost> {
    let mut made = vec![0; programme.targets.len()];
    let mut cost = 0;
    for (column, &amount) in programme.columns.iter().zip(amounts) {
        for &(number, effect) in &column.effects {
            made[number] += effect * amount;
        }
        for unit in 1..=amount {
            cost += if unit == 1 {
                column.fixed
            } else {
                each_further(&column.further, unit - 2)
            };
        }
    }
    for set in &programme.one_of {
        if set.iter().filter(|&&column| amounts[column] > 0).count() > 1 {
            return None;
        }
    }
    (made == programme.targets).then_some(cost)
}

fn each_further(further: &[(i64, Cost)], mut place: i64) -> Cost {
    for (units, each) in further {
        if place < *units {
            return *each;
        }
        place -= units;
    }
    further.last().map_or(0, |last| last.1)
}

fn any_column(numbers: usize) -> impl Strategy<Value = Column> {
    let effects = vec((0..numbers, -3..=3_i64), 1..3);
    let steps = vec((1..3_i64, 0..900_000_i64), 0..3);
    let class = prop::option::weighted(0.85, 0..4_usize);
    (effects, 1..=4_i64, 1..6_000_000_i64, steps, class).prop_map(
        |(effects, most, fixed, mut further, class)| {
            let mut each: Vec<Cost> = further.iter().map(|step| step.1).collect();
            each.sort_unstable();
            for (step, each) in further.iter_mut().zip(each) {
                step.1 = each;
            }
            Column {
                effects,
                most,
                fixed,
                further,
                class,
            }
        },
    )
}

fn any_programme() -> impl Strategy<Value = Programme> {
    (1..4_usize).prop_flat_map(|numbers| {
        let one_of = vec(vec(0..3_usize, 2..3), 0..2);
        (
            vec(-6..=6_i64, numbers),
            vec(any_column(numbers), 3..7),
            one_of,
        )
            .prop_map(|(targets, mut columns, mut one_of)| {
                // Two columns that do the same are what the solver may leave one out of.
                if let Some([first, second]) = one_of.first().map(|set| [set[0], set[1]]) {
                    columns[second].effects = columns[first].effects.clone();
                }
                for set in &mut one_of {
                    set.sort_unstable();
                    set.dedup();
                }
                Programme {
                    targets,
                    columns,
                    one_of,
                }
            })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3_000))]

    #[test]
    fn the_optimum_and_the_runner_up_cost_what_they_must(programme in any_programme()) {
        let found = programme.solve();
        let least = by_brute_force(&programme, |_| true);
        prop_assert_eq!(found.as_ref().map(|found| found.cost).ok(), least);
        let Ok(found) = found else {
            prop_assert_eq!(found, Err(Unsolved::NoneThere));
            return Ok(());
        };
        prop_assert!(found.proven);
        prop_assert_eq!(by_hand(&programme, &found.amounts), least);
        let classes = programme.classes(&found.amounts);
        prop_assume!(!classes.is_empty());
        let has_all = |amounts: &[i64]| {
            classes.iter().all(|class| {
                (programme.columns.iter().zip(amounts))
                    .any(|(column, amount)| column.class == Some(*class) && *amount > 0)
            })
        };
        let next = programme.solve_without_one_of(&classes);
        let by_force = by_brute_force(&programme, |amounts| !has_all(amounts));
        prop_assert_eq!(next.map(|next| next.cost).ok(), by_force);
    }
}

#[test]
fn it_says_when_a_number_cannot_be_made_up() {
    let twos = Column {
        effects: vec![(0, 2)],
        most: 9,
        fixed: 1,
        ..Column::default()
    };
    let programme = Programme {
        targets: vec![7],
        columns: vec![twos],
        one_of: Vec::new(),
    };
    assert_eq!(programme.solve(), Err(Unsolved::NoneThere));
}

/// Two sums of costs that differ by a millionth of a nat in ten million are still told apart.
#[test]
fn costs_that_are_nearly_the_same_are_told_apart() {
    let column = |fixed| Column {
        effects: vec![(0, 1)],
        most: 1,
        fixed,
        ..Column::default()
    };
    let programme = Programme {
        targets: vec![1],
        columns: vec![column(10_000_001), column(10_000_000), column(10_000_002)],
        one_of: Vec::new(),
    };
    let chosen = programme.solve().expect("it can be made up");
    assert_eq!((chosen.amounts, chosen.cost), (vec![0, 1, 0], 10_000_000));
}
