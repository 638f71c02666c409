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
        "mail.txt: no table was found: no column holds quantities next to descriptions, and no line says a count with its thing, such as \"26 ground posts\" or \"Ground post - 26\""
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
    let text = "Varenr;Beskrivelse;Antall\n1;Ground post;26\n2;Half bow;24\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(
        rows(&list),
        [(Some(26), "Ground post"), (Some(24), "Half bow")]
    );
    assert_eq!(whys(&list), [(1, Why::Header)]);
}

/// A row of which nothing came now: what follows is kept.
#[test]
fn nothing_shipped_and_all_to_follow() {
    let text = "Item,Description,Ordered,Shipped,Backordered\n1,Bolt,26,26,\n2,Stake,26,20,6\n3,Nut,26,,26\n4,Washer,26,0,26\n5,Hinge,26,,20\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    let said: Vec<_> = list
        .rows
        .iter()
        .map(|row| (row.description.as_str(), row.quantity, row.backordered))
        .collect();
    assert_eq!(
        said,
        [
            ("Bolt", Some(26), None),
            ("Stake", Some(20), Some(6)),
            ("Nut", Some(0), Some(26)),
            ("Washer", Some(0), Some(26)),
            ("Hinge", None, Some(20)),
        ]
    );
    let doubts: Vec<bool> = list.rows.iter().map(|row| row.doubt.is_some()).collect();
    assert_eq!(doubts, [false, false, true, false, true]);
}

/// Headings and sums in German, French, Spanish and Dutch.
#[test]
fn headings_and_sums_in_other_languages() {
    for (heading, sums) in [
        (
            "Pos;Bezeichnung;Menge",
            ["Summe", "Gesamt", "Zwischensumme"],
        ),
        ("Pos;Désignation;Quantité", ["Somme", "Total", "Sous-total"]),
        ("Pos;Descripción;Cantidad", ["Suma", "Total", "Subtotal"]),
        ("Pos;Omschrijving;Aantal", ["Totaal", "Subtotaal", "Totaal"]),
    ] {
        let [a, b, c] = sums;
        let text = format!("{heading}\n1;Pfosten;26\n2;Bogen;13\n;{a};39\n;{b};39\n{c};;39\n");
        let list = read(text.as_bytes(), "list.csv").unwrap();
        assert_eq!(
            rows(&list),
            [(Some(26), "Pfosten"), (Some(13), "Bogen")],
            "{heading}"
        );
        let totals = whys(&list);
        assert_eq!(
            totals[1..],
            [(4, Why::Total), (5, Why::Total), (6, Why::Total)],
            "{heading}"
        );
    }
    // An empty description takes none from above where the line is a sum.
    let text = "Pos;Artikel;Bezeichnung;Menge;Einheit\n1;GP-60;Pfosten;26;Stk\nSumme;;;26;\n;;;26;Gesamt\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    assert_eq!(rows(&list), [(Some(26), "Pfosten")]);
    assert_eq!(list.rows[0].code, "GP-60");
}

/// Dots lead the eye from the words to the count.
#[test]
fn dots_between_words_and_count_are_no_words() {
    let text = "Ground stake ..............,26\nHex bolt 5/16 x 3 .........,52\nLock nut 5/16 ________,78\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground stake"),
            (Some(52), "Hex bolt 5/16 x 3"),
            (Some(78), "Lock nut 5/16")
        ]
    );
}

/// The number of a pack in a cell of its own, below no word.
#[test]
fn a_count_that_goes_on_in_the_next_cell() {
    let text = "Item,Description,Qty,,U/M\n1,Bolt,4 bdl x,5,ea\n2,Stake,26,,ea\n3,Nut,26,,ea\n4,Peg,26,,ea\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    assert_eq!(list.rows[0].quantity, Some(20));
    assert_eq!(list.rows[0].written, "4 bdl x 5");
    let text = "Qty,Description\n1 set of,Door hardware\n3 L/R,Bracket\n1 ea L / 1 ea R,Bracket\n26,Post\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    let said: Vec<_> = list
        .rows
        .iter()
        .map(|row| (row.quantity, row.doubt.is_some()))
        .collect();
    assert_eq!(
        said,
        [
            (Some(1), true),
            (Some(6), true),
            (Some(2), false),
            (Some(26), false)
        ]
    );
}

/// A line through the words and not through the count: whether the row is meant to go is asked.
#[test]
fn words_struck_without_their_count() {
    let text = "| Qty | Item |\n|----:|------|\n| 26 | Ground stake |\n| 4 | ~~Hinge~~ |\n| 2 | ~~Hinge~~ Latch |\n| ~~2~~ | ~~Vent~~ |\n";
    let list = read(text.as_bytes(), "list.md").unwrap();
    assert_eq!(
        rows(&list),
        [
            (Some(26), "Ground stake"),
            (Some(4), "Hinge"),
            (Some(2), "Latch")
        ]
    );
    let doubts: Vec<_> = list.rows.iter().map(|row| row.doubt.as_deref()).collect();
    let alone = Some("a line goes through \"Hinge\" alone");
    assert_eq!(doubts, [None, alone, alone]);
    assert!(whys(&list).iter().any(|(_, why)| *why == Why::Struck));
}

#[test]
fn numbers_below_a_word_that_gives_them_no_meaning_leave_no_commas() {
    let text = "Qty,Description,Notes,Remarks,Finish\n26,Ground post,1,2,galvanized\n13,Half bow,,3,black\n4,Hinge,see box,,\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    assert_eq!(list.rows[0].details, "galvanized");
    assert_eq!(list.rows[1].details, "black");
}
