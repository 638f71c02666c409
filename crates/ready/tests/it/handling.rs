//! Teams, long pieces, bundles.

use measure::{Length, Mass, System};
use ready::handling::{Hands, LONG, LiftSite, lifting, people_for};
use ready::lift::{Coupling, Spell};

use crate::setting::{demo, parts, sidewall};

/// A site where one person may lift 20 kg: 23 kg with nothing but the reach against it.
fn twenty_kilograms() -> LiftSite {
    LiftSite {
        // 25/28.75 of 23 kg.
        reach: Length::nanometres(287_500_000),
        from: Length::millimetres(750),
        to: Length::millimetres(750),
        turn: 0.0,
        per_minute: 0.2,
        spell: Spell::OneHour,
        coupling: Coupling::Good,
    }
}

/// Two at 20 kg each: about 26.6 kg (S, a railway's safety page); three: half of 60 (S2).
#[test]
fn teams_as_the_guidance_has_them() {
    let site = twenty_kilograms();
    let load = |kg: i64| people_for(Mass::grams(kg * 1_000), None, &site, System::Metric);
    let may = load(10).may.map(Mass::to_kilograms);
    assert!((may[0] - 20.0).abs() < 1e-6, "{may:?}");
    assert!((may[1] - 26.6).abs() < 0.1, "{may:?}");
    assert!((may[2] - 30.0).abs() < 1e-6, "{may:?}");
    // Two at 50 kg: 66; three: 75 (S2, a training note).
    assert!((may[1] / may[0] * 50.0 - 66.0).abs() < 1.0);
    assert!((may[2] / may[0] * 50.0 - 75.0).abs() < 1e-6);

    assert_eq!(load(20).hands, Hands::People(1));
    assert_eq!(load(21).hands, Hands::People(2));
    assert_eq!(load(27).hands, Hands::People(3));
    assert_eq!(load(31).hands, Hands::Machine);
}

#[test]
fn a_long_light_tube_takes_two() {
    let site = twenty_kilograms();
    let tube = |length| people_for(Mass::grams(6_000), Some(length), &site, System::Metric);
    assert_eq!(tube(LONG).hands, Hands::People(1));
    let long = tube(LONG + Length::millimetres(1));
    assert_eq!(long.hands, Hands::People(2));
    assert!(long.says.contains("for its length"), "{}", long.says);
    assert_eq!(long.cautions.len(), 2);
}

#[test]
fn a_lift_that_must_not_be_is_said_so() {
    let site = LiftSite {
        reach: Length::millimetres(700),
        ..twenty_kilograms()
    };
    let said = people_for(Mass::grams(1_000), None, &site, System::Metric);
    assert_eq!(said.hands, Hands::Machine);
    assert!(said.says.contains("the reach"), "{}", said.says);
}

#[test]
fn every_mark_of_the_demo_has_a_row_and_no_lift_is_too_heavy() {
    let frame = demo();
    let list = parts(&frame);
    let site = LiftSite::default();
    let table = lifting(&list, &site, frame.system);
    assert_eq!(table.rows.len(), list.lines.len());
    for row in &table.rows {
        let two = row.one.may[1];
        assert!(row.each * row.two_take <= two, "{}", row.mark);
        if row.two_take < row.pieces {
            assert!(row.each * (row.two_take + 1) > two, "{}", row.mark);
        }
        println!("{:8} {:60} {}", row.mark, row.one.says, row.two_take);
        let Some(lifts) = row.lifts else {
            assert!(row.each > two, "{}", row.mark);
            continue;
        };
        assert!(lifts * row.two_take >= row.pieces, "{}", row.mark);
        assert!((lifts - 1) * row.two_take < row.pieces, "{}", row.mark);
    }
    // A crate of a whole house is no lift by hand.
    let frame = sidewall("48 ft");
    let table = lifting(&parts(&frame), &site, frame.system);
    assert!(
        table
            .packages
            .iter()
            .any(|(_, _, h)| h.hands == Hands::Machine)
    );
}
