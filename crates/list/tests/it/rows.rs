//! Rows and lines that are none, in whole lists of several hands; what each line is, is by hand. Common practice, no
//! source.

use list::{PackingList, Row, Why, read};
use proptest::prelude::*;

use crate::tables::lost_or_doubled;

const PACKS: &str = r#"Packing list,,,,
Code,Qty,Pack,Unit,Description
GP-60,4,5,bdl,Ground post 5 ft
HB-24,26,13,ea,Half bow
RT,3,5,,Ridge tube
LN,2,50,bx,Lock nut 5/16
FW,130,,ea,Flat washer
"#;

const BUNDLES: &str = r#"Bdls,Pcs/Bdl,Description,Total
4,5,Ground post 5 ft,20
2,13,Half bow,26
3,5,Ridge tube,15
"#;

const OFFICE: &str = r#"Item No.,Description,Qty Ordered,Qty Shipped,B/O,Remarks
FRAME,,,,,
1001,"Ground post 1-5/8 x 5 ft",26,26,-,
1002,"Half bow",26,20 (6 B/O),,
1003,do. left,13,13,,
1004,"Ridge tube 1-3/8 10'6""",15,-,15,
"~~1005~~","~~Peak plate~~","~~26~~","~~26~~",,
1006,Ridge clamp,26,VOID,,
1007,Hinge pins,incl.,,,incl. in hardware box 2
1008,Hinge pins,12,12,,included in door kit
1009,Lock channel,38,~~38~~ 36,,
1010,"Spring wire 250 ft coil",500 ft,500 ft,,
,as above but 100 ft,2,2,,
1012,Door latch,TBD,TBD,,
1013,Screws,B/O,B/O,,
,Weight 4200 lb,,,,
"NOTE: 2 clamps per post",,,,,
Packed by,Tomasz,,,,
*** end ***,,,,,
"#;

const KITS: &str = r#"Qty,Description
FRAME
26,Half bow
"End wall kit (2), per kit:"
4,End wall stud
1,Door header
Door kit (2)
3,Door hinge
HARDWARE (bag 3)
78,Hex bolt 5/16 x 2-1/2
"#;

const MAIL: &str = r#"Hello, packed today. Order 40117
12 Harbour Road, Osprey Island
Call 555-0142 with questions

1. 26 ground posts, 5 ft
2. 13 pr half bows
3. 2 doz ridge clamps
4. (1) main cover 6 mil
5. lock channel 8' - 4 bdl x 10
6. 2 post clamps - 8
7. 12 ga wire - 40

gross weight 4,200 lb
Packed by: Ines 12/3
*** end of list ***
"#;

const SIDE_BY_SIDE: &str = r#"Packing list,,,,
Qty,Description,,Qty,Description
26,Ground post,,78,Hex bolt 5/16 x 2-1/2
26,Half bow,,52,Hex bolt 5/16 x 3
15,Ridge tube,,130,Lock nut 5/16
,,,130,Flat washer
"#;

const TWO_LINES: &str = r#"Qty,Qty,,,Length
Ordered,Shipped,Code,Description,(ft)
26,26,GP,Ground post,5
46,40,WW,Spring wire,6.67
8,8,ST,Stud,10.5
"#;

const DITTOS: &str = r#"Qty,Description,Length
8,"Tube 1-3/8 16 ga plain ends",10 ft
4,"""",8 ft
2,ditto,6 ft
1,as above but swaged one end,"10'6"""
6,,5 ft
3,same day delivery box,
"#;

const CODES: &str = r#"Packing list 40117
GP-60        26   ea
  Ground post 1-5/8 x 5 ft galvanized
HB-24        26   ea
  Half bow 1-5/8 14 ga swaged one end
RT-126       15   ea
  Ridge tube 1-3/8
"#;

const HAND: &str = r#"Harbour School garden - what went on the ferry
two (2) door panels
a dozen ridge clamps
26 now 24 ground posts
~~15 ridge tubes~~
half bows 13 + 13
10-12 spare clamps
approx 40 lock channels
peak plates ~26
lock nuts: 130
flat washers x 130
brace L/R - 4 ea
"#;

fn list(text: &str) -> PackingList {
    read(text.as_bytes(), "list").unwrap()
}

fn rows(list: &PackingList) -> Vec<(Option<i64>, &str, bool)> {
    let row = |row: &'_ Row| (row.quantity, row.doubt.is_some());
    let both = list.rows.iter().map(|r| (row(r), r.description.as_str()));
    both.map(|((n, doubt), text)| (n, text, doubt)).collect()
}

