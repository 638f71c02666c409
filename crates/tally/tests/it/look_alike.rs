//! Which parts are taken for each other. The parts of the family gothic-24: R1 is a ridge tube and S1 a stud of one
//! tube, half an inch apart and with other ends; N1 and N2 are bolts of one thread, N5 and N6 screws of one size.

use frame::{End, Mark, Part, Section};
use measure::{Length, Mass, System};
use tally::told_apart_by;

use crate::job::{Job, ordered};

fn apart(a: &str, b: &str) -> Option<String> {
    let parts = ordered().parts;
    let part = |mark: &str| &parts.line(mark).expect("a mark of the demo's order").part;
    told_apart_by(part(a), part(b), System::FeetInch)
}

#[test]
fn what_tells_look_alikes_apart() {
    assert_eq!(
        apart("R1", "S1").as_deref(),
        Some(
            "look at the ends: R1 has one end swaged 3-1/2 in, S1 both ends plain; measure: R1 is 10 ft 6-1/2 in long, S1 10 ft 6 in"
        )
    );
    assert_eq!(
        apart("N1", "N2").as_deref(),
        Some("measure: N1 is 2-1/2 in long, N2 3 in")
    );
    assert_eq!(
        apart("N5", "N6").as_deref(),
        Some("measure: N5 is 3/4 in long, N6 1 in")
    );
}

#[test]
fn what_does_not_look_alike() {
    // A plate and a clamp; posts of one tube and other lengths; a bolt and a screw; channels of other shapes.
    for (a, b) in [
        ("C2", "X2"),
        ("P1", "B1"),
        ("H1", "H2"),
        ("N2", "N5"),
        ("N3", "N4"),
        ("C1", "L1"),
    ] {
        assert_eq!(apart(a, b), None, "{a} and {b}");
    }
}

#[test]
fn a_bolt_is_not_taken_for_a_screw_of_its_size() {
    let bolt = ordered().parts.line("N1").expect("a mark").part.clone();
    let mut screw = bolt.clone();
    screw.mark = Mark("T1".into());
    screw.length = Some(Length::inches(3));
    assert!(told_apart_by(&bolt, &screw, System::FeetInch).is_some());
    screw.noun = "lag screw".into();
    assert_eq!(told_apart_by(&bolt, &screw, System::FeetInch), None);
}

fn tube(mark: &str, ends: [End; 2], wall_thousandths: i64) -> Part {
    Part {
        mark: Mark(mark.into()),
        noun: "post".into(),
        description: "Post".into(),
        section: Some(Section::Tube {
            called: "1-3/8".into(),
            outside: Length::inches(1),
            wall: Length::nanometres(25_400 * wall_thousandths),
            gauge: None,
        }),
        length: Some(Length::inches(60)),
        width: None,
        ends: Some(ends),
        finish: None,
        unit_mass: Mass::ZERO,
        bend: None,
    }
}

#[test]
fn tubes_that_differ_in_one_thing() {
    let swaged = End::Swaged(Length::inches(4));
    let a = tube("A", [swaged, End::Plain], 65);
    // Turned round it is the same.
    let round = tube("B", [End::Plain, swaged], 65);
    assert_eq!(told_apart_by(&a, &round, System::FeetInch), None);
    let thick = tube("B", [End::Plain, swaged], 83);
    assert_eq!(
        told_apart_by(&a, &thick, System::FeetInch).as_deref(),
        Some("measure the wall: A is 0.065 in thick, B 0.083 in")
    );
    let mut painted = (a.clone(), round);
    painted.0.finish = Some("galvanized".into());
    painted.1.finish = Some("black".into());
    assert_eq!(
        told_apart_by(&painted.0, &painted.1, System::FeetInch).as_deref(),
        Some("look at the finish: A is galvanized, B black")
    );
}

fn swaps(counts: &[(&str, i64)]) -> Vec<(String, String, i64)> {
    let mut job = Job::ordered();
    for (mark, quantity) in counts {
        job.counts(mark, *quantity);
    }
    let difference = job.standing().difference.expect("the job has an order");
    (difference.swaps.into_iter())
        .map(|swap| (swap.short, swap.over, swap.quantity))
        .collect()
}

#[test]
fn swaps_are_found_between_look_alikes_only() {
    // Needed: R1 15, S1 8, C2 16, X2 26, N1 26, N2 52.
    let found = swaps(&[("R1", 13), ("S1", 11)]);
    assert_eq!(found, [("R1".into(), "S1".into(), 2)]);
    let found = swaps(&[("N2", 48), ("N1", 29)]);
    assert_eq!(found, [("N2".into(), "N1".into(), 3)]);
    assert_eq!(swaps(&[("C2", 18), ("X2", 24)]), []);
    // Two over or two short are no swap, and what nobody counted is not short.
    assert_eq!(swaps(&[("R1", 16), ("S1", 9)]), []);
    assert_eq!(swaps(&[("S1", 10)]), []);
}
