//! Stories told of hand-made jobs: what happened is laid into each, and the likeliest story must say so. The demo's order
//! needs R1 15, S1 8, C1 20, C2 16, N5 366 (frame 12, side walls 268, end walls 86), X2 26, and no spares.

use tally::{CauseKind, Condition, Event, Explanation, How, Matter, Ordered, What};
use tell::{Marks, Reading, Size, TapeClass, Tool};

use crate::job::{Job, ORDER, conditioned, ordered};
use crate::samples::event;

/// One count of a mark in a pile by somebody.
fn counts(job: &mut Job, who: &str, mark: &str, pile: &str, quantity: i64, how: How) {
    let seq = job.events.len() as u64 + 1;
    let what = What::Counted {
        mark: mark.into(),
        pile: Some(pile.into()),
        quantity,
        replaces: Vec::new(),
        how,
    };
    let event = Event {
        who: who.into(),
        ..event(seq, what)
    };
    job.events.push(event);
}

fn piece(job: &mut Job, mark: &str, pile: &str, quantity: i64) {
    counts(job, "Ines", mark, pile, quantity, How::Piece);
}

/// What is said of a mark: the likeliest story, and the next.
fn told(job: &Job, mark: &str) -> (Vec<String>, Vec<String>, Matter) {
    let standing = job.standing();
    let explained = standing.explanation().expect("the job has an order");
    assert!(explained.proven);
    let matter = explained.matter(mark).expect("a matter of the mark");
    let words = |causes: &[tally::Cause]| causes.iter().map(|c| c.in_words()).collect();
    let other = matter.other.as_ref().map(|other| words(&other.causes));
    (
        words(&matter.best.causes),
        other.unwrap_or_default(),
        matter.clone(),
    )
}

fn explained(job: &Job) -> Explanation {
    (job.standing().explanation())
        .expect("the job has an order")
        .clone()
}

/// Two ridge tubes among the studs of pile C.
fn mixed() -> Job {
    let mut job = Job::ordered();
    piece(&mut job, "R1", "B", 13);
    piece(&mut job, "S1", "C", 10);
    job
}

/// Somebody measures a piece of pile C with a tape, in sixteenths of an inch.
fn measures(job: &mut Job, sixteenths: i64) {
    job.says(What::Measured {
        mark: None,
        pile: Some("C".into()),
        readings: vec![Reading::Size {
            of: Size::Length,
            nanometres: sixteenths * 25_400_000 / 16,
            with: Tool::Tape {
                marks: Marks::Inch,
                class: TapeClass::Handbook44,
            },
        }],
    });
}

#[test]
fn look_alikes_in_the_wrong_pile() {
    let (best, other, matter) = told(&mixed(), "R1");
    assert_eq!(best, ["2 R1 lie in pile C and were counted as S1"]);
    assert_eq!(other, ["the sender packed 2 S1 instead of R1"]);
    assert_eq!(matter.marks, ["R1", "S1"]);
    let explained = explained(&mixed());
    assert_eq!((explained.short("R1"), explained.over("S1")), (0, 0));
    // Of 10 pieces 2 are R1: with 7 measured none shows in C(8,7)/C(10,7) = 8/120, with 8 in C(8,8)/C(10,8) = 1/45.
    let check = matter.check.expect("it hides a shortage");
    assert!(
        check.words.starts_with("measure any 8 in pile C"),
        "{}",
        check.words
    );
    assert_eq!(check.pile.as_deref(), Some("C"));
}

#[test]
fn measuring_the_pile_tells_who_mixed_them_up() {
    // A stud is 10 ft 6 in long, a ridge tube half an inch longer.
    let (stud, ridge) = (126 * 16, 126 * 16 + 8);
    let mut none_is_a_ridge = mixed();
    (0..8).for_each(|_| measures(&mut none_is_a_ridge, stud));
    let (best, _, _) = told(&none_is_a_ridge, "R1");
    assert_eq!(best, ["the sender packed 2 S1 instead of R1"]);
    let explained = explained(&none_is_a_ridge);
    assert_eq!((explained.short("R1"), explained.over("S1")), (2, 2));

    let mut one_is = mixed();
    measures(&mut one_is, ridge);
    let (best, _, sure) = told(&one_is, "R1");
    assert_eq!(best, ["2 R1 lie in pile C and were counted as S1"]);
    let (_, _, before) = told(&mixed(), "R1");
    assert!(sure.odds > 100.0 * before.odds && !sure.nearly_level);
}

#[test]
fn what_is_over_may_hide_what_nobody_counted() {
    let mut job = Job::ordered();
    piece(&mut job, "S1", "C", 23);
    let (best, _, _) = told(&job, "S1");
    assert_eq!(best, ["15 R1 lie in pile C and were counted as S1"]);
}

