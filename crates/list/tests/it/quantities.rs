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
    for cell in [
        "",
        "ea",
        "as req'd",
        "12.5",
        "1/2",
        "twelve",
        "12 posts",
        "2026-03-04",
        "5/16",
        "99999999999999",
        "4 x 999999999",
    ] {
        assert_eq!(pieces(cell), None, "{cell}");
    }
}

#[test]
fn the_unit_column_counts_too() {
    assert_eq!(read_quantity("2", "PR").map(|q| q.pieces), Some(4));
    assert_eq!(read_quantity("2", "Doz.").map(|q| q.pieces), Some(24));
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
    ];
    for (line, n, thing) in table {
        let text = format!("{line}\n7 door latches\n8 hinges\n");
        let list = read(text.as_bytes(), "pasted").unwrap();
        let row = &list.rows[0];
        assert_eq!(
            (row.quantity, row.description.as_str()),
            (Some(n), thing),
            "{line}"
        );
    }
}
