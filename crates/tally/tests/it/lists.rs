//! Lists in use: added, added again, dropped, overruled, unreadable; and what they say of a mark. The numbers needed
//! stand in the demo's order: P1 26 ground posts, C1 20 rails, W1 55 wires, N5 366 short screws.

use tally::{Digest, ListedRow, What};

use crate::job::Job;

const HEAD: &str = "Code,Qty,Unit,Description\n";

fn listed(job: &Job, mark: &str) -> Option<i64> {
    job.mark(mark).listed
}

fn overruled(list: Digest, row: &tally::ListStanding, place: usize, mark: Option<&str>) -> What {
    let read = row.read.as_ref().as_ref().expect("the list can be read");
    What::Overruled {
        list,
        row: read.rows[place].key.to_string(),
        mark: mark.map(String::from),
        words: Some(list::words_of(&read.rows[place])),
    }
}

#[test]
fn no_list_says_nothing_of_the_list() {
    let job = Job::ordered();
    assert_eq!(listed(&job, "P1"), None);
    assert_eq!(job.says_of("P1"), "not counted, 26 should be here");
}

#[test]
fn a_mark_in_two_sub_kits_adds_up() {
    let mut job = Job::ordered();
    job.list(
        "Code,Qty,Description\nFRAME,,\nN5,12,Self-drilling screw #12 x 3/4 in\nSIDE WALLS,,\nN5,354,Self-drilling screw #12 x 3/4 in\n",
        None,
    );
    let mark = job.mark("N5");
    let kits: Vec<(&str, i64)> = (mark.rows.iter())
        .map(|row| (row.sub_kit.as_str(), row.quantity))
        .collect();
    assert_eq!(kits, [("FRAME", 12), ("SIDE WALLS", 354)]);
    assert_eq!(mark.listed, Some(366));
    assert_eq!(job.says_of("N5"), "not counted, 366 should be here");
}

#[test]
fn the_same_list_twice_counts_once_and_two_lists_add_up() {
    let mut job = Job::ordered();
    let first = format!("{HEAD}P1,20,ea,Ground post\n");
    job.list(&first, None);
    job.list(&first, None);
    assert_eq!(listed(&job, "P1"), Some(20));
    let second = job.list(&format!("{HEAD}P1,6,ea,Ground post\n"), Some("Load 2"));
    assert_eq!(listed(&job, "P1"), Some(26));
    assert_eq!(
        job.says_of("P1"),
        "not counted, 20 should be here; 6 to come with Load 2"
    );
    job.says(What::ListDropped { digest: second });
    assert_eq!(
        job.says_of("P1"),
        "not counted, 26 should be here; the list has 6 too few"
    );
    job.list(&format!("{HEAD}P1,6,ea,Ground post\n"), Some("Load 2"));
    assert_eq!(listed(&job, "P1"), Some(26));
}

#[test]
fn the_last_word_on_a_row_stands() {
    let mut job = Job::ordered();
    let csv = format!("{HEAD},26,ea,Ground post 1-5/8 in 5 ft\n,4,ea,Ground post spare\n");
    let list = job.list(&csv, None);
    let standing = job.standing();
    job.says(overruled(list, &standing.lists[0], 1, Some("C1")));
    assert_eq!(
        (listed(&job, "P1"), listed(&job, "C1")),
        (Some(26), Some(4))
    );
    job.says(overruled(list, &standing.lists[0], 1, None));
    assert_eq!(
        (listed(&job, "P1"), listed(&job, "C1")),
        (Some(26), Some(0))
    );
    job.says(overruled(list, &standing.lists[0], 1, Some("P1")));
    assert_eq!(listed(&job, "P1"), Some(30));
    // Taking that back lets the word before stand.
    let last = job.events.len() as u128;
    job.says(crate::samples::corrected(&[last]));
    assert_eq!(listed(&job, "P1"), Some(26));
}

