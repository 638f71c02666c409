//! The same house in several hands: each list written by hand, with the mark of each row by hand.

use std::collections::BTreeMap;

use frame::Mark;
use list::{DOUBT_OF_AN_AMBIGUOUS_WORD, Matched, PackingList, match_rows, read};

use crate::parts::gothic;

fn matched(text: &str) -> (PackingList, Vec<Matched>) {
    let list = read(text.as_bytes(), "list").unwrap();
    let matched = match_rows(&list, &gothic(), &BTreeMap::new());
    (list, matched)
}

/// Rows as (quantity, mark) against what a person expects; "-" is nothing.
fn check(text: &str, expected: &[(i64, &str)]) -> Vec<Matched> {
    let (list, matched) = matched(text);
    let mark = |m: &Matched| {
        m.mark
            .as_ref()
            .map_or("-".to_owned(), |mark| mark.0.clone())
    };
    let found: Vec<(i64, String)> = list
        .rows
        .iter()
        .zip(&matched)
        .map(|(row, m)| (row.quantity.unwrap(), mark(m)))
        .collect();
    let expected: Vec<(i64, String)> = expected
        .iter()
        .map(|(n, mark)| (*n, (*mark).to_owned()))
        .collect();
    let lines = || {
        let lines = list.rows.iter().zip(&matched).map(|(row, m)| {
            format!(
                "{} | {} → {} doubt {:.3} {:?}\n    {:?}",
                row.at,
                row.says(),
                mark(m),
                m.doubt,
                m.runners_up,
                m.reasons
            )
        });
        lines.collect::<Vec<_>>().join("\n")
    };
    assert_eq!(
        found,
        expected,
        "\n{}\nset aside {:?}",
        lines(),
        list.set_aside
    );
    matched
}

/// An office with a system: codes of its own, ordered and shipped, sub-kits, subtotals.
const OFFICE: &str = "\
Packing slip,40117,,,,,
Order:,Harbour School garden,,Size:,24 x 48 ft,,
Model:,24 ft Gothic,,Bow spacing:,4 ft,,
,,,,,,
Item No.,Description,U/M,Ordered,Shipped,B/O,Wt ea
FRAME,,,,,,
T-1001,\"GROUND POST 1-5/8\"\" 14GA X 5'\",EA,26,26,0,7.0
T-1002,\"HALF BOW 1-5/8\"\" 14GA SWAGED ONE END\",EA,26,26,0,25.6
T-1003,\"RIDGE TUBE 1-3/8\"\" 16GA X 10'6-1/2\"\" SWG\",EA,15,15,0,9.2
T-1004,PEAK PLATE,EA,26,26,0,0.4
Subtotal Frame,,,93,93,0,
SIDE WALL,,,,,,
T-2001,\"RAIL CHANNEL 10' (HIP)\",EA,10,10,0,7.5
T-2002,\"RAIL CHANNEL 10' (BASE)\",EA,10,10,0,7.5
T-2003,\"SPLICE PLATE, RAIL\",EA,16,16,0,0.5
T-2004,LOCK CHANNEL 8 FT,EA,38,38,0,2.1
T-2005,SPRING WIRE 6'8\",EA,46,40,6,0.3
Subtotal Side Wall,,,120,114,6,
END WALL,,,,,,
T-3001,\"STUD 1-3/8\"\" 16GA X 10'6\"\" PLAIN ENDS\",EA,8,8,0,9.1
T-3002,DOOR HEADER SINGLE,EA,2,2,0,3.2
T-3003,STUD CLAMP,EA,8,8,0,0.6
T-3004,STUD SHOE,EA,8,8,0,0.9
Page 1 of 2,,,,,,
Item No.,Description,U/M,Ordered,Shipped,B/O,Wt ea
T-3005,DOOR PANEL 42 x 80,EA,2,2,0,40
T-3006,\"HINGE, DOOR, CLAMP-ON\",PR,4,4,0,0.5
T-3007,DOOR LATCH,SET,2,2,0,1
HARDWARE,,,,,,
T-4001,\"HEX BOLT 5/16 X 2-1/2 ZP\",EA,78,78,0,0.08
T-4002,\"HEX BOLT 5/16 X 3 ZP\",EA,52,52,0,0.09
T-4003,LOCK NUT 5/16,EA,130,130,0,0.02
T-4004,FLAT WASHER 5/16,EA,130,130,0,0.01
T-4005,\"SDS #12 X 3/4\"\"\",EA,400,400,0,0.01
T-4006,\"SDS #12 X 1\"\"\",EA,120,120,0,0.01
FILM,,,,,,
T-5001,\"FILM, MAIN COVER, 6 MIL, 40' X 52'\",RL,1,1,0,80
T-5002,\"FILM, END WALL, 6 MIL\",RL,2,2,0,15
T-9001,INSTRUCTION BOOK,EA,1,1,0,0.2
Total pieces,,,1091,1085,6,
";

