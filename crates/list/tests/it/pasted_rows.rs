//! Lists of bare lines as people paste and print them: which lines are rows, and how many each says. By hand; common
//! practice, no source.

use list::{PackingList, Why, read};

fn list(text: &str) -> PackingList {
    read(text.as_bytes(), "pasted").unwrap()
}

/// Row number, pieces, words, whether something stays open.
fn said(list: &PackingList) -> Vec<(u32, Option<i64>, &str, bool)> {
    let rows = list.rows.iter();
    rows.map(|row| {
        let words = row.description.as_str();
        (row.at.row, row.quantity, words, row.doubt.is_some())
    })
    .collect()
}

const COUNTS_AT_THE_END: [(&str, Option<i64>, &str, bool); 8] = [
    (
        "Ground stake 60\", 26",
        Some(26),
        "Ground stake 60\"",
        false,
    ),
    (
        "Bow half 16'-10\": 26 pcs",
        Some(26),
        "Bow half 16'-10\"",
        false,
    ),
    (
        "Hex bolt 5/16 x 3 .......... 52",
        Some(52),
        "Hex bolt 5/16 x 3",
        false,
    ),
    ("Peak plate 26", Some(26), "Peak plate", true),
    (
        "Tek screw #12 x 3/4 (box of 500) 2",
        Some(2),
        "Tek screw #12 x 3/4 (box of 500)",
        false,
    ),
    ("Lock nut x78", Some(78), "Lock nut", false),
    ("Ridge clamp 8 each", Some(8), "Ridge clamp", false),
    ("Door hinge, 26 ea", Some(26), "Door hinge", false),
];

#[test]
fn counts_that_no_sign_sets_apart() {
    let text = COUNTS_AT_THE_END.map(|(line, ..)| line).join("\n");
    let list = list(&text);
    let expected: Vec<_> = (1..)
        .zip(COUNTS_AT_THE_END)
        .map(|(row, (_, n, words, open))| (row, n, words, open))
        .collect();
    assert_eq!(said(&list), expected);
    assert_eq!(list.set_aside, []);
}

#[test]
fn one_tab_in_a_list_of_lines_loses_none() {
    let text = COUNTS_AT_THE_END.map(|(line, ..)| line).join("\n");
    let list = list(&text.replace("Peak plate 26", "Peak plate\t26"));
    assert_eq!(list.rows.len(), 8, "{:?}", list.set_aside);
    let pieces: Vec<_> = list.rows.iter().map(|row| row.quantity.unwrap()).collect();
    assert_eq!(pieces, [26, 26, 52, 26, 2, 78, 8, 26]);
}

/// Numbers that end a line and count nothing.
#[test]
fn what_ends_a_line_and_is_no_count() {
    let wrong: Vec<String> = [
        "hex bolt 5/16 x 3",
        "ridge tube 10 ft 6",
        "lock nuts, box of 500",
        "hinge pins No. 12",
        "door latch size 8",
        "ground posts order 40117",
        "wood screws 3/4",
        "spring wire 250 ft",
        "gable vent 2025",
    ]
    .iter()
    .filter_map(|line| {
        let list = list(&format!("7 door latches\n{line}\n8 hinges\n"));
        let row = list.rows.iter().find(|row| row.at.row == 2)?;
        Some(format!("{line}: {}", row.quantity?))
    })
    .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The first line has numbers and no clear count: it is a row for a person to fill in, not the paper's head.
#[test]
fn a_thing_above_the_first_count_is_a_row() {
    let list = list("Packing list, Harbour School\nHex bolt 5/16 x 3\n26 ground posts\n8 hinges\n");
    let rows = said(&list);
    assert_eq!(rows[0], (2, None, "Hex bolt 5/16 x 3", true));
    assert_eq!(rows.len(), 3);
    assert_eq!(list.set_aside[0].why, Why::Header);
}

#[test]
fn a_code_like_a_telephone_number_hides_no_row() {
    let text = "26 x 117-1250 hex bolt 5/16 x 3\n26 ground stakes 60\"\n12 ridge clamps\n4 pc 200-1001 peak plate\n\
                Driver #2 square bit - 4\nCall 555-0142 about 2 hinges\nNoor 555-0142\nDriver #4471\n";
    let list = list(text);
    let rows: Vec<_> = said(&list).iter().map(|row| (row.0, row.1)).collect();
    let expected = [(1, 26), (2, 26), (3, 12), (4, 4), (5, 4)].map(|(row, n)| (row, Some(n)));
    assert_eq!(rows, expected, "{:?}", list.set_aside);
    let aside: Vec<u32> = list.set_aside.iter().map(|line| line.at.row).collect();
    assert_eq!(aside, [6, 7, 8]);

    let table = "Description,Qty\nHex bolt 117-1250,26\n(250) 117-1250 hex bolt,4 bdl x 5\n117-1250 nut,2 bx\nStake,26\n";
    let list = read(table.as_bytes(), "list.csv").unwrap();
    let pieces: Vec<_> = list.rows.iter().map(|row| row.quantity).collect();
    assert_eq!(pieces, [Some(26), Some(20), Some(2), Some(26)]);
}

#[test]
fn sets_sides_and_dittos() {
    let list = list(
        "Rail channel 9'-9\" - 20 pcs\n\" 3'-0\" - 2\n1 set of door hardware\nL/R end brackets, 2 ea\n• Peak plate - 26\n",
    );
    let rows = said(&list);
    assert_eq!(rows[0], (1, Some(20), "Rail channel 9'-9\"", false));
    assert_eq!(rows[1], (2, Some(2), "Rail channel, 3'-0\"", false));
    // What is in the set is not said.
    assert_eq!(rows[2], (3, Some(1), "door hardware", true));
    assert_eq!(rows[3].1, Some(2));
    assert_eq!(rows[4], (5, Some(26), "Peak plate", false));
}

/// What stands above the rows and names the paper or says something heads no section; a few words do.
#[test]
fn a_title_is_told_by_its_form() {
    for (above, sub_kit) in [
        ("Harbour School: parts sent today, second half", ""),
        ("Delivery note", ""),
        ("Everything that we could fit on this trip", ""),
        ("House 24 x 48", ""),
        ("End wall", "End wall"),
        ("Door hardware", "Door hardware"),
    ] {
        let list = list(&format!("{above}\n26 ground posts\n8 hinges\n"));
        assert_eq!(list.rows.len(), 2, "{above}");
        assert_eq!(list.rows[0].sub_kit, sub_kit, "{above}");
    }
}

#[test]
fn a_list_without_counts_says_what_would_be_right() {
    let error = read(b"Dear all,\nthe truck is late.\n", "mail.txt").unwrap_err();
    assert!(error.to_string().contains("26 ground posts"), "{error}");
}
