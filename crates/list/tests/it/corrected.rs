//! A list sent anew against the one before: every row of either is aligned, gone or added. The lists are our own.

use list::{AlignedBy, Change, Changes, PackingList, Told, carry, changes, read};
use proptest::prelude::*;

const HEAD: &str = "Code,Qty,Unit,Description,Kit\n";

fn list(rows: &str) -> PackingList {
    read(format!("{HEAD}{rows}").as_bytes(), "list.csv").expect("a list")
}

fn told(before: &PackingList, after: &PackingList) -> Vec<(&'static str, String, String)> {
    let all = changes(before, after).all;
    let told = all.iter().map(|change| change.told(before, after));
    told.map(|Told { what, was, is }| (what, was, is)).collect()
}

fn said(what: &'static str, was: &str, is: &str) -> (&'static str, String, String) {
    (what, was.into(), is.into())
}

#[test]
fn each_kind_of_change_is_told() {
    let before = list(
        "GS-60,26,ea,Ground stake 60 in,Frame\nRC-8,20,ea,Aluminum track,Walls\nCB-1,8,ea,Carriage bolt 5/16 x 2,Frame\n\
         WW-4,55,ea,Spring wire 4 ft,Walls\nTK-9,3,ea,Tek screw bag,Frame\n",
    );
    let after = list(
        "GS-60,24,ea,Ground stake 60 in,Frame\nRC-8,20,ea,Aluminum locking track,Walls\nCB-1,8,ea,Carriage bolt 5/16 x 2,Walls\n\
         WW-4,55,bdl,Spring wire 4 ft,Walls\nNP-2,4,ea,Name plate,Frame\n",
    );
    let told = told(&before, &after);
    for expected in [
        said("quantity", "26", "24"),
        said(
            "words",
            "RC-8 Aluminum track",
            "RC-8 Aluminum locking track",
        ),
        said("sub-kit", "Frame", "Walls"),
        said("unit", "ea", "bdl"),
        said("added", "", "4"),
        said("gone", "3", ""),
    ] {
        assert!(told.contains(&expected), "{expected:?} in {told:#?}");
    }
}

#[test]
fn the_same_list_changed_nothing_whatever_the_order_of_its_rows() {
    let one = list("A-1,1,ea,Post,F\nA-2,2,ea,Rail,F\nA-2,2,ea,Rail,F\n");
    let other = list("A-2,2,ea,Rail,F\nA-1,1,ea,Post,F\nA-2,2,ea,Rail,F\n");
    assert!(changes(&one, &other).all.is_empty());
    assert!(changes(&one, &one).all.is_empty());
}

#[test]
fn rows_without_codes_are_aligned_by_near_words_and_only_the_like_are_sure() {
    let before = list(",26,ea,\"Ground post, galvanized, 5 ft\",F\n,4,ea,Door latch left,F\n");
    let after = list(",26,ea,\"Ground posts galvanised, 5 ft\",F\n,4,ea,Shade cloth roll,F\n");
    let found = changes(&before, &after);
    assert_eq!(found.pairs.len(), 1);
    assert_eq!(
        (found.pairs[0].by, found.pairs[0].sure),
        (AlignedBy::Words, true)
    );
    assert!(found.all.contains(&Change::Gone(1)) && found.all.contains(&Change::Added(1)));
    // Another length is another thing, however near its words.
    let longer = list(",26,ea,\"Ground post, galvanized, 8 ft\",F\n");
    let found = changes(&before, &longer);
    assert!(found.pairs.iter().all(|pair| !pair.sure), "{found:?}");
    // Nor is the bag of another number the same bag.
    let found = changes(
        &list(",1,ea,Hardware bag 3,F\n"),
        &list(",1,ea,Hardware bag 4,F\n"),
    );
    assert!(found.pairs.iter().all(|pair| !pair.sure), "{found:?}");
}

