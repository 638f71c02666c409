//! What is said of one mark, worked out by hand. The half bow B1 of the demo's order: 13 bows of two halves, so 26.

use tally::Condition::{self, Bent, Damaged, Wet, Wrong};
use tally::{Event, Listed, ListedRow, State, What, difference};

use crate::job::{arrived, conditioned, ordered, words};
use crate::samples::{counted, event};

/// Pieces and shipment of each row.
type Rows = &'static [(i64, Option<&'static str>)];

const NO_LIST: Option<Rows> = None;
const ONE: Option<Rows> = Some(&[(26, None)]);
const TWO_LOADS: Option<Rows> = Some(&[(20, Some("Load 1")), (6, Some("Load 2"))]);
const SECOND_LOAD: Option<Rows> = Some(&[(26, Some("Load 2"))]);
const SPARES_LATER: Option<Rows> = Some(&[(26, Some("Load 1")), (4, Some("Load 2"))]);
const SHORT_AND_LATER: Option<Rows> = Some(&[(20, Some("Load 1")), (4, Some("Load 2"))]);

fn check(
    rows: Option<Rows>,
    here: &[&str],
    count: Option<i64>,
    bad: &[(i64, Condition)],
    expected: &str,
) {
    let listed = Listed {
        rows: rows.unwrap_or_default().iter().map(row).collect(),
        whole: rows.is_some(),
    };
    let whats = (here.iter().map(|name| arrived(name)))
        .chain(count.map(|n| counted("B1", n, &[])))
        .chain(bad.iter().map(|(n, how)| conditioned("B1", *n, *how)));
    let events: Vec<Event> = (1..)
        .zip(whats)
        .map(|(seq, what)| event(seq, what))
        .collect();
    let ordered = ordered();
    let state = State::fold(&events);
    let found = difference(&ordered.parts, &listed, &state);
    let mark = found.mark("B1").expect("a mark of the demo's order");
    let case = format!("{rows:?}, here {here:?}, counted {count:?}, {bad:?}");
    assert_eq!(mark.needed, 26);
    assert_eq!(words(mark), expected, "{case}");
}

