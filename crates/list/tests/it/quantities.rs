//! Quantities as lists write them; what each means is by hand, common practice, no source.

use list::{read, read_quantity};

fn pieces(cell: &str) -> Option<(i64, String, bool)> {
    read_quantity(cell, "").map(|q| (q.pieces, q.unit, q.doubt.is_some()))
}

#[test]
fn cells() {
    let table = [
        ("12", 12, "", false),
        ("12.0", 12, "", false),
        ("12 ea", 12, "ea", false),
        ("12EA.", 12, "ea", false),
        ("1,200 pcs", 1_200, "pcs", false),
        ("0", 0, "", false),
        ("2 pr", 4, "pr", false),
        ("3 pairs", 6, "pairs", false),
        ("1 doz", 12, "doz", false),
        ("2 dozen", 24, "dozen", false),
        ("4 bdl x 5", 20, "bdl", false),
        ("4 bundles of 5", 20, "bundles", false),
        ("4 x 5", 20, "", false),
        ("4x5", 20, "", false),
        ("4 × 5 ea", 20, "", false),
        ("2 boxes @ 250", 500, "boxes", false),
        // what stays unclear is said
        ("4 bdl", 4, "bdl", true),
        ("3 boxes", 3, "boxes", true),
        ("250 ft", 250, "ft", true),
        ("-3", -3, "", true),
    ];
    for (cell, n, unit, doubt) in table {
        assert_eq!(pieces(cell), Some((n, unit.to_owned(), doubt)), "{cell}");
    }
}

