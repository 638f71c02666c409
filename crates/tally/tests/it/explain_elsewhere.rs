//! Stories of pieces that are here, in another place or under another name, and of lists that say too much. As in
//! `explain.rs`, what happened is laid into each job. That missing hardware is first looked for in the other bags, and that
//! a long count is done again before one piece of a hundred is claimed, is common practice, no source.

use tally::{Cause, CauseKind, Condition, Matter, What};

use crate::job::{Job, conditioned, ordered};
use crate::samples::counted;

fn matter(job: &Job, mark: &str) -> Matter {
    let standing = job.standing();
    let explained = standing.explanation().expect("the job has an order");
    assert!(explained.proven);
    explained
        .matter(mark)
        .expect("a matter of the mark")
        .clone()
}

/// Both stories, as kinds.
fn kinds(matter: &Matter) -> [Vec<CauseKind>; 2] {
    let of = |causes: &[Cause]| causes.iter().map(|cause| cause.kind).collect();
    [
        of(&matter.best.causes),
        of(matter.other.as_ref().map_or(&[], |other| &other.causes)),
    ]
}

fn check(matter: &Matter) -> &str {
    matter.check.as_ref().map_or("", |check| &check.words)
}

/// Everything counted as the order needs it, but for some marks.
fn all_but(but: &[(&str, i64)]) -> Job {
    let mut job = Job::ordered();
    for line in &ordered().parts.lines {
        let mark = line.part.mark.0.as_str();
        let other = but.iter().find(|(of, _)| *of == mark);
        let n = other.map_or(line.quantity, |(_, n)| *n);
        job.says(counted(mark, n, &[]));
    }
    job
}

/// The list that has what the order needs, by its marks.
fn list(comma: char) -> String {
    let lines = ordered().parts.lines;
    let rows = lines.iter().map(|line| {
        let (mark, n) = (&line.part.mark, line.quantity);
        format!("{}{comma}{n}{comma}ea{comma}Part {}\n", mark.0, mark.0)
    });
    let head = ["Code", "Qty", "Unit", "Description"].join(&comma.to_string());
    format!("{head}\n{}", rows.collect::<String>())
}

#[test]
fn before_small_parts_are_claimed_the_opened_bags_are_looked_through() {
    // The order needs 16 splice plates C2.
    let job = all_but(&[("C2", 12)]);
    let told = matter(&job, "C2");
    assert_eq!(
        kinds(&told),
        [vec![CauseKind::Short], vec![CauseKind::InAnotherBag]]
    );
    assert!(
        check(&told).starts_with("look through the opened bag")
            && check(&told).ends_with("C2 may lie there"),
        "{}",
        check(&told)
    );
}

#[test]
fn a_long_count_is_done_again_before_one_piece_is_claimed() {
    let job = all_but(&[("N5", 365)]);
    let told = matter(&job, "N5");
    let [best, other] = kinds(&told);
    assert_eq!(best, [CauseKind::Short]);
    assert_eq!(other, [CauseKind::Miscounted]);
    assert!(
        told.nearly_level && check(&told) == "count the N5 again",
        "{told:?}"
    );
    // Of 16 plates the count is not lost so easily.
    let [_, other] = kinds(&matter(&all_but(&[("C2", 15)]), "C2"));
    assert!(!other.contains(&CauseKind::Miscounted));
}

#[test]
fn what_is_no_part_of_this_order_may_be_what_another_mark_lacks() {
    let mut job = all_but(&[("C1", 13)]);
    job.says(counted("ZZ9", 7, &[]));
    let told = matter(&job, "C1");
    assert_eq!(
        kinds(&told),
        [
            vec![CauseKind::CountedAsLookAlike],
            vec![CauseKind::SentLookAlike]
        ]
    );
    assert_eq!(told.best.causes[0].other_mark.as_deref(), Some("ZZ9"));
    assert_eq!(
        check(&told),
        "ZZ9 is no part of this order: look whether the pieces counted as ZZ9 are C1"
    );
    // The seven are one mark's, not both of two that lack seven.
    let mut two = all_but(&[("C1", 13), ("C2", 9)]);
    two.says(counted("ZZ9", 7, &[]));
    let standing = two.standing();
    let explained = standing.explanation().expect("an order");
    let taken: i64 = (explained.matters.iter().flat_map(|m| &m.best.causes))
        .filter(|cause| cause.other_mark.as_deref() == Some("ZZ9"))
        .map(|cause| cause.quantity)
        .sum();
    assert_eq!(taken, 7);
}

#[test]
fn pieces_seen_to_be_another_part_are_short_of_what_their_label_says() {
    let mut job = all_but(&[("C1", 17)]);
    job.says(conditioned("C1", 3, Condition::Wrong));
    let told = matter(&job, "C1");
    assert_eq!(kinds(&told)[0], [CauseKind::WrongSent]);
    let standing = job.standing();
    let explained = standing.explanation().expect("an order");
    assert_eq!(explained.short("C1"), 3);
}

