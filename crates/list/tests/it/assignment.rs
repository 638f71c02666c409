//! The assignment against every possible one on small cases, and against a library's on larger ones.

use list::{Cost, Problem, solve};
use pathfinding::prelude::{Matrix, kuhn_munkres_min};
use proptest::prelude::*;

fn total(problem: &Problem, of_row: &[Option<usize>]) -> Option<Cost> {
    let mut load = problem.fixed.clone();
    let mut sum = 0;
    for (choices, mark) in problem.rows.iter().zip(of_row) {
        let Some(mark) = mark else { continue };
        sum += choices.iter().find(|(m, _)| m == mark)?.1 + problem.prices.get(load[*mark])?;
        load[*mark] += 1;
    }
    Some(sum)
}

/// Least cost over every assignment, with one row held to one choice if asked.
fn by_trying_all(problem: &Problem, held: Option<(usize, Option<usize>)>) -> Cost {
    fn go(
        problem: &Problem,
        held: Option<(usize, Option<usize>)>,
        so_far: &mut Vec<Option<usize>>,
        best: &mut Cost,
    ) {
        let row = so_far.len();
        if row == problem.rows.len() {
            if let Some(cost) = total(problem, so_far) {
                *best = (*best).min(cost);
            }
            return;
        }
        let choices = problem.rows[row]
            .iter()
            .map(|(mark, _)| Some(*mark))
            .chain([None]);
        for choice in choices {
            if held.is_none_or(|(at, only)| at != row || only == choice) {
                so_far.push(choice);
                go(problem, held, so_far, best);
                so_far.pop();
            }
        }
    }
    let mut best = Cost::MAX;
    go(problem, held, &mut Vec::new(), &mut best);
    best
}

fn small() -> impl Strategy<Value = Problem> {
    let rows =
        proptest::collection::vec(proptest::collection::vec((0usize..4, -9i64..4), 0..4), 0..6);
    let prices = proptest::collection::vec(0i64..4, 0..3);
    (rows, proptest::collection::vec(0usize..3, 4), prices).prop_map(|(mut rows, fixed, steps)| {
        for choices in &mut rows {
            choices.sort();
            choices.dedup_by_key(|(mark, _)| *mark);
        }
        let rising = steps.iter().scan(0, |sum, step| {
            *sum += step;
            Some(*sum)
        });
        let prices = std::iter::once(0).chain(rising).collect();
        Problem {
            rows,
            fixed,
            prices,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn it_is_the_cheapest_of_all(problem in small()) {
        let solution = solve(&problem);
        prop_assert_eq!(total(&problem, &solution.of_row), Some(by_trying_all(&problem, None)));
    }

    #[test]
    fn regret_is_what_forcing_a_choice_costs(problem in small()) {
        let solution = solve(&problem);
        let least = by_trying_all(&problem, None);
        for (row, regret) in solution.regret.iter().enumerate() {
            for (choice, cost) in regret {
                let forced = by_trying_all(&problem, Some((row, *choice)));
                // A choice that no assignment allows, because fixed rows fill the mark, is out of reach either way.
                if forced < 1_000 {
                    prop_assert_eq!(forced - least, *cost, "row {} choice {:?}", row, choice);
                } else {
                    prop_assert!(*cost > 1_000_000);
                }
            }
        }
    }

    #[test]
    fn a_library_finds_no_cheaper_one(costs in proptest::collection::vec(proptest::collection::vec(-100i64..40, 12), 30)) {
        let prices = vec![0, 7, 9];
        let rows: Vec<Vec<(usize, Cost)>> = costs.iter().map(|row| row.iter().copied().enumerate().collect()).collect();
        let problem = Problem { rows, fixed: vec![0; 12], prices: prices.clone() };
        let solution = solve(&problem);
        // The same as a square-enough matrix: a column for each place on a mark, one nothing for each row.
        let matrix = Matrix::from_fn(30, 12 * 3 + 30, |(row, column)| {
            if column < 36 { costs[row][column / 3] + prices[column % 3] } else { 0 }
        });
        let (peer, _) = kuhn_munkres_min(&matrix);
        prop_assert_eq!(total(&problem, &solution.of_row), Some(peer));
    }
}

#[test]
fn a_row_moves_over_for_one_that_needs_the_place_more() {
    // Two rows want the first mark; only one of them can do with the second.
    let rows = vec![vec![(0, -10), (1, -9)], vec![(0, -8)]];
    let problem = Problem {
        rows,
        fixed: vec![0, 0],
        prices: vec![0],
    };
    assert_eq!(solve(&problem).of_row, vec![Some(1), Some(0)]);
}