#[test]
fn an_office_with_a_system() {
    let expected = [
        (26, "P1"),
        (26, "B1"),
        (15, "R1"),
        (26, "K1"),
        (10, "C1"),
        (10, "C1"),
        (16, "C2"),
        (38, "L1"),
        (40, "W1"),
        (8, "S1"),
        (2, "H1"),
        (8, "X3"),
        (8, "X4"),
        (2, "D1"),
        (8, "D2"),
        (2, "D3"),
        (78, "N1"),
        (52, "N2"),
        (130, "N3"),
        (130, "N4"),
        (400, "N5"),
        (120, "N6"),
        (1, "F1"),
        (2, "F2"),
        (1, "-"),
    ];
    let matched = check(OFFICE, &expected);
    let sure = matched.iter().filter(|m| m.doubt < 0.05).count();
    assert!(sure >= 15, "only {sure} of {} rows are sure", matched.len());
}

#[test]
fn an_office_states_sub_kits_and_back_orders() {
    let (list, _) = matched(OFFICE);
    assert_eq!(list.rows[0].sub_kit, "FRAME");
    assert_eq!(list.rows[9].sub_kit, "END WALL");
    let wire = &list.rows[8];
    assert_eq!(
        (wire.ordered, wire.quantity, wire.backordered),
        (Some(46), Some(40), Some(6))
    );
    assert_eq!(
        list.header.order_name.as_deref(),
        Some("Harbour School garden")
    );
    assert_eq!(list.header.number.as_deref(), Some("40117"));
}

/// A packer at the bench: no heading, quantity last, misspellings, another order of words.
const BENCH: &str = "\
Post, grond, 1 5/8 x 5 ft\t26
Rafter halves 14 ga 1 5/8\t26
Bolts, hx hd 5/16-18 x 3\"\t52
Bolts, hx hd 5/16-18 x 2 1/2\"\t78
Perlin / ridge pole 1 3/8 x 126 1/2 swedged\t15
Uprights endwall 1 3/8 x 126 not swaged\t8
wigle wire 80\"\t46
poly lock 96\"\t38
Cros conectors\t26
Ridge clmps\t13
nyloc nuts 5/16\t130
washers flat 5/16\t130
self taping screws #12 x 3/4\t400
endwall plastic 6mil\t2
roof plastic 6mil\t1
gal. fence staples\t1
";

#[test]
fn a_packer_at_the_bench() {
    let expected = [
        (26, "P1"),
        (26, "B1"),
        (52, "N2"),
        (78, "N1"),
        (15, "R1"),
        (8, "S1"),
        (46, "W1"),
        (38, "L1"),
        (26, "X2"),
        (13, "X1"),
        (130, "N3"),
        (130, "N4"),
        (400, "N5"),
        (2, "F2"),
        (1, "F1"),
        (1, "-"),
    ];
    check(BENCH, &expected);
}