#[test]
fn a_list_that_was_brought_in_twice() {
    let mut job = all_but(&[("R1", 12)]);
    job.list(&list(','), None);
    let once = matter(&job, "R1");
    // The same rows in another file.
    job.list(&list(';'), None);
    let standing = job.standing();
    let explained = standing.explanation().expect("an order");
    let [twice, rest @ ..] = explained.matters.as_slice() else {
        panic!("nothing said");
    };
    assert_eq!(kinds(twice)[0], [CauseKind::ListTwice]);
    let pieces: i64 = ordered().parts.lines.iter().map(|line| line.quantity).sum();
    assert_eq!(twice.best.causes[0].quantity, pieces);
    assert!(
        check(twice).ends_with("and take it away"),
        "{}",
        check(twice)
    );
    // What is short is told as with one list.
    assert_eq!(rest, [once]);
    assert_eq!(explained.short("R1"), 3);
}

#[test]
fn two_loads_that_hold_the_same_are_two_lists() {
    let half = |comma: &str| {
        let rows = ["R1", "S1", "C1", "C2"].map(|mark| format!("{mark}{comma}4{comma}ea\n"));
        format!("Code{comma}Qty{comma}Unit\n{}", rows.concat())
    };
    let mut job = Job::ordered();
    job.list(&half(","), Some("Load 1"));
    job.list(&half(";"), Some("Load 2"));
    let standing = job.standing();
    let explained = standing.explanation().expect("an order");
    let mut causes = explained.matters.iter().flat_map(|m| &m.best.causes);
    assert!(causes.all(|cause| cause.kind != CauseKind::ListTwice));
}

#[test]
fn every_shipment_that_is_outstanding_is_named() {
    let mut job = all_but(&[("R1", 0)]);
    for shipment in ["Load 2", "Load 3"] {
        job.says(What::ShipmentNamed {
            shipment: shipment.into(),
            due: None,
        });
    }
    let told = matter(&job, "R1");
    let all = (told.best.causes.iter()).chain(told.other.iter().flat_map(|other| &other.causes));
    let later: Vec<&str> = all.filter_map(|cause| cause.shipment.as_deref()).collect();
    assert_eq!(later, ["Load 2 or Load 3"], "{told:?}");
}

#[test]
fn a_bag_of_which_nothing_was_found_was_not_opened() {
    // Everything of one sub-kit is counted as none, as whoever cannot find the bag writes.
    let parts = ordered().parts;
    let of = |line: &frame::Line| -> Vec<String> {
        let shares = line.sub_kits().into_iter();
        shares.map(|share| share.0.to_owned()).collect()
    };
    let bag = (parts.lines.iter().map(&of))
        .find(|shares| {
            let alone = |line: &&frame::Line| of(line) == *shares;
            shares.len() == 1 && parts.lines.iter().filter(alone).count() > 1
        })
        .expect("a sub-kit with marks of its own");
    let missing: Vec<&str> = (parts.lines.iter())
        .filter(|line| of(line).contains(&bag[0]))
        .map(|line| line.part.mark.0.as_str())
        .collect();
    let none: Vec<(&str, i64)> = (parts.lines.iter())
        .filter(|line| of(line).contains(&bag[0]))
        .map(|line| {
            let shares = line.sub_kits();
            let here: i64 = shares.iter().filter(|s| s.0 != bag[0]).map(|s| s.1).sum();
            (line.part.mark.0.as_str(), here)
        })
        .collect();
    let job = all_but(&none);
    let alone: Vec<&&str> = (missing.iter())
        .filter(|mark| none.iter().any(|(of, n)| of == *mark && *n == 0))
        .collect();
    assert!(alone.len() > 1);
    for mark in alone {
        let told = matter(&job, mark);
        let [cause] = told.best.causes.as_slice() else {
            panic!("{told:?}");
        };
        assert_eq!(cause.kind, CauseKind::PileNotCounted, "{told:?}");
        assert_eq!(cause.sub_kit.as_ref(), Some(&bag[0]));
        assert!(
            check(&told).starts_with("open the bag of"),
            "{}",
            check(&told)
        );
    }
}

#[test]
fn a_row_that_was_read_as_nothing_is_one_mark_only() {
    // B1 and X2 need 26 each; the list lacks both and has 26 of what nobody knows.
    let rows = list(',')
        .replace("B1,26,ea,Part B1\n", "")
        .replace("X2,26,ea,Part X2\n", "");
    let mut job = Job::ordered();
    job.list(&format!("{rows}QQ77,26,ea,Zzyzx\n"), None);
    let standing = job.standing();
    let explained = standing.explanation().expect("an order");
    let causes = explained.matters.iter().flat_map(|m| &m.best.causes);
    let misread = causes.filter(|cause| cause.kind == CauseKind::RowMisread);
    assert_eq!(misread.count(), 1, "{explained:#?}");
}