#[test]
fn a_quantity_that_cannot_be_read_is_no_shortage_of_the_list() {
    let mut job = Job::ordered();
    job.list(
        &format!("{HEAD}P1,20,ea,Ground post\nP1,some,ea,Ground post\nC1,20,ea,Rail channel\n"),
        None,
    );
    let mark = job.mark("P1");
    assert_eq!((mark.listed, mark.rows.len()), (Some(20), 2));
    assert_eq!(
        job.says_of("P1"),
        "not counted, 26 should be here; the list does not say clearly how many: see row 3"
    );
    assert_eq!(job.says_of("C1"), "not counted, 20 should be here");
}

#[test]
fn bundles_of_unsaid_size_are_unclear_unless_the_number_is_just_right() {
    let mut job = Job::ordered();
    let csv = format!("{HEAD}P1,4,bdl,Ground post\nD3,2,set,Latch\nC1,25,bdl,Rail channel\n");
    job.list(&csv, None);
    assert_eq!(
        job.says_of("P1"),
        "not counted, 26 should be here; the list does not say clearly how many: see row 2"
    );
    // Two latch sets are needed, two sets are listed.
    assert_eq!(job.says_of("D3"), "not counted, 2 should be here");
    assert_eq!(
        job.says_of("C1"),
        "not counted, 20 should be here; the list does not say clearly how many: see row 4"
    );
}

#[test]
fn clear_rows_alone_may_be_too_many() {
    let mut job = Job::ordered();
    let csv = format!("{HEAD}P1,30,ea,Ground post\nP1,some,ea,Ground post\n");
    job.list(&csv, None);
    assert_eq!(
        job.says_of("P1"),
        "not counted, 26 should be here; the list has 4 too many"
    );
}

#[test]
fn an_unclear_row_of_a_later_load_may_bring_the_rest() {
    let mut job = Job::ordered();
    job.list(&format!("{HEAD}P1,10,ea,Ground post\n"), None);
    job.list(&format!("{HEAD}P1,2,bdl,Ground post\n"), Some("Load 2"));
    job.counts("P1", 10);
    assert_eq!(
        job.says_of("P1"),
        "fits; the list does not say clearly how many: see row 2; 16 to come with Load 2"
    );
    job.arrives("Load 2");
    assert_eq!(
        job.says_of("P1"),
        "16 short; the list does not say clearly how many: see row 2"
    );
}

#[test]
fn less_than_nothing_is_not_taken_off() {
    let mut job = Job::ordered();
    job.list(
        &format!("{HEAD}P1,26,ea,Ground post\nP1,-3,ea,Ground post\n"),
        None,
    );
    let mark = job.mark("P1");
    assert_eq!(
        (mark.listed, mark.coming, mark.expected()),
        (Some(26), 0, 26)
    );
}

#[test]
fn what_is_to_follow_is_not_short() {
    let mut job = Job::ordered();
    let head = "Code,Description,Shipped,Backordered\n";
    job.list(
        &format!("{head}P1,Ground post,20,6\nW1,Spring wire,,55\n"),
        None,
    );
    assert_eq!(
        job.says_of("P1"),
        "not counted, 20 should be here; 6 to come with the back order"
    );
    assert_eq!(job.says_of("W1"), "55 to come with the back order");
    let mut few = Job::ordered();
    few.list(&format!("{head}W1,Spring wire,,50\n"), None);
    // No number shipped where there is one to follow is none shipped, and not unclear.
    assert_eq!(
        few.says_of("W1"),
        "not counted, 5 should be here; the list has 5 too few; 50 to come with the back order"
    );
    job.counts("P1", 19);
    assert_eq!(job.says_of("P1"), "1 short; 6 to come with the back order");
    assert!(!job.standing().shipments["the back order"]);
    // The load that brings it has a list of its own, which has them once more.
    job.list(&format!("{head}P1,Ground post,6,0\n"), Some("Load 2"));
    assert_eq!(listed(&job, "P1"), Some(26));
    assert_eq!(job.says_of("P1"), "1 short; 6 to come with Load 2");
}

