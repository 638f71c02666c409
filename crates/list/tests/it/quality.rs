//! Rows matched to marks, against labelled lists: those that were tuned on, and those that were only ever measured against.
//!
//! The labels are what the writers meant (tests/labelled/README.md). The goal is 97 of 100 rows right at first, and 995 of
//! 1000 of those that are called sure. The tuning rows hold it. The sealed rows do not yet (docs/matching.md says how far
//! off they are): for them the bounds only say that nothing got worse.

use crate::labelled::{
    Figures, OPEN, Outcome, SEALED, calibration, figures, lists, orders, outcomes,
};

fn outcomes_of(files: &[&str]) -> Vec<Outcome> {
    let lists: Vec<_> = files.iter().flat_map(|file| lists(file)).collect();
    let orders = orders(&lists);
    lists
        .iter()
        .flat_map(|list| outcomes(list, &orders[&list.order]))
        .collect()
}

fn wrong(all: &[Outcome]) -> String {
    let wrong = all.iter().filter(|o| !o.right()).map(|o| {
        format!(
            "{} {}: {} is {:?}, read as {:?}, doubt {:.3}\n",
            o.list, o.writer, o.says, o.truth, o.found, o.doubt
        )
    });
    wrong.collect()
}

fn holds_the_goal(figures: Figures, all: &[Outcome]) {
    assert!(figures.right >= 0.97, "{figures:?}\n{}", wrong(all));
    assert!(
        figures.right_of_sure >= 0.995,
        "{figures:?}\n{}",
        wrong(all)
    );
}

#[test]
fn rows_that_were_tuned_on() {
    let all = outcomes_of(&OPEN);
    assert!(all.len() > 2_700, "{}", all.len());
    let figures = figures(&all);
    holds_the_goal(figures, &all);
    // Sure without cause would pass the above: most rows must be called sure, and the doubt must mean something.
    assert!(figures.sure > 0.85, "{figures:?}");
    assert!(figures.calibration_error < 0.03, "{figures:?}");
}

/// In each band of the stated doubt the share that is wrong is what is stated, within three standard deviations of
/// what so many rows scatter by chance, or better than stated.
#[test]
fn the_stated_doubt_is_no_smaller_than_the_seen() {
    let all = outcomes_of(&OPEN);
    for bin in calibration(&all) {
        let rows = bin.rows.max(1) as f64;
        let scatter = (bin.stated * (1.0 - bin.stated) / rows).sqrt();
        assert!(bin.seen <= bin.stated + 3.0 * scatter, "{bin:?}");
    }
}

/// Short of the goal: what is asked here lies just under what was measured on 2026-11-29. A failure must not be mended by
/// looking at these rows; only the figures are printed.
#[test]
fn rows_that_were_only_measured_against() {
    let all = outcomes_of(&SEALED);
    let figures = figures(&all);
    assert!(figures.right >= 0.90, "{figures:?}");
    assert!(figures.right_of_sure >= 0.98, "{figures:?}");
    assert!(figures.calibration_error <= 0.05, "{figures:?}");
}

#[test]
fn a_labelled_row_names_a_mark_of_its_order() {
    for file in OPEN.into_iter().chain(SEALED) {
        let lists = lists(file);
        let orders = orders(&lists);
        for list in &lists {
            let marks = &orders[&list.order].lines;
            for mark in list.marks.iter().filter(|mark| !mark.is_empty()) {
                assert!(
                    marks.iter().any(|line| line.part.mark.0 == *mark),
                    "{file} {}: {mark}",
                    list.id
                );
            }
        }
    }
}
