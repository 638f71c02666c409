//! The folder taken from a job: what was counted, called, said and planned comes out where a crew looks for it.

use paper::{BuildDay, CallSign, StageState, build_day};

use crate::pdf::{Pdf, squeeze};
use crate::sample_job::Job;
use crate::{sample, sample_card};

fn says_all(day: &BuildDay, given: &[&str]) {
    let pdf = Pdf::new(&build_day(day, &sample::print()).expect("the folder is sound"));
    let letters = pdf.letters();
    for words in given {
        assert!(letters.contains(&squeeze(words)), "{words}\n{}", pdf.text());
    }
}

/// Four half bows are missing: two bows of thirteen cannot be raised, and nothing that needs all of them is whole.
#[test]
fn what_is_missing_stops_its_stage_and_is_said_there() {
    let mut job = Job::counted(sample_card::GOTHIC, &[("B1", 4)]);
    job.calls();
    job.affairs();
    let day = job.folder();
    assert_ne!(day.call.sign, CallSign::Go);
    let bows = (day.stages.iter()).find(|stage| stage.parts.iter().any(|part| part.missing > 0));
    let bows = bows.expect("a stage lacks something");
    assert_eq!(bows.state, StageState::Part, "{bows:?}");
    let part = bows.parts.iter().find(|part| part.mark == "B1").unwrap();
    assert_eq!((part.quantity, part.missing), (26, 4));
    // Who reads the cover and who reads the card leave out the same bows.
    let left_out = |said: &[String]| -> Vec<usize> {
        let said = said.iter().find(|said| said.starts_with("Leave out"));
        let words = said.map(String::as_str).unwrap_or_default();
        let numbers = words.split(|c: char| !c.is_ascii_digit());
        numbers.filter_map(|number| number.parse().ok()).collect()
    };
    assert_eq!(left_out(&bows.stops).len(), 2, "{:?}", bows.stops);
    assert_eq!(left_out(&bows.stops), left_out(&day.call.why));
    let short: Vec<&str> = (day.stages.iter())
        .flat_map(|stage| &stage.parts)
        .filter(|part| part.missing > 0)
        .map(|part| part.mark.as_str())
        .collect();
    assert!(short.iter().all(|mark| *mark == "B1"), "{short:?}");
    says_all(
        &day,
        &[
            "Sat 5 Dec 2026: 8 people, 8 h each, called",
            "B1: 26 needed so far, 22 there.",
            "B1: 4 short",
            "Tomasz",
            "Fri 4 Dec 2026: ask whether the ferry took them",
            "Who leads the build: Noor",
            "garden@example.invalid",
            "tech desk, desk@example.invalid",
            "In an emergency",
        ],
    );
}

#[test]
fn with_everything_counted_it_goes() {
    let mut job = Job::counted(sample_card::GOTHIC, &[]);
    job.calls();
    let day = job.folder();
    assert_eq!(day.call.sign, CallSign::Go, "{:?}", day.call);
    assert!(
        day.stages
            .iter()
            .all(|stage| stage.state == StageState::Whole)
    );
    assert!(day.stages.iter().all(|stage| stage.stops.is_empty()));
}

/// What the stages take of a mark is what the house needs of it; every mark has a pile with a label, and all of its pieces
/// lie in piles.
#[test]
fn stages_and_piles_hold_the_whole_parts_list() {
    for order in [sample_card::GOTHIC, sample_card::ROUND] {
        let day = Job::counted(order, &[]).folder();
        for line in sample_card::parts(order).lines {
            let mark = &line.part.mark.0;
            let parts = || day.stages.iter().flat_map(|stage| &stage.parts);
            let of_mark = || parts().filter(|part| part.mark == *mark);
            assert_eq!(
                of_mark().map(|part| part.quantity).sum::<i64>(),
                line.quantity,
                "{mark}"
            );
            assert!(of_mark().all(|part| !part.piles.is_empty()), "{mark}");
            let piled = day.staging.piles.iter().flat_map(|pile| &pile.marks);
            let piled: i64 = piled.filter(|(of, _)| of == mark).map(|(_, n)| n).sum();
            assert_eq!(piled, line.supplied, "{mark}");
        }
    }
}

#[test]
fn tools_that_were_seen_are_taken_off_those_that_are_needed() {
    let mut job = Job::counted(sample_card::GOTHIC, &[]);
    job.affairs();
    let day = job.folder();
    let ladder = day
        .tools
        .iter()
        .find(|row| row.tool == "step ladder")
        .unwrap();
    assert_eq!(ladder.here, Some(1));
    assert!(ladder.needed > 1 && !ladder.stages.is_empty());
    let others = day.tools.iter().filter(|row| row.tool != "step ladder");
    assert!(others.into_iter().all(|row| row.here.is_none()));
}

#[test]
fn without_a_ground_the_page_says_how_to_give_it() {
    let day = Job::counted(sample_card::GOTHIC, &[]).folder();
    assert_eq!(day.staging.drawing, None);
    let says = day.staging.says.join(" ");
    assert!(
        says.contains("Nobody has said what the ground is like."),
        "{says}"
    );
    assert!(says.contains("the page Ground"), "{says}");
    assert!(day.when.contains("no crew planned yet"), "{}", day.when);
}

#[test]
fn with_a_ground_every_pile_has_its_place() {
    let mut job = Job::counted(sample_card::GOTHIC, &[]);
    job.grounds();
    let day = job.folder();
    assert!(day.staging.drawing.is_some());
    for pile in &day.staging.piles {
        assert!(pile.lies.contains("stake"), "{}: {}", pile.name, pile.lies);
    }
    let says = day.staging.says.join(" ");
    assert!(
        says.contains("Carried in all") && says.contains("lb·ft"),
        "{says}"
    );
}

/// The diagonal of the demo's strings after Pythagoras. Each length is told to 1/16 in, so each is off by up to 1/32 in; what
/// two sides are off changes the diagonal by the square root of two times that at most.
#[test]
fn the_diagonals_are_those_of_a_right_angle() {
    let day = Job::counted(sample_card::GOTHIC, &[]).folder();
    let read = |words: &str| {
        let length = measure::Length::read(words, None);
        length
            .unwrap_or_else(|e| panic!("{words}: {e}"))
            .to_inches()
    };
    let rows = &day.setting_out.measures;
    let of = |what: &str| {
        let row = rows.iter().find(|row| row.what.to_lowercase() == what);
        read(&row.unwrap_or_else(|| panic!("{what}: {rows:?}")).length)
    };
    let across = of("front left to front right");
    let along = of("front left to back left");
    for diagonal in ["front left to back right", "front right to back left"] {
        let told = (1.0 + 2f64.sqrt()) / 32.0;
        assert!(
            (of(diagonal) - across.hypot(along)).abs() <= told,
            "{diagonal}"
        );
    }
}