/// An e-mail: the count before the thing.
const MAIL: &str = "\
Hello, here is what went on the first ferry for the 24 x 48 gothic:

26 ground posts, 5 ft
26 half bows
15 ridge poles, one end swaged
8 end wall studs
20 hip/base rail channels 10 ft
4 bdl x 10 lock channel
(1) main cover 6 mil
2 end wall covers
78 5/16 x 2-1/2 hex bolts
52 5/16 x 3 hex bolts
2 doz peak plates
";

#[test]
fn an_e_mail() {
    let expected = [
        (26, "P1"),
        (26, "B1"),
        (15, "R1"),
        (8, "S1"),
        (20, "C1"),
        (40, "L1"),
        (1, "F1"),
        (2, "F2"),
        (78, "N1"),
        (52, "N2"),
        (24, "K1"),
    ];
    check(MAIL, &expected);
    let (list, _) = matched(MAIL);
    assert_eq!(list.header.width, Some(measure::Length::feet(24)));
    assert_eq!(list.header.length, Some(measure::Length::feet(48)));
}

/// A metric office with semicolons, marks as codes and details in columns of their own.
const METRIC: &str = "\
Pos;Menge;Mark;Article;Length (mm);OD;Ends;Finish
1;26;P1;Foundation tube;1524;1.660;plain;galvanised
2;26;B-1;Bow half;;1.660;swaged one end;galvanised
3;15;R1;Tube;3213;1.315;swaged one end;galvanised
4;8;S1;Tube;3200;1.315;plain ends;galvanised
5;20;C1;C-rail;3048;;;galvanised
6;38;L1;Film lock;2438;;;mill
7;12;Z9;Gutter bracket;;;;white
";

#[test]
fn a_metric_office() {
    let expected = [
        (26, "P1"),
        (26, "B1"),
        (15, "R1"),
        (8, "S1"),
        (20, "C1"),
        (38, "L1"),
        (12, "-"),
    ];
    check(METRIC, &expected);
}

#[test]
fn same_tube_nearly_same_length_the_ends_decide() {
    let text = "Qty,Description\n15,Tube 1-3/8 16 ga 10'6-1/2\" one end swaged\n8,Tube 1-3/8 16 ga 10'6\" plain ends\n";
    let matched = check(text, &[(15, "R1"), (8, "S1")]);
    for m in &matched {
        assert!(m.doubt < 0.02, "{m:?}");
    }
    // A list that rounds the length of both: the ends alone tell them apart, and the doubt is no
    // smaller (both may lie on the floor that no doubt goes under).
    let text = "Qty,Description\n15,Tube 1-3/8 16 ga 10'6\" one end swaged\n8,Tube 1-3/8 16 ga 10'6\" plain ends\n";
    let rounded = check(text, &[(15, "R1"), (8, "S1")]);
    assert!(rounded[0].doubt >= matched[0].doubt);
    assert!(
        rounded[0]
            .reasons
            .iter()
            .any(|reason| reason.words.contains("one end swaged agrees"))
    );
}

#[test]
fn same_tube_and_length_with_ends_unsaid_is_doubtful() {
    let (_, matched) = matched("Qty,Description\n15,Tube 1-3/8 16 ga 10'6\"\n");
    assert!(matched[0].doubt > 0.01, "{:?}", matched[0]);
    assert!(
        matched[0]
            .reasons
            .iter()
            .any(|reason| reason.words.contains("not said")),
        "{:?}",
        matched[0].reasons
    );
}

#[test]
fn same_bolt_two_lengths() {
    let text = "Qty,Description\n52,5/16 x 3 bolt\n78,5/16 x 2-1/2 bolt\n10,5/16 x 4 bolt\n";
    let matched = check(text, &[(52, "N2"), (78, "N1"), (10, "-")]);
    assert!(
        matched[0].doubt < 0.05 && matched[1].doubt < 0.05,
        "{matched:?}"
    );
    let words: Vec<&str> = matched[2]
        .reasons
        .iter()
        .map(|reason| reason.words.as_str())
        .collect();
    assert!(
        words
            .iter()
            .any(|words| words.contains("length 4 in in the list")),
        "{words:?}"
    );
}