#[test]
fn what_is_no_quantity() {
    let cells = [
        "",
        "ea",
        "as req'd",
        "12.5",
        "1/2",
        "12 posts",
        "2026-03-04",
        "5/16",
        "99999999999999",
        "4 x 999999999",
        "n/a",
        "TBD",
        "lot",
        "box",
        "see note",
        "1-3/8",
        "1-3/8 x 10'6",
        "5/16 x 2-1/2",
        "12 ga",
        "2 post clamp",
        "#12",
        "10'",
        "10 ft 6 in x 3",
        "555-0199",
        "555-0142 x 3",
        "12-14-2026",
        "12/26",
        "Load 2",
        "one end swaged",
        "two-way",
        "c",
        "m",
        "(see kit B)",
        "page 2 of 3",
    ];
    let wrong: Vec<String> = cells
        .iter()
        .filter_map(|cell| Some(format!("{cell}: {:?}", pieces(cell)?)))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Writings that leave nothing open: cell, pieces.
#[test]
fn other_writings_that_are_clear() {
    let table = [
        // packs
        ("set of 4", 4),
        ("2 sets of 3", 6),
        ("1 pk of 10", 10),
        ("3 bags (25/bag)", 75),
        ("3 bags (25 ea)", 75),
        ("3 bags (25 per bag)", 75),
        ("3 bags, 25 each", 75),
        ("3 bags 25/bag", 75),
        ("3 boxes (75 pcs)", 75),
        ("3 boxes = 75 pcs", 75),
        ("75 pcs in 3 boxes", 75),
        ("75 pcs (3 boxes)", 75),
        ("75 ea / 3 bx", 75),
        ("5/pk, 4 pk", 20),
        ("4 pk, 5/pk", 20),
        ("4 pk x 5/pk", 20),
        ("5 per bundle x 4", 20),
        ("25 ea per bag, 3 bags", 75),
        ("2 boxes of 4 bags of 25", 200),
        ("4 x 5 ea", 20),
        ("4 bdl × 5", 20),
        ("4 bundles of 5", 20),
        ("2 boxes @ 50", 100),
        ("10 bdls of 10", 100),
        // pairs, dozens, hundreds
        ("2 pr", 4),
        ("2 prs", 4),
        ("13 pr.", 26),
        ("3 doz", 36),
        ("3-1/2 doz", 42),
        ("3 1/2 doz", 42),
        ("3½ doz", 42),
        ("2.5 dz", 30),
        ("1/2 doz", 6),
        ("half dozen", 6),
        ("half a dozen", 6),
        ("a dozen", 12),
        ("two dozen", 24),
        ("a pair", 2),
        ("1 gross", 144),
        ("1/2 gross", 72),
        ("2 C", 200),
        ("2.5 C", 250),
        ("2 hundred", 200),
        // sums and the same said twice
        ("13+13", 26),
        ("13 + 13", 26),
        ("13 + 13 ea", 26),
        ("13 ea + 13 ea", 26),
        ("13 & 13", 26),
        ("13 and 13", 26),
        ("10 + 10 + 6", 26),
        ("1 doz + 2", 14),
        ("24 + 2 spare", 26),
        ("24 + 2 spares", 26),
        ("26 (13 + 13)", 26),
        ("26 (2 x 13)", 26),
        ("26 pcs / 13 pr", 26),
        ("13 pr (26 pcs)", 26),
        ("13 pr = 26", 26),
        ("qty 12 of 12", 12),
        ("12 of 12", 12),
        // left and right
        ("2 L + 2 R", 4),
        ("2L/2R", 4),
        ("2 LH, 2 RH", 4),
        ("2 left 2 right", 4),
        ("1 left 1 right", 2),
        ("1 left and 1 right", 2),
        ("3 R + 2 L", 5),
        // ticked off
        ("☑ 12", 12),
        ("12 ✓", 12),
        ("12 √", 12),
        ("[x] 12", 12),
        ("[ ] 12", 12),
        ("☐ 12 ea", 12),
        ("12 only", 12),
        ("12 off", 12),
        ("12-off", 12),
        ("Qty: 12", 12),
        ("x 12", 12),
        ("x12", 12),
        ("12x", 12),
        // none
        ("nil", 0),
        ("None", 0),
        ("0", 0),
        ("0 ea", 0),
        // in words
        ("two", 2),
        ("Twelve", 12),
        ("twelve ea", 12),
        ("twenty-six", 26),
        ("one (1)", 1),
        ("two (2) ea", 2),
        // other digits, thousands
        ("１２", 12),
        ("１２ ｅａ", 12),
        ("٢٦", 26),
        ("1,200", 1_200),
        ("1 200", 1_200),
        ("1 200", 1_200),
        ("1'200", 1_200),
        ("12.00", 12),
        ("1,000,000", 1_000_000),
        // coils, rolls and cut lengths: each is one piece
        ("2 coils", 2),
        ("1 roll", 1),
        ("2 coils of 250 ft", 2),
        ("2 x 250 ft", 2),
        ("2 rolls @ 100'", 2),
        ("2 coils, 250 ft each", 2),
        ("500 ft in 2 coils", 2),
        ("500 ft (2 coils)", 2),
        ("500' / 2 rolls", 2),
        ("2 coils (500 ft total)", 2),
        ("12 lengths of 10 ft", 12),
        ("1 roll, 40 ft", 1),
        // now and later
        ("20 (6 B/O)", 20),
        ("20, 6 to follow", 20),
        ("20 shipped, 6 back ordered", 20),
    ];
    let wrong: Vec<String> = table
        .iter()
        .map(|(cell, n)| (cell, read_quantity(cell, ""), *n))
        .filter(|(_, read, n)| !matches!(read, Some(q) if q.pieces == *n && q.doubt.is_none()))
        .map(|(cell, read, n)| format!("{cell}: {read:?}, not {n}"))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Writings that leave something open: cell, the pieces taken, and a word that the doubt must have.
#[test]
fn other_writings_that_are_doubtful() {
    let table = [
        ("10-12", 10, "10 to 12"),
        ("10 - 12 ea", 10, "10 to 12"),
        ("10–12", 10, "10 to 12"),
        ("10 to 12", 10, "10 to 12"),
        ("10 or 12", 10, "10 to 12"),
        ("between 10 and 12", 10, "10 to 12"),
        ("approx 40", 40, "approx 40"),
        ("approx. 40 ea", 40, "no sure number"),
        ("about 40", 40, "no sure number"),
        ("ca. 40", 40, "no sure number"),
        ("~40", 40, "no sure number"),
        ("40+", 40, "no sure number"),
        ("40 or so", 40, "no sure number"),
        ("40 +/-", 40, "no sure number"),
        ("min 40", 40, "no sure number"),
        ("up to 40", 40, "no sure number"),
        ("40?", 40, "no sure number"),
        (">40", 40, "no sure number"),
        ("12 of 26", 12, "of 26"),
        ("12 out of 26", 12, "of 26"),
        ("4 of 5", 4, "of 5"),
        ("26 -> 24", 24, "26 was corrected to 24"),
        ("26 → 24", 24, "26 was corrected to 24"),
        ("26=>24", 24, "26 was corrected to 24"),
        ("~~26~~ 24", 24, "26 was corrected to 24"),
        ("2\u{336}6\u{336} 24", 24, "26 was corrected to 24"),
        ("26 now 24", 24, "26 was corrected to 24"),
        ("26 changed to 24 ea", 24, "corrected"),
        ("24 (was 26)", 24, "26 was corrected to 24"),
        ("12 ✗", 12, "cross"),
        ("26 (13 + 12)", 26, "26 and 25"),
        ("26 (see note 3)", 26, "see note 3"),
        ("26 (13 each side)", 26, "13 each side"),
        ("2 ea L/R", 4, "each hand"),
        ("4 bdl (20)", 20, "all in 4"),
        ("4 bdl (5)", 20, "in each"),
        ("13, 13", 26, "sum"),
        ("3 bx/100", 300, "in each bx"),
        ("3 boxes / 100", 300, "in each boxes"),
        ("5 bags/25", 125, "in each bags"),
        ("6 pk/100", 600, "in each pk"),
        ("1 box/250", 250, "in each box"),
        ("3 boxes, 75", 75, "all in 3"),
        ("3 boxes, 25", 75, "in each"),
        ("24 x 36", 864, "may be a size"),
        ("-", 0, "dash"),
        ("—", 0, "dash"),
        ("–", 0, "dash"),
        ("B/O", 0, "none now"),
        ("26 to follow", 0, "none now"),
        ("(3)", 3, "brackets"),
        ("3-", -3, "less than nothing"),
        ("3 returned", -3, "less than nothing"),
        ("-3 RMA", -3, "less than nothing"),
        ("pair", 2, "no number"),
        ("2 coils, 250 ft", 2, "length of each"),
        ("3 kits", 3, "one kits holds"),
        ("1 lot", 1, "holds"),
        ("500 ft", 500, "no count"),
        ("12 lbs", 12, "no count"),
    ];
    let fits = |read: &Option<list::Quantity>, n: i64, word: &str| {
        let says = |doubt: &String| doubt.contains(word);
        matches!(read, Some(q) if q.pieces == n && q.doubt.as_ref().is_some_and(says))
    };
    let wrong: Vec<String> = table
        .iter()
        .map(|(cell, n, word)| (cell, read_quantity(cell, ""), *n, *word))
        .filter(|(_, read, n, word)| !fits(read, *n, word))
        .map(|(cell, read, n, word)| format!("{cell}: {read:?}, not {n} with {word:?}"))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_coil_says_how_long_it_is() {
    for (cell, of) in [
        ("2 coils of 250 ft", "250 ft"),
        ("500 ft in 2 coils", "250 ft"),
        ("2 coils (500 ft total)", "250 ft"),
        ("12 lengths of 10'6\"", "10'6\""),
        ("12", ""),
    ] {
        assert_eq!(read_quantity(cell, "").unwrap().of, of, "{cell}");
    }
}

#[test]
fn the_unit_column_counts_too() {
    assert_eq!(read_quantity("2", "PR").map(|q| q.pieces), Some(4));
    assert_eq!(read_quantity("2", "Doz.").map(|q| q.pieces), Some(24));
    assert_eq!(read_quantity("2.5", "doz").map(|q| q.pieces), Some(30));
    assert_eq!(read_quantity("2", "C").map(|q| q.pieces), Some(200));
    assert_eq!(read_quantity("two", "PR").map(|q| q.pieces), Some(4));
    // Priced by the hundred or counted by it: said.
    let hundreds = read_quantity("2", "per 100").unwrap();
    assert_eq!((hundreds.pieces, hundreds.doubt.is_some()), (200, true));
    let pieces = read_quantity("400", "per 100").unwrap();
    assert_eq!((pieces.pieces, pieces.doubt.is_some()), (400, true));
}

/// A unit that holds so many: cell, unit, pieces, whether something stays open.
#[test]
fn a_unit_says_what_it_holds() {
    for (cell, unit, pieces, open) in [
        ("3", "bx/100", 300, true),
        ("2", "BX of 50", 100, false),
        ("4", "bdl/5", 20, true),
        ("3", "box (100)", 300, true),
        ("4", "box (100 pcs)", 400, false),
        ("2", "set of 4", 8, false),
        ("2", "25/bag", 50, false),
        ("2", "rl 250ft", 2, false),
        ("2", "bx", 2, true),
        ("2", "wag/5", 2, true),
    ] {
        let read = read_quantity(cell, unit).unwrap();
        assert_eq!(
            (read.pieces, read.doubt.is_some()),
            (pieces, open),
            "{cell} {unit}: {read:?}"
        );
    }
    let text = "Qty,Unit,Pack,Description\n3,bx/100,100,Screws\n4 bdl x 5,,5,Tubes\n2,bdl,5,Rails\n5 -> 4,bdl,5,Posts\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    let pieces: Vec<_> = list.rows.iter().map(|row| row.quantity).collect();
    assert_eq!(
        pieces,
        [Some(300), Some(20), Some(10), Some(20)],
        "multiplied once"
    );
}

#[test]
fn a_count_in_one_cell_with_its_thing() {
    let table = [
        ("26 ground posts", 26, "ground posts"),
        ("(26) ground posts", 26, "ground posts"),
        ("26 ea ground posts", 26, "ground posts"),
        ("26x ground posts", 26, "ground posts"),
        ("- 26 ground posts", 26, "ground posts"),
        ("Ground posts - 26", 26, "Ground posts"),
        ("Ground posts x 26", 26, "Ground posts"),
        ("Ground posts (26)", 26, "Ground posts"),
        ("Ground posts: 26 ea", 26, "Ground posts"),
        ("Ground posts, qty 26", 26, "Ground posts"),
        ("26 1-5/8 ground posts", 26, "1-5/8 ground posts"),
        ("78 5/16 x 2-1/2 bolts", 78, "5/16 x 2-1/2 bolts"),
        ("4 bdl x 5 ground posts", 20, "ground posts"),
        (
            "1-5/8 ground posts 5 ft - 26",
            26,
            "1-5/8 ground posts 5 ft",
        ),
        ("6 mil main cover (1)", 1, "6 mil main cover"),
        ("two (2) door panels", 2, "door panels"),
        ("a dozen ridge clamps", 12, "ridge clamps"),
        ("26 now 24 ground posts", 24, "ground posts"),
        ("26 -> 24 ground posts", 24, "ground posts"),
        ("10-12 spare clamps", 10, "spare clamps"),
        ("approx 40 lock channels", 40, "lock channels"),
        ("~40 lock channels", 40, "lock channels"),
        ("13 + 13 half bows", 26, "half bows"),
        ("26 (13 + 13) half bows", 26, "half bows"),
        ("12 of 26 half bows", 12, "half bows"),
        ("set of 4 hinges", 4, "hinges"),
        ("pair of hinges", 2, "hinges"),
        ("peak plates ~26", 26, "peak plates"),
        ("Ground posts - 10-12", 10, "Ground posts"),
        ("lock channel 8' - 4 bdl x 10", 40, "lock channel 8'"),
        ("[ ] 26 ground posts", 26, "ground posts"),
        ("☐ 26 ground posts", 26, "ground posts"),
        ("2 post clamps - 8", 8, "2 post clamps"),
        ("12 ga wire - 40", 40, "12 ga wire"),
        (
            "12 ga wire 1-3/8 clamps (13)",
            13,
            "12 ga wire 1-3/8 clamps",
        ),
    ];
    for (line, n, thing) in table {
        let text = format!("7 door latches\n{line}\n8 hinges\n");
        let list = read(text.as_bytes(), "pasted").unwrap();
        let row = &list.rows[1];
        assert_eq!(
            (row.quantity, row.description.as_str()),
            (Some(n), thing),
            "{line}"
        );
    }
}

/// Sizes, gauges, codes and names that begin or end with a number are no counts.
#[test]
fn what_is_no_count_in_a_line() {
    let lines = [
        "12 ga lock channel",
        "1-3/8 x 10'6 ridge tube",
        "5/16 x 2-1/2 carriage bolt",
        "ridge tube 1-3/8 x 10'6",
        "hex bolt 5/16 x 3",
        "one end swaged tube 10 ft",
        "two-way clamp 1-3/8",
        "6 mil film 40 x 52",
        "2 x 4 x 8 board",
        "12-14 x 3/4 self drilling screws",
        "10-24 machine screws",
        "#12 x 3/4 screws",
    ];
    let mut wrong = Vec::new();
    for line in lines {
        let text = format!("7 door latches\n{line}\n8 hinges\n");
        let list = read(text.as_bytes(), "pasted").unwrap();
        let row = list.rows.iter().find(|row| row.at.row == 2);
        if let Some(n) = row.and_then(|row| row.quantity) {
            wrong.push(format!("{line}: {n}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