#[test]
fn bundles_counted_as_one_piece() {
    let mut job = Job::ordered();
    let bundles = How::Bundle {
        bundles: 2,
        of: 5,
        rest: 0,
        closed: true,
    };
    counts(&mut job, "Ines", "C1", "D", 10, bundles);
    piece(&mut job, "C1", "D", 6);
    // 10 in two bundles, 5 single ones, and a bundle of 5 that was taken for one: 16 instead of 20.
    let (best, other, matter) = told(&job, "C1");
    assert_eq!(
        best,
        ["whole bundles of C1 in pile D were counted as one piece each: 4 more lie there"]
    );
    assert_eq!(other, ["4 C1 are short"]);
    assert_eq!(
        matter.check.expect("a check").words,
        "count the C1 in pile D again"
    );
}

#[test]
fn two_people_counted_the_same_pieces() {
    let mut job = Job::ordered();
    counts(&mut job, "Ines", "C1", "D", 20, How::Piece);
    counts(&mut job, "Theo", "C1", "D", 20, How::Piece);
    let (best, _, _) = told(&job, "C1");
    assert_eq!(best, ["20 C1 in pile D were counted twice"]);
    assert_eq!(explained(&job).over("C1"), 0);
}

#[test]
fn a_bag_that_nobody_opened() {
    let mut job = Job::ordered();
    // Frame and side walls are counted; of the end walls nothing is.
    piece(&mut job, "N5", "E", 280);
    let (best, _, matter) = told(&job, "N5");
    assert_eq!(
        best,
        ["86 N5 of end walls are there and were not counted yet"]
    );
    assert_eq!(
        matter.check.expect("a check").words,
        "open the bag of end walls and count the N5 in it"
    );
    assert_eq!(explained(&job).short("N5"), 0);
}

#[test]
fn what_nothing_else_explains_is_short_or_too_much() {
    let mut job = Job::ordered();
    piece(&mut job, "X2", "F", 24);
    piece(&mut job, "C2", "G", 18);
    let (best, _, _) = told(&job, "X2");
    assert_eq!(best, ["2 X2 are short"]);
    let (best, _, _) = told(&job, "C2");
    assert_eq!(best, ["2 C2 too many came"]);
    let explained = explained(&job);
    assert_eq!((explained.short("X2"), explained.over("C2")), (2, 2));
    assert_eq!(explained.matters[0].marks, ["X2"], "the gravest first");
}

#[test]
fn damaged_pieces_that_were_set_aside() {
    let mut job = Job::ordered();
    piece(&mut job, "X2", "F", 23);
    job.says(conditioned("X2", 3, Condition::Bent));
    let (best, other, _) = told(&job, "X2");
    assert_eq!(
        best,
        ["3 X2 are not fit for use, were set aside and not counted"]
    );
    assert_eq!(other, ["3 X2 are short"]);
}

#[test]
fn looks_that_differ() {
    let mut job = Job::ordered();
    piece(&mut job, "X2", "F", 25);
    let first = job.events.last().expect("a count").id;
    let seq = job.events.len() as u64 + 1;
    let what = What::CountedAgain {
        mark: "X2".into(),
        pile: Some("F".into()),
        quantity: 26,
        checks: vec![first],
        how: How::Piece,
    };
    job.events.push(Event {
        who: "Theo".into(),
        ..event(seq, what)
    });
    let (best, _, _) = told(&job, "X2");
    assert_eq!(
        best,
        ["of two looks at X2 in pile F the first was 1 too few"]
    );
}

const HEAD: &str = "Code,Qty,Unit,Description\n";

/// A list of what an order needs, mark by mark; `other` changes a number.
fn list_of(of: &Ordered, other: impl Fn(&str, i64) -> i64) -> String {
    let rows = of.parts.lines.iter().map(|line| {
        let mark = &line.part.mark.0;
        let words = line.part.description.replace('"', "");
        format!("{mark},{},ea,\"{words}\"\n", other(mark, line.quantity))
    });
    HEAD.to_owned() + &rows.collect::<String>()
}

#[test]
fn a_slip_of_the_list_is_no_shortage() {
    let mut job = Job::ordered();
    let short = |mark: &str, n: i64| if mark == "X2" { n - 2 } else { n };
    job.list(&list_of(&ordered(), short), None);
    piece(&mut job, "X2", "F", 26);
    let (best, _, _) = told(&job, "X2");
    assert_eq!(best, ["the list has 2 X2 too few, by a slip"]);
    assert_eq!(explained(&job).short("X2"), 0);
}

#[test]
fn a_wrong_list_that_was_packed_by_is_one_cause_and_a_shortage() {
    let mut job = Job::ordered();
    let short = |mark: &str, n: i64| if mark == "X2" { n - 2 } else { n };
    job.list(&list_of(&ordered(), short), None);
    piece(&mut job, "X2", "F", 24);
    let (best, _, _) = told(&job, "X2");
    assert_eq!(
        best,
        ["the list has 2 X2 too few, and the sender packed by it"]
    );
    assert_eq!(explained(&job).short("X2"), 2);
}