fn row((quantity, shipment): &(i64, Option<&'static str>)) -> ListedRow {
    ListedRow {
        mark: "B1".into(),
        quantity: *quantity,
        unclear: None,
        description: "Bow half".into(),
        code: String::new(),
        sub_kit: String::new(),
        shipment: shipment.map(String::from),
        stands: "row 2".into(),
    }
}

#[test]
fn counts_against_the_order() {
    for list in [NO_LIST, ONE] {
        check(list, &[], None, &[], "not counted, 26 should be here");
        check(list, &[], Some(0), &[], "26 short");
        check(list, &[], Some(25), &[], "1 short");
        check(list, &[], Some(26), &[], "fits");
        check(list, &[], Some(29), &[], "3 over");
    }
}

#[test]
fn conditions() {
    check(ONE, &[], Some(26), &[(1, Bent)], "1 not fit for use");
    let bad = [(1, Bent), (1, Damaged), (2, Wrong)];
    check(ONE, &[], Some(24), &bad, "2 short; 4 not fit for use");
    check(ONE, &[], Some(26), &[(4, Wet)], "4 wet");
    check(
        ONE,
        &[],
        Some(27),
        &[(2, Wet), (1, Damaged)],
        "1 over; 1 not fit for use; 2 wet",
    );
    let overdrawn =
        "24 short; 3 not fit for use; more marked damaged or wet than counted: look again";
    check(ONE, &[], Some(2), &[(3, Bent)], overdrawn);
    // Seen on the way round, before anybody counts: no contradiction.
    let early = "1 not fit for use; 2 wet; not counted, 26 should be here";
    check(ONE, &[], None, &[(1, Bent), (2, Wet)], early);
}

#[test]
fn a_mark_in_two_shipments() {
    check(
        TWO_LOADS,
        &[],
        None,
        &[],
        "26 to come with Load 1 and Load 2",
    );
    let one = &["Load 1"][..];
    check(
        TWO_LOADS,
        one,
        None,
        &[],
        "not counted, 20 should be here; 6 to come with Load 2",
    );
    check(TWO_LOADS, one, Some(20), &[], "fits; 6 to come with Load 2");
    check(
        TWO_LOADS,
        one,
        Some(18),
        &[],
        "2 short; 6 to come with Load 2",
    );
    // What came early is not to come once more.
    check(
        TWO_LOADS,
        one,
        Some(23),
        &[],
        "fits; 3 came early; 3 to come with Load 2",
    );
    check(TWO_LOADS, one, Some(26), &[], "fits; 6 came early");
    check(TWO_LOADS, one, Some(27), &[], "1 over; 6 came early");
    let both = &["Load 1", "Load 2"][..];
    check(TWO_LOADS, both, None, &[], "not counted, 26 should be here");
    check(TWO_LOADS, both, Some(26), &[], "fits");
    check(TWO_LOADS, both, Some(20), &[], "6 short");
}

#[test]
fn a_mark_in_a_shipment_that_is_not_here() {
    check(SECOND_LOAD, &[], None, &[], "26 to come with Load 2");
    // Somebody looked and found none, as should be.
    check(SECOND_LOAD, &[], Some(0), &[], "26 to come with Load 2");
    check(SECOND_LOAD, &[], Some(26), &[], "fits; 26 came early");
    check(SECOND_LOAD, &["Load 2"], Some(0), &[], "26 short");
}

#[test]
fn spares_that_come_later() {
    let here = &["Load 1"][..];
    let many = "the list has 4 too many";
    let uncounted = format!("not counted, 26 should be here; {many}");
    check(SPARES_LATER, here, None, &[], &uncounted);
    check(SPARES_LATER, here, Some(26), &[], &format!("fits; {many}"));
    // They make up for what was missing: replacements look like this.
    let made_up = format!("{many}; 4 to come with Load 2");
    check(SPARES_LATER, here, Some(22), &[], &made_up);
    let not_quite = format!("1 short; {many}; 4 to come with Load 2");
    check(SPARES_LATER, here, Some(21), &[], &not_quite);
}

#[test]
fn lists_that_do_not_fit_the_order() {
    let few = Some(&[(24, None)][..]);
    let fewer = "the list has 2 too few";
    let uncounted = format!("not counted, 26 should be here; {fewer}");
    check(few, &[], None, &[], &uncounted);
    check(few, &[], Some(24), &[], &format!("2 short; {fewer}"));
    // The list is wrong, the yard is not.
    check(few, &[], Some(26), &[], &format!("fits; {fewer}"));
    let many = Some(&[(20, None), (10, None)][..]);
    check(many, &[], Some(30), &[], "4 over; the list has 4 too many");
    check(many, &[], Some(26), &[], "fits; the list has 4 too many");
    let none = Some(&[][..]);
    check(none, &[], Some(26), &[], "fits; the list has 26 too few");
    check(
        SHORT_AND_LATER,
        &["Load 1"],
        Some(21),
        &[],
        "1 short; the list has 2 too few; 4 to come with Load 2",
    );
}

#[test]
fn what_must_be_made_good() {
    // 26 needed; 20 here, 3 of them bent; 6 to come: 3 are to be made good, none is short.
    let mut job = crate::job::Job::ordered();
    job.list(
        "Code,Qty,Description,Load\nB1,20,Half bow,Load 1\nB1,6,Half bow,Load 2\n",
        None,
    );
    job.arrives("Load 1");
    assert_eq!(job.mark("B1").to_make_good(), None);
    job.counts("B1", 20);
    job.says(conditioned("B1", 3, Bent));
    let mark = job.mark("B1");
    assert_eq!((mark.short(), mark.to_make_good()), (0, Some(3)));
    // All 26 came early after all: still those 3.
    job.counts("B1", 6);
    let mark = job.mark("B1");
    assert_eq!((mark.coming, mark.to_make_good()), (0, Some(3)));
}

#[test]
fn a_mark_that_is_no_part_of_the_order() {
    let mut job = crate::job::Job::ordered();
    job.counts("Z9", 4);
    job.says(What::Noted {
        mark: Some("Z8".into()),
        words: "not ours?".into(),
    });
    let difference = job.standing().difference.expect("the job has an order");
    let strange: Vec<(&str, i64)> = (difference.strange.iter())
        .map(|(mark, on_hand)| (mark.as_str(), on_hand.counted))
        .collect();
    assert_eq!(strange, [("Z9", 4)]);
    assert!(difference.mark("Z9").is_none());
    assert_eq!(difference.counted(), 0);
}