#[test]
fn main_cover_and_end_wall_film() {
    let text = "Qty,Description\n2,6 mil poly for end wall\n1,6 mil poly main cover\n";
    check(text, &[(2, "F2"), (1, "F1")]);
    let by_size = "Qty,Description\n1,6 mil film 40 x 52\n2,6 mil film 14 x 28\n";
    check(by_size, &[(1, "F1"), (2, "F2")]);
}

#[test]
fn an_ambiguous_word_never_decides_alone() {
    for word in [
        "Rail 10 ft",
        "Cover 6 mil 40 ft x 52 ft",
        "Bow 1-5/8 14 ga one end swaged",
        "Plastic, 6 mil, 14 x 28",
    ] {
        let (_, matched) = matched(&format!(
            "Qty,Description\n5,\"{word}\"\n3,Ground post 5 ft\n"
        ));
        assert!(
            matched[0].doubt >= DOUBT_OF_AN_AMBIGUOUS_WORD,
            "{word}: {:?}",
            matched[0]
        );
        assert!(matched[1].doubt < DOUBT_OF_AN_AMBIGUOUS_WORD);
    }
}

#[test]
fn a_person_overrules_and_it_holds_over_a_new_reading() {
    let list = read(OFFICE.as_bytes(), "first").unwrap();
    let book = list.rows.len() - 1;
    let overruled = BTreeMap::from([
        (list.rows[book].key, Some(Mark("D3".into()))),
        (list.rows[0].key, None),
    ]);
    // Corrected: a quantity changed and a row came in above.
    let corrected = OFFICE
        .replace("EA,26,26,0,7.0", "EA,26,24,2,7.0")
        .replace("FRAME,,,,,,\n", "FRAME,,,,,,\nT-1000,TOOL BAG,EA,1,1,0,3\n");
    let list = read(corrected.as_bytes(), "second").unwrap();
    let matched = match_rows(&list, &gothic(), &overruled);
    let of = |text: &str| {
        let row = list
            .rows
            .iter()
            .position(|row| row.description.contains(text))
            .unwrap();
        (
            matched[row].mark.as_ref().map(|mark| mark.0.as_str()),
            matched[row].overruled,
        )
    };
    assert_eq!(of("GROUND POST"), (None, true));
    assert_eq!(of("INSTRUCTION"), (Some("D3"), true));
    assert_eq!(of("HALF BOW"), (Some("B1"), false));
}

#[test]
fn reasons_are_in_words() {
    let (_, matched) = matched("Qty,Description\n15,\"Ridge, 1-3/8 16 ga, 10 ft 6-1/2 in\"\n");
    let words: Vec<&str> = matched[0]
        .reasons
        .iter()
        .map(|reason| reason.words.as_str())
        .collect();
    assert!(words.contains(&"length 10 ft 6-1/2 in agrees"), "{words:?}");
    assert!(
        words.iter().any(|words| words.starts_with("ends not said")),
        "{words:?}"
    );
}

#[test]
fn a_contradiction_is_never_sure() {
    // By its code the ridge, by its words a ground post; and a post of another length.
    let (_, matched) =
        matched("Mark,Qty,Description\nR1,15,\"Ground post, 5 ft\"\nP1,26,\"Ground post, 6 ft\"\n");
    for m in &matched {
        assert!(m.doubt >= list::DOUBT_OF_A_CONTRADICTION, "{m:?}");
    }
    assert!(
        matched[1]
            .reasons
            .iter()
            .any(|reason| reason.words == "length 6 ft in the list, 5 ft of the part")
    );
}