#[test]
fn one_use_left_out_by_list_and_packer() {
    let mut job = Job::ordered();
    let frame_and_ends = |mark: &str, n: i64| if mark == "N5" { n - 268 } else { n };
    job.list(&list_of(&ordered(), frame_and_ends), None);
    piece(&mut job, "N5", "E", 98);
    let (best, _, _) = told(&job, "N5");
    assert_eq!(
        best,
        ["list and packer left out the 268 N5 for side walls: 268 N5 are short"]
    );
    assert_eq!(explained(&job).short("N5"), 268);
}

#[test]
fn a_row_that_was_read_as_nothing() {
    let mut job = Job::ordered();
    let list = list_of(&ordered(), |_, n| n);
    let list = list.replace("X2,26,ea", "ZZ-9,26,ea");
    let row = list.lines().position(|line| line.starts_with("ZZ-9"));
    let mut lines: Vec<String> = list.lines().map(String::from).collect();
    let row = row.expect("the row");
    lines[row] = "ZZ-9,26,ea,Gizmo".into();
    job.list(&lines.join("\n"), None);
    let (best, _, matter) = told(&job, "X2");
    let at = row + 1;
    assert_eq!(
        best,
        [format!(
            "row {at} of the list, read as none of this order, means X2 (26 pieces)"
        )]
    );
    assert_eq!(
        matter.check.expect("a check").words,
        format!("look at row {at} of the list again")
    );
}

#[test]
fn a_list_for_another_size_and_a_kit_too() {
    let shorter = ORDER.replace("length = \"48 ft\"", "length = \"44 ft\"");
    let shorter = Ordered::read(&shorter).expect("a house of 44 ft");
    let mut job = Job::ordered();
    job.list(&list_of(&shorter, |_, n| n), None);
    let said = explained(&job);
    let other = said.other_order.as_ref().expect("another order");
    assert_eq!(
        (other.change.as_str(), other.packed_so),
        ("length = 44 ft", false)
    );
    // With a slip in it, it still is that order, and the slip is said.
    let mut slip = Job::ordered();
    let list = list_of(&shorter, |mark, n| if mark == "K1" { n + 3 } else { n });
    slip.list(&list, None);
    let said = explained(&slip);
    assert_eq!(
        said.other_order.as_ref().map(|o| o.change.as_str()),
        Some("length = 44 ft")
    );
    let slips: Vec<CauseKind> = (said.matters.iter())
        .flat_map(|matter| &matter.best.causes)
        .filter(|cause| cause.kind != CauseKind::ListForOtherOrder)
        .map(|cause| cause.kind)
        .collect();
    assert_eq!(slips, [CauseKind::ListTypo]);
    // What was counted is what the shorter house needs: it was packed for it too.
    for line in &shorter.parts.lines {
        piece(&mut job, &line.part.mark.0, "A", line.quantity);
    }
    let said = explained(&job);
    let other = said.other_order.as_ref().expect("another order");
    assert_eq!(
        (other.change.as_str(), other.packed_so),
        ("length = 44 ft", true)
    );
    for line in &ordered().parts.lines {
        let mark = &line.part.mark.0;
        let has = shorter.parts.line(mark).map_or(0, |line| line.quantity);
        assert_eq!(said.short(mark), (line.quantity - has).max(0), "{mark}");
    }
    assert!(other.odds > 1e3);
    // The right kit with the wrong list is no shortage.
    let mut right = Job::ordered();
    right.list(&list_of(&shorter, |_, n| n), None);
    for line in &ordered().parts.lines {
        piece(&mut right, &line.part.mark.0, "A", line.quantity);
    }
    let said = explained(&right);
    assert_eq!(said.other_order.as_ref().map(|o| o.packed_so), Some(false));
    assert!(
        ordered()
            .parts
            .lines
            .iter()
            .all(|line| said.short(&line.part.mark.0) == 0)
    );
}

#[test]
fn what_no_list_has_comes_with_the_load_that_no_list_tells_of() {
    let mut job = Job::ordered();
    let without = |mark: &str, n: i64| if mark == "W1" { 0 } else { n };
    job.list(&list_of(&ordered(), without), Some("Load 1"));
    job.arrives("Load 1");
    job.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: None,
    });
    let (best, _, matter) = told(&job, "W1");
    assert_eq!(best, ["55 W1 were left for Load 2"]);
    assert_eq!(
        matter.check.expect("a check").words,
        "ask the sender whether 55 W1 come with Load 2 (or wait for Load 2 and count them)"
    );
}

#[test]
fn where_all_agrees_nothing_is_said() {
    let mut job = Job::ordered();
    job.list(&list_of(&ordered(), |_, n| n), None);
    for line in &ordered().parts.lines {
        piece(&mut job, &line.part.mark.0, "A", line.quantity);
    }
    let said = explained(&job);
    assert!(said.matters.is_empty() && said.proven && said.other_order.is_none());
}