fn whys(list: &PackingList) -> Vec<(u32, Why)> {
    list.set_aside
        .iter()
        .map(|line| (line.at.row, line.why))
        .collect()
}

#[test]
fn packs_in_a_column_of_their_own() {
    let list = list(PACKS);
    let expected = [
        (Some(20), "Ground post 5 ft", false),
        // Pieces in packs stay pieces.
        (Some(26), "Half bow", false),
        // Neither is said: doubted.
        (Some(15), "Ridge tube", true),
        (Some(100), "Lock nut 5/16", false),
        (Some(130), "Flat washer", false),
    ];
    assert_eq!(rows(&list), expected);
    assert_eq!(list.rows[0].written, "4 × 5");
}

#[test]
fn bundles_times_what_is_in_each() {
    let expected = [
        (Some(20), "Ground post 5 ft", false),
        (Some(26), "Half bow", false),
        (Some(15), "Ridge tube", false),
    ];
    assert_eq!(rows(&list(BUNDLES)), expected);
}

#[test]
fn an_office_with_back_orders_voids_and_dittos() {
    let list = list(OFFICE);
    let expected = [
        (Some(26), "Ground post 1-5/8 x 5 ft", false),
        (Some(20), "Half bow", false),
        (Some(13), "Half bow, left", false),
        (Some(0), "Ridge tube 1-3/8 10'6\"", true),
        (Some(12), "Hinge pins", true),
        (Some(36), "Lock channel", true),
        (Some(2), "Spring wire 250 ft coil", true),
        (Some(2), "Spring wire coil, 100 ft", false),
        (None, "Door latch", true),
        (Some(0), "Screws", true),
    ];
    assert_eq!(rows(&list), expected);
    let later: Vec<Option<i64>> = list.rows[..4].iter().map(|row| row.backordered).collect();
    assert_eq!(later, [Some(0), Some(6), None, Some(15)]);
    let expected = [
        (1, Why::Heading),
        (2, Why::Section),
        (7, Why::Struck),
        (8, Why::Struck),
        (9, Why::IncludedIn),
        (16, Why::Note),
        (17, Why::Note),
        (18, Why::Note),
        (19, Why::Note),
    ];
    assert_eq!(whys(&list), expected);
    // What stood there is kept as it stood.
    assert_eq!(list.rows[2].cells[1], "do. left");
}

#[test]
fn sections_that_count_kits() {
    let list = list(KITS);
    let expected = [
        (Some(26), "Half bow", false),
        (Some(8), "End wall stud", true),
        (Some(2), "Door header", true),
        (Some(3), "Door hinge", true),
        (Some(78), "Hex bolt 5/16 x 2-1/2", false),
    ];
    assert_eq!(rows(&list), expected);
    let kits: Vec<&str> = list.rows.iter().map(|row| row.sub_kit.as_str()).collect();
    assert_eq!(
        kits,
        [
            "FRAME",
            "End wall kit",
            "End wall kit",
            "Door kit",
            "HARDWARE (bag 3)"
        ]
    );
}

#[test]
fn a_numbered_mail_with_notes_around_it() {
    let list = list(MAIL);
    let expected = [
        (Some(26), "ground posts, 5 ft", false),
        (Some(26), "half bows", false),
        (Some(24), "ridge clamps", false),
        (Some(1), "main cover 6 mil", false),
        (Some(40), "lock channel 8'", false),
        (Some(8), "2 post clamps", true),
        (Some(40), "12 ga wire", false),
    ];
    assert_eq!(rows(&list), expected);
    let expected = [
        (1, Why::Header),
        (2, Why::Header),
        (3, Why::Header),
        (13, Why::Note),
        (14, Why::Note),
        (15, Why::Note),
    ];
    assert_eq!(whys(&list), expected);
}

#[test]
fn tables_side_by_side() {
    let list = list(SIDE_BY_SIDE);
    let expected = [
        (Some(26), "Ground post", false),
        (Some(26), "Half bow", false),
        (Some(15), "Ridge tube", false),
        (Some(78), "Hex bolt 5/16 x 2-1/2", false),
        (Some(52), "Hex bolt 5/16 x 3", false),
        (Some(130), "Lock nut 5/16", false),
        (Some(130), "Flat washer", false),
    ];
    assert_eq!(rows(&list), expected);
    assert_eq!(
        whys(&list),
        [(1, Why::Header), (2, Why::Heading), (2, Why::Heading)]
    );
}

