//! A whole-number programme against trying all amounts, and a few whose answer anyone can see.

use proptest::prelude::*;
use ready::programme::{Is, Programme, Unsolved};

/// The least cost of all amounts that keep to the limits, by trying them all.
fn least(programme: &Programme) -> Option<i64> {
    let mut amounts = vec![0; programme.columns.len()];
    let mut least: Option<i64> = None;
    loop {
        let kept = programme.rows.iter().all(|row| {
            let sum: i64 = row
                .terms
                .iter()
                .map(|(at, times)| amounts[*at] * times)
                .sum();
            match row.is {
                Is::AtMost => sum <= row.value,
                Is::AtLeast => sum >= row.value,
                Is::Exactly => sum == row.value,
            }
        });
        if kept {
            let cost = programme
                .columns
                .iter()
                .zip(&amounts)
                .map(|(c, n)| c.cost * n)
                .sum();
            least = Some(least.map_or(cost, |least| least.min(cost)));
        }
        // The next amounts, as a number is counted up whose digits are they.
        let Some(up) = (0..amounts.len()).find(|at| amounts[*at] < programme.columns[*at].most)
        else {
            return least;
        };
        amounts[..up].fill(0);
        amounts[up] += 1;
    }
}

fn any_programme() -> impl Strategy<Value = Programme> {
    let column = (0..4i64, -9..10i64);
    let is = prop_oneof![3 => Just(Is::AtMost), 2 => Just(Is::AtLeast), 1 => Just(Is::Exactly)];
    let row = (prop::collection::vec(-3..4i64, 6), is, -6..13i64);
    (
        prop::collection::vec(column, 1..7),
        prop::collection::vec(row, 0..5),
    )
        .prop_map(|(columns, rows)| {
            let mut programme = Programme::default();
            for (most, cost) in &columns {
                programme.column(*most, *cost);
            }
            for (terms, is, value) in rows {
                let terms = terms.into_iter().enumerate().take(columns.len());
                programme.row(terms.filter(|(_, times)| *times != 0).collect(), is, value);
            }
            programme
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    #[test]
    fn no_amounts_cost_less(programme in any_programme()) {
        match (programme.solve(), least(&programme)) {
            (Ok(chosen), Some(least)) => {
                prop_assert!(chosen.proven);
                prop_assert_eq!(chosen.cost, least);
                prop_assert_eq!(programme.cost(&chosen.amounts), Some(least));
            }
            (Err(Unsolved::NoneThere), None) => {}
            other => prop_assert!(false, "{other:?}"),
        }
    }
}

/// Three things of 3, 4 and 5 kg that are worth 4, 5 and 7 in a bag that carries 8 kg: 3 and 5, worth 11.
#[test]
fn a_bag_is_packed() {
    let mut bag = Programme::default();
    for worth in [4, 5, 7] {
        bag.column(1, -worth);
    }
    bag.row(vec![(0, 3), (1, 4), (2, 5)], Is::AtMost, 8);
    let chosen = bag.solve().unwrap();
    assert_eq!(
        (chosen.amounts, chosen.cost, chosen.proven),
        (vec![1, 0, 1], -11, true)
    );
}

#[test]
fn what_cannot_be_is_said() {
    let mut none = Programme::default();
    none.column(3, 1);
    none.row(vec![(0, 2)], Is::Exactly, 3);
    assert_eq!(none.solve(), Err(Unsolved::NoneThere));
}

#[test]
fn the_text_for_other_solvers_has_every_line() {
    let mut programme = Programme::default();
    programme.column(4, -2);
    programme.column(1, 3);
    programme.row(vec![(0, 1), (1, -4)], Is::AtMost, 0);
    let wanted = "Minimize\n obj: -2 x0 +3 x1\nSubject To\n r0: +1 x0 -4 x1 <= 0\nBounds\n 0 <= x0 <= 4\n \
                  0 <= x1 <= 1\nGeneral\nx0 x1\nEnd\n";
    assert_eq!(programme.lp(), wanted);
}
