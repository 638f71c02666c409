//! Tables found by what stands in them; and nothing dropped.

use list::{PackingList, Why, read, read_sheets};
use proptest::prelude::*;

fn rows(list: &PackingList) -> Vec<(Option<i64>, &str)> {
    list.rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect()
}

fn whys(list: &PackingList) -> Vec<(u32, Why)> {
    list.set_aside
        .iter()
        .map(|line| (line.at.row, line.why))
        .collect()
}

#[test]
fn columns_without_words_above() {
    let text = "1,P-10,Ground post five feet,26,EA\n2,B-10,Half bow,26,EA\n3,R-10,Ridge tube,15,EA\n4,L-10,Lock channel,38,EA\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground post five feet"),
            (Some(26), "Half bow"),
            (Some(15), "Ridge tube"),
            (Some(38), "Lock channel")
        ]
    );
    assert_eq!(list.rows[2].code, "R-10");
    assert_eq!(list.rows[2].unit, "ea");
}

#[test]
fn ordered_shipped_and_backordered_without_words_above() {
    let text = "Ground post,26,26,0\nHalf bow,26,20,6\nRidge tube,15,15,0\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground post"),
            (Some(20), "Half bow"),
            (Some(15), "Ridge tube")
        ]
    );
    assert_eq!(
        (list.rows[1].ordered, list.rows[1].backordered),
        (Some(26), Some(6))
    );
}

#[test]
fn a_word_above_that_the_content_contradicts() {
    // "Item" stands over line numbers here, and "Qty" over words.
    let text = "Item,Qty,Count\n1,Ground post,26\n2,Half bow,24\n3,Ridge tube,15\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground post"),
            (Some(24), "Half bow"),
            (Some(15), "Ridge tube")
        ]
    );
}

#[test]
fn each_line_that_is_no_row_has_its_reason() {
    let text = "\
Packing list,,
Qty,Description,Remarks
,FRAME,
26,Ground post,
,\"(drive caps are in the crate)\",
26,Half bow,
,Frame total,52
Page 1 of 2,,
Qty,Description,Remarks
,Ferry load 2,
8,Stud,
60,,
Received by: ____________,,
Please count before signing.,,
";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground post"),
            (Some(26), "Half bow"),
            (Some(8), "Stud")
        ]
    );
    let expected = [
        (1, Why::Header),
        (2, Why::Heading),
        (3, Why::Section),
        (5, Why::Continues),
        (7, Why::Total),
        (8, Why::PageStamp),
        (9, Why::HeadingAgain),
        (10, Why::Section),
        (12, Why::Total),
        (13, Why::Note),
        (14, Why::Note),
    ];
    assert_eq!(whys(&list), expected);
    assert_eq!(list.rows[2].shipment, "Ferry load 2");
    assert_eq!(list.rows[2].sub_kit, "FRAME");
    assert_eq!(list.rows[0].details, "(drive caps are in the crate)");
}

#[test]
fn a_row_whose_quantity_cannot_be_read_stays_a_row() {
    let text = "Code,Qty,Description\nT1,26,Ground post\nT2,as req'd,Lock channel\nT3,,Hinge\nT4,5,Latch\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground post"),
            (None, "Lock channel"),
            (None, "Hinge"),
            (Some(5), "Latch")
        ]
    );
    assert!(list.rows[1].doubt.as_ref().unwrap().contains("as req'd"));
    assert_eq!(list.warnings.len(), 2);
    assert_eq!(list.warnings[0].at.as_ref().unwrap().row, 3);
}

#[test]
fn no_table_is_said() {
    let error = read(b"Dear all,\nthe truck is late.\n", "mail.txt").unwrap_err();
    assert_eq!(
        error.to_string(),
        "mail.txt: no table was found: no column holds quantities next to descriptions"
    );
}

#[test]
fn row_keys_are_frozen() {
    // Stored in jobs. If this fails, what people overruled is lost: make a new kind of key beside the old one.
    // The number is FNV-1a, 64 bits, worked out apart from this crate (Python, from the published constants).
    let list = read(
        b"Code,Qty,Description\nT1,26,Ground  Post\nT1,5,ground post\n",
        "list",
    )
    .unwrap();
    let keys: Vec<String> = list.rows.iter().map(|row| row.key.to_string()).collect();
    assert_eq!(keys, ["bfd88f46f80450ec-1", "bfd88f46f80450ec-2"]);
    assert_eq!(keys[1].parse(), Ok(list.rows[1].key));
    assert!("nonsense".parse::<list::RowKey>().is_err());
}

fn line() -> impl Strategy<Value = String> {
    let cell = prop_oneof![
        Just(String::new()),
        Just("26".to_owned()),
        Just("4 x 5".to_owned()),
        Just("Ground post".to_owned()),
        Just("Total".to_owned()),
        Just("Qty".to_owned()),
        Just("Description".to_owned()),
        Just("FRAME".to_owned()),
        Just("Page 2 of 3".to_owned()),
        Just("Width:".to_owned()),
        Just("ea".to_owned()),
        "[ -~]{0,12}",
        "\\PC{0,6}",
    ];
    proptest::collection::vec(cell, 1..6).prop_map(|cells| cells.join(";"))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn nothing_is_dropped(lines in proptest::collection::vec(line(), 1..25)) {
        let text = lines.join("\n");
        prop_assert_eq!(lost_or_doubled(&text), None);
    }
}

/// A line that came neither as a row nor set aside, or twice. Where tables stand side by side, each has its piece of a
/// line.
pub fn lost_or_doubled(text: &str) -> Option<String> {
    let sheets = read_sheets(text.as_bytes(), "list").ok()?;
    let lines = sheets.sheets.iter().flat_map(|sheet| &sheet.lines);
    let beside = lines.clone().any(|line| {
        let words: Vec<String> = line.filled().map(|(_, text)| text.to_lowercase()).collect();
        let number = |n: usize| words.get(n).is_some_and(|word| word.parse::<i64>().is_ok());
        let again = words
            .iter()
            .enumerate()
            .any(|(n, word)| words[..n].contains(word));
        // Without words above: a count and a thing, twice.
        again || words.len() == 4 && number(0) && number(2)
    });
    let mut all: Vec<u32> = lines.map(|line| line.number).collect();
    let list = read(text.as_bytes(), "list").ok()?;
    let rows = list.rows.iter().map(|row| row.at.row);
    let mut found: Vec<u32> = rows
        .chain(list.set_aside.iter().map(|s| s.at.row))
        .collect();
    all.sort();
    found.sort();
    if beside {
        all.dedup();
        found.dedup();
    }
    (all != found).then(|| format!("{all:?}\n{found:?}\n{text}"))
}

#[test]
fn a_bare_line_without_a_clear_count_stays_a_row() {
    let text = "26 ground posts\nlock channel 8' - 4 bdl of 10, minus 2\n8 uprights\nthank you\n";
    let list = read(text.as_bytes(), "mail").unwrap();
    let second = "lock channel 8' - 4 bdl of 10, minus 2";
    assert_eq!(
        rows(&list),
        [
            (Some(26), "ground posts"),
            (None, second),
            (Some(8), "uprights")
        ]
    );
    assert_eq!(whys(&list), [(4, Why::Note)]);
}

#[test]
fn words_above_in_another_tongue() {
    let text = "Item;Omschrijving;Aantal\n1;Ground post;26\n2;Half bow;24\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [(Some(26), "Ground post"), (Some(24), "Half bow")]
    );
    assert_eq!(whys(&list), [(1, Why::Header)]);
}