#[test]
fn a_list_that_cannot_be_read_makes_nothing_short() {
    let mut job = Job::ordered();
    let good = job.list(&format!("{HEAD}P1,20,ea,Ground post\n"), None);
    job.says(What::ListAdded {
        digest: Digest::of(b"not in this copy"),
        name: "second.csv".into(),
        shipment: Some("Load 2".into()),
    });
    // What the other list has stands, but what it lacks may be in the one that was not read.
    assert_eq!(listed(&job, "P1"), Some(20));
    assert_eq!(job.says_of("P1"), "not counted, 26 should be here");
    assert_eq!(listed(&job, "C1"), None);
    job.says(What::ListDropped { digest: good });
    assert_eq!(listed(&job, "P1"), None);
}

#[test]
fn a_list_too_long_to_match_makes_nothing_short() {
    let mut job = Job::ordered();
    let rows = list::limits::MAX_MATCHED_ROWS + 1;
    let csv: String = (0..rows).map(|n| format!("Q{n},1,ea,Thing\n")).collect();
    job.list(&format!("{HEAD}{csv}"), None);
    assert_eq!(job.says_of("P1"), "not counted, 26 should be here");
}

#[test]
fn a_row_keeps_the_senders_words_and_its_place() {
    let mut job = Job::ordered();
    job.list(
        "Code,Qty,Description,Load\nGS-60,26,\"Ground stake 1-5/8 x 14 ga x 60\"\" galv\",Load 1\n",
        None,
    );
    let expected = ListedRow {
        mark: "P1".into(),
        quantity: 26,
        unclear: None,
        description: "Ground stake 1-5/8 x 14 ga x 60\" galv".into(),
        code: "GS-60".into(),
        sub_kit: String::new(),
        shipment: Some("Load 1".into()),
        stands: "row 2".into(),
    };
    assert_eq!(job.mark("P1").rows, [expected]);
}

#[test]
fn a_kit_row_brings_each_of_its_marks() {
    // The demo's order packs 8 studs with the end walls and 26 ground posts with the frame.
    let mut job = Job::ordered();
    job.list(
        &format!("{HEAD}P1,26,ea,Ground post\n,2,set,End wall kit\n"),
        None,
    );
    assert_eq!(listed(&job, "P1"), Some(26));
    assert_eq!(listed(&job, "S1"), Some(8));
    let row = job.mark("S1").rows[0].clone();
    assert_eq!(
        (row.quantity, row.description.as_str()),
        (8, "End wall kit")
    );
    assert!(
        row.unclear
            .is_some_and(|why| why.contains("open it and count"))
    );
    // With rows of their own for its things the kit is a heading, and nothing counts twice.
    let mut job = Job::ordered();
    let rows = "S1,8,ea,End wall stud\nH1,1,ea,Door header\nX3,8,ea,Stud clamp\nX4,8,ea,Stud shoe\nD1,3,ea,Door panel\nD2,9,ea,Door hinge\nD3,2,ea,Door latch\n";
    job.list(&format!("{HEAD},2,set,End wall kit\n{rows}"), None);
    assert_eq!(listed(&job, "S1"), Some(8));
}

/// Rows that are too many to be held against the order are not searched for what else they may be.
#[test]
fn a_list_too_long_to_be_matched_does_not_stop_the_explanation() {
    let mut job = Job::ordered();
    let rows = "1,ea,Ridge tube 10 ft\n".repeat(list::limits::MAX_MATCHED_ROWS + 1);
    job.list(&format!("Qty,Unit,Description\n{rows}"), None);
    let standing = job.standing();
    assert!(
        standing.lists[0]
            .matched
            .iter()
            .all(|row| row.mark.is_none())
    );
    assert!(standing.explanation().is_some());
}
