//! The simulator is held to account before anything is held against it.

use std::collections::BTreeMap;

use crate::deliveries::delivery::Delivery;
use crate::deliveries::houses::houses;
use crate::deliveries::planted::{EVEN, KINDS, Kind, Plan};
use crate::deliveries::random::Draws;
use crate::job::words;
use crate::told::peer;

const RUNS: u64 = 60;

#[test]
fn where_nothing_goes_wrong_everything_fits() {
    let mut houses = houses();
    for run in 0..RUNS {
        let places = houses.len();
        let house = &mut houses[run as usize % places];
        let mut draws = Draws::new(run);
        let delivery = Delivery::draw(house, Plan::of(Vec::new()), &mut draws);
        let standing = delivery.standing(house);
        let difference = standing.difference.as_ref().expect("there is an order");
        for mark in &difference.marks {
            assert!(mark.is_well(), "run {run}, {}: {}", mark.mark, words(mark));
            assert_eq!(
                mark.verdicts.len(),
                1,
                "run {run}, {}: {}",
                mark.mark,
                words(mark)
            );
            assert_eq!(delivery.truth.owed(&mark.mark), 0);
        }
        assert_eq!(peer::claims(&standing), BTreeMap::new(), "run {run}");
    }
}

/// Every piece is in a pile, in the next load, or was never packed.
#[test]
fn no_piece_comes_from_nowhere_and_none_is_lost() {
    let mut houses = houses();
    for run in 0..RUNS {
        let places = houses.len();
        let house = &mut houses[run as usize % places];
        let mut draws = Draws::new(run);
        let plan = Plan::draw(&EVEN, &mut draws);
        let delivery = Delivery::draw(house, plan, &mut draws);
        let truth = &delivery.truth;
        let of =
            |numbers: &BTreeMap<String, i64>, mark: &str| numbers.get(mark).copied().unwrap_or(0);
        for line in &house.ordered.parts.lines {
            let mark = line.part.mark.0.as_str();
            let here: i64 = (truth.piles.iter())
                .filter(|((_, lies), _)| lies == mark)
                .map(|(_, pieces)| pieces)
                .sum();
            let habit = if delivery.habits.packs_spares {
                line.supplied.max(line.quantity)
            } else {
                line.quantity
            };
            assert_eq!(
                habit - of(&delivery.left_out, mark) + of(&delivery.added, mark),
                here + of(&truth.later, mark),
                "run {run}, {mark}: {:?}",
                truth.planted
            );
            assert_eq!(
                of(&truth.sent, mark),
                here + of(&truth.later, mark),
                "run {run}, {mark}"
            );
        }
    }
}

#[test]
fn every_kind_comes_up_and_shows() {
    let mut houses = houses();
    for kind in KINDS {
        let mut shown = 0;
        for run in 0..36 {
            let places = houses.len();
            let house = &mut houses[run as usize % places];
            let mut draws = Draws::new(run);
            let delivery = Delivery::draw(house, Plan::of(vec![kind]), &mut draws);
            let standing = delivery.standing(house);
            let difference = standing.difference.as_ref().expect("there is an order");
            let odd =
                (difference.marks.iter()).any(|mark| mark.verdicts.len() != 1 || !mark.is_well());
            let planted = !delivery.truth.planted.is_empty();
            assert!(
                planted || !odd,
                "{kind:?}, run {run}: something shows that was not planted"
            );
            shown += usize::from(odd && planted);
        }
        let some = if kind == Kind::LeftForLater { 9 } else { 12 };
        assert!(shown >= some, "{kind:?} showed in {shown} of 36 runs");
    }
}