#[test]
fn a_heading_over_two_lines() {
    let list = list(TWO_LINES);
    let wire = &list.rows[1];
    assert_eq!(
        (wire.ordered, wire.quantity, wire.code.as_str()),
        (Some(46), Some(40), "WW")
    );
    assert_eq!(wire.details, "6.67 ft long");
    assert_eq!(whys(&list), [(1, Why::Heading), (2, Why::Heading)]);
}

#[test]
fn dittos_and_descriptions_left_out() {
    let list = list(DITTOS);
    let says: Vec<String> = list.rows.iter().map(Row::says).collect();
    let tube = "Tube 1-3/8 16 ga plain ends";
    assert_eq!(says[0], format!("{tube}, 10 ft"));
    assert_eq!(says[1], format!("{tube}, 8 ft"));
    assert_eq!(says[2], format!("{tube}, 6 ft"));
    assert!(
        says[3].starts_with("Tube 1-3/8 16 ga") && says[3].contains("swaged one end"),
        "{says:?}"
    );
    assert!(!says[3].contains("plain"), "{says:?}");
    assert!(says[4].contains("swaged one end, 5 ft"), "{says:?}");
    assert_eq!(says[5], "same day delivery box");
    assert_eq!(list.rows[1].cells[1], "\"");
}

#[test]
fn the_code_on_one_line_and_its_words_on_the_next() {
    let list = list(CODES);
    let expected = [
        (Some(26), "Ground post 1-5/8 x 5 ft galvanized", false),
        (Some(26), "Half bow 1-5/8 14 ga swaged one end", false),
        (Some(15), "Ridge tube 1-3/8", false),
    ];
    assert_eq!(rows(&list), expected);
    assert_eq!(list.rows[0].code, "GP-60");
}

#[test]
fn a_list_by_hand() {
    let expected = [
        (Some(2), "door panels", false),
        (Some(12), "ridge clamps", false),
        (Some(24), "ground posts", true),
        (Some(26), "half bows", true),
        (Some(10), "spare clamps", true),
        (Some(40), "lock channels", true),
        (Some(26), "peak plates", true),
        (Some(130), "lock nuts", false),
        (Some(130), "flat washers", false),
        (Some(4), "brace L/R", false),
    ];
    assert_eq!(rows(&list(HAND)), expected);
    assert_eq!(whys(&list(HAND)), [(1, Why::Header), (5, Why::Struck)]);
}

/// One slip of whoever made the list, or of what carried it.
fn slip() -> impl Strategy<Value = (usize, usize, String)> {
    let text = prop_oneof![
        Just(String::new()),
        Just("\"".to_owned()),
        Just("do.".to_owned()),
        Just("~~".to_owned()),
        Just("VOID".to_owned()),
        Just("incl. in box 2".to_owned()),
        Just("12 - ".to_owned()),
        Just("Total".to_owned()),
        Just("Qty,Description".to_owned()),
        Just("(2)".to_owned()),
        Just("\n".to_owned()),
        Just(",,".to_owned()),
        "[ -~]{1,6}",
        "\\PC{1,3}",
    ];
    (any::<usize>(), 0..4usize, text)
}

fn mangled(list: &str, slips: &[(usize, usize, String)]) -> String {
    let mut lines: Vec<String> = list.lines().map(str::to_owned).collect();
    for (at, what, text) in slips {
        let line = at % lines.len();
        match what {
            0 => lines.insert(line, text.clone()),
            1 => lines.swap(line, at / 7 % line.max(1)),
            2 => {
                let cut = (0..=lines[line].len())
                    .rev()
                    .find(|n| lines[line].is_char_boundary(at / 3 % (n + 1)));
                let cut = cut.map_or(0, |n| at / 3 % (n + 1));
                lines[line].insert_str(cut, text);
            }
            _ => lines[line].clone_from(text),
        }
    }
    lines.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn nothing_is_dropped_of_a_mangled_list(which in 0..10usize, slips in proptest::collection::vec(slip(), 0..12)) {
        let lists = [PACKS, BUNDLES, OFFICE, KITS, MAIL, SIDE_BY_SIDE, TWO_LINES, DITTOS, CODES, HAND];
        prop_assert_eq!(lost_or_doubled(&mangled(lists[which], &slips)), None);
    }
}