#[test]
fn a_row_that_moved_is_not_mistaken_for_its_neighbour() {
    let before = list("X-1,4,ea,Cross clamp 1-3/8,Frame\nX-1,2,ea,Cross clamp 1-3/8,Door\n");
    let after = list("X-1,2,ea,Cross clamp 1-3/8,Door\nX-1,4,ea,Cross clamp 1-3/8,End wall\n");
    let told = told(&before, &after);
    assert_eq!(told, [said("sub-kit", "Frame", "End wall")]);
}

#[test]
fn too_many_new_rows_are_aligned_by_single_codes_only_and_that_is_said() {
    let rows = |from: usize, words: &str| -> String {
        let row = |n: usize| format!("Q{n},1,ea,{words} {n},F\n");
        (from..from + list::limits::MAX_ALIGNED_ROWS + 1)
            .map(row)
            .collect()
    };
    let found = changes(&list(&rows(0, "Thing")), &list(&rows(1, "Other")));
    assert!(found.too_many);
    assert_eq!(found.pairs.len(), list::limits::MAX_ALIGNED_ROWS);
}

#[test]
fn a_word_on_a_row_is_carried_or_left_and_never_lost() {
    let before = list("A-1,1,ea,Ground post 5 ft,F\nA-2,2,ea,Rail,F\nA-3,3,ea,Brace,F\n");
    let after = list("A-1,1,ea,Ground post 8 ft,F\nA-2,7,ea,Rail,F\n");
    let words = before.rows.iter().map(|row| (row.key, None)).collect();
    let carried = carry(&before, &after, &changes(&before, &after), &words);
    assert_eq!(carried.over.len(), 1);
    let left: Vec<&str> = carried.left.iter().map(|left| &*left.of).collect();
    assert_eq!(left, ["A-1 Ground post 5 ft", "A-3 Brace"]);
}

fn any_list() -> impl Strategy<Value = String> {
    let row = (0..4_u8, 0..30_i64, 0..5_usize, 0..3_u8).prop_map(|(code, quantity, words, kit)| {
        let words = [
            "Ground post 5 ft",
            "Ground post 8 ft",
            "Rail",
            "Rail track",
            "Ground pst 5 ft",
        ][words];
        let code = if code == 0 {
            String::new()
        } else {
            format!("C-{code}")
        };
        format!("{code},{quantity},ea,{words},K{kit}\n")
    });
    prop::collection::vec(row, 1..14).prop_map(|rows| rows.concat())
}

fn of_both(found: &Changes, before: &PackingList, after: &PackingList) -> (usize, usize) {
    let count = |what: fn(&Change) -> bool| found.all.iter().filter(|c| what(c)).count();
    let gone = count(|change| matches!(change, Change::Gone(_)));
    let added = count(|change| matches!(change, Change::Added(_)));
    assert!(
        found
            .pairs
            .iter()
            .all(|p| p.before < before.rows.len() && p.after < after.rows.len())
    );
    (found.pairs.len() + gone, found.pairs.len() + added)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// All rows of both lists are accounted for, each once; and what is said of rows is carried or left, never both.
    #[test]
    fn every_row_is_aligned_gone_or_added(one in any_list(), other in any_list()) {
        let (before, after) = (list(&one), list(&other));
        let found = changes(&before, &after);
        prop_assert_eq!(of_both(&found, &before, &after), (before.rows.len(), after.rows.len()));
        let mut olds: Vec<usize> = found.pairs.iter().map(|pair| pair.before).collect();
        let mut news: Vec<usize> = found.pairs.iter().map(|pair| pair.after).collect();
        olds.sort_unstable();
        news.sort_unstable();
        olds.dedup();
        news.dedup();
        prop_assert_eq!((olds.len(), news.len()), (found.pairs.len(), found.pairs.len()));
        let words = before.rows.iter().map(|row| (row.key, None)).collect();
        let carried = carry(&before, &after, &found, &words);
        prop_assert_eq!(carried.over.len() + carried.left.len(), before.rows.len());
    }
}
