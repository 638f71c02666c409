//! Houses of plastic pipe.

use super::{compare, differs, feet, inches, pieces, raise, refused, same, sixteenths};

const KY10: &str = include_str!("ky10.family.toml");
const RIB21: &str = include_str!("rib21.family.toml");
const BOX32: &str = include_str!("box32.family.toml");
const CAT80: &str = include_str!("cat80.family.toml");
const USU: &str = include_str!("usu.family.toml");

/// KY10: University of Kentucky, Department of Horticulture, "How to build a high tunnel", undated (S). Ropes, nails
/// and door accessories are not compared: it does not say where they go.
#[test]
fn ky10_stands_on_anchors_of_three_lengths() {
    let house = raise(KY10, include_str!("ky10.order.toml"));
    compare(
        "KY10",
        &[
            same("bow pipes", "S", 7, house.count("PIPE")),
            same(
                "length of a pipe",
                "S",
                feet(20),
                house.goes_in("PIPE", "bow"),
            ),
            same("anchors of 15 in", "S", 6, house.count("A15")),
            same("anchors of 30 in", "S", 4, house.count("A30")),
            same("anchors of 40 in", "S", 4, house.count("A40")),
            same("boards of both ends", "S", 16, house.count("BOARD")),
            same("film", "S", 1, house.count("FILM")),
            same("film, width", "S", feet(24), house.width_sixteenths("FILM")),
            same("film, length", "S", feet(43), house.sixteenths("FILM")),
        ],
    );
    // 40 ft in six bays: 6 ft 8 in each (D).
    assert_eq!(sixteenths(Some(house.frame.stations[1])), inches(80));
    // No bow stands on two lengths of anchor, and none on nothing.
    for bow in 1..=7 {
        let under = format!("bow {bow}, ");
        let anchors =
            (house.frame.members.iter()).filter(|m| m.role == "anchor" && m.name.contains(&under));
        assert_eq!(anchors.count(), 2, "bow {bow}");
    }
}

/// RIB21: "How to build a greenhouse", method 2, publisher not shown (S2).
#[test]
fn rib21_has_a_ridge_piece_in_every_bay() {
    let house = raise(RIB21, include_str!("rib21.order.toml"));
    // Two sheets of ours lie one after the other on a roll 10 ft wide.
    let ends_of_ours = house.sixteenths("ENDS");
    assert_eq!(house.width_sixteenths("ENDS"), feet(10));
    assert!(2 * ends_of_ours <= feet(25));
    compare(
        "RIB21",
        &[
            same("stakes", "S2", 16, house.count("STAKE")),
            same("half ribs", "S2", 16, house.count("RIB")),
            same("half rib, length", "S2", feet(10), house.sixteenths("RIB")),
            same("ridge pieces", "S2", 7, house.count("RIDGE")),
            differs(
                "ridge piece, length",
                "S2",
                inches(34),
                house.sixteenths("RIDGE"),
                (
                    "ours goes from rib to rib; the fitting at a rib makes 2 in of it: 21 ft less 7 pieces of 34 in \
                     leave 14 in for 7 bays",
                    |ours| ours - (feet(21) - 7 * inches(34)) / 7,
                ),
            ),
            same("tees", "S2", 2, house.count("TEE")),
            same("crosses", "S2", 6, house.count("CROSS")),
            same("clips", "S2", 16, house.count("CLIP")),
            same("stiffeners", "S2", 8, house.count("STIFF")),
            same("sheets over the house", "S2", 1, house.count("SHEET")),
            same(
                "sheet, width",
                "S2",
                feet(20),
                house.width_sixteenths("SHEET"),
            ),
            same("sheet, length", "S2", feet(25), house.sixteenths("SHEET")),
            differs(
                "sheets for the ends",
                "S2",
                1,
                house.count("ENDS"),
                (
                    "both ends are cut from one sheet of 25 ft, as checked above",
                    |ours| ours / 2,
                ),
            ),
        ],
    );
    // No ridge piece spans a rib: each is one bay long.
    let ridge = (house.frame.pieces.iter()).filter(|p| p.mark.0 == "RIDGE");
    assert!(
        ridge
            .clone()
            .all(|p| (p.to - p.from - 0.9144).abs() < 1e-9 && p.cut_to.is_none())
    );
}

/// BOX32: "How to Build an Inexpensive Hoop-Style Greenhouse", a gardening page, undated (S2). Laths and the boards of
/// the end walls are not compared: it does not say where they go.
#[test]
fn box32_cuts_its_stakes_from_bars() {
    let house = raise(BOX32, include_str!("box32.order.toml"));
    compare(
        "BOX32",
        &[
            same("stakes", "S2", 34, pieces(&house, "BAR")),
            same("bars of 10 ft", "S2", 9, house.count("BAR")),
            same("pipes", "S2", 19, house.count("PIPE")),
            same("of which hoops", "D", 17, house.used("PIPE", "hoop")),
            same(
                "pipe of a hoop, whole",
                "D",
                feet(20),
                house.goes_in("PIPE", "hoop"),
            ),
            same(
                "of which for the ridge",
                "D",
                2,
                house.used("PIPE", "ridge"),
            ),
            same("boards of 16 ft", "S2", 4, house.count("B16")),
            same("boards 2x6 of 12 ft", "S2", 2, house.count("B12")),
            same("film", "S2", 1, house.count("FILM")),
            same(
                "film, width",
                "S2",
                feet(20),
                house.width_sixteenths("FILM"),
            ),
            same("film, length", "S2", feet(50), house.sixteenths("FILM")),
        ],
    );
}

/// CAT80: "How to build a caterpillar tunnel", a market garden's own page, 2018 (S2). Ropes, straps and sand bags are
/// not compared.
#[test]
fn cat80_leaves_two_feet_that_make_no_bay() {
    let house = raise(CAT80, include_str!("cat80.order.toml"));
    compare(
        "CAT80",
        &[
            same("hoops", "S2", 14, house.count("PIPE")),
            same(
                "pipe, length",
                "S2",
                feet(20),
                house.goes_in("PIPE", "hoop"),
            ),
            same("stakes", "S2", 28, house.count("STAKE")),
            same("large carabiners", "S2", 28, house.count("LARGE")),
            same("small carabiners", "S2", 28, house.count("SMALL")),
            same(
                "film, width",
                "S2",
                feet(24),
                house.width_sixteenths("FILM"),
            ),
            same("film, length", "S2", feet(150), house.sixteenths("FILM")),
        ],
    );
    // The 80 ft between the first hoop and the last, as printed, are no whole bays.
    let order = include_str!("cat80.order.toml").replace("78 ft", "80 ft");
    let said = refused(CAT80, &order);
    assert!(said.contains("13.33 bays of 6 ft"), "{said}");
}

/// USU: Utah State University Extension HG/High Tunnels/2008-01pr, 2008, 2011 (S): the boards of both end walls, for
/// houses of 42, 90 and 140 ft. The list of pipe, bar and film by length is not shown.
#[test]
fn usu_end_walls_do_not_grow_with_the_house() {
    let orders = [
        (42, include_str!("usu-42.order.toml")),
        (90, include_str!("usu-90.order.toml")),
        (140, include_str!("usu-140.order.toml")),
    ];
    let mut arches = Vec::new();
    for (long, order) in orders {
        let house = raise(USU, order);
        let boards = ["B16", "B10", "B8"].map(|mark| house.count(mark));
        let feet_of_board: i64 = (boards.iter().zip([16, 10, 8])).map(|(n, ft)| n * ft).sum();
        compare(
            &format!("USU, {long} ft"),
            &[
                same("2x4 of 16 ft", "S", 2, boards[0]),
                same("2x4 of 10 ft", "S", 4, boards[1]),
                same("2x4 of 8 ft", "S", 8, boards[2]),
                same("boards", "D", 14, boards.iter().sum()),
                same("feet of board", "D", 136, feet_of_board),
            ],
        );
        // The plate of 16 ft goes in whole, a foot past the arch on either side.
        let plate = house
            .frame
            .members
            .iter()
            .find(|m| m.role == "base plate")
            .unwrap();
        assert!((plate.path.length() / 0.3048 - 16.0).abs() < 1e-9);
        assert!(
            house
                .frame
                .pieces
                .iter()
                .all(|p| p.mark.0 != "B16" || p.cut_to.is_none())
        );
        // One end wall less is half of it.
        let open = raise(USU, &format!("{order}\n[back]\nend = \"open\""));
        assert_eq!(
            ["B16", "B10", "B8"].map(|mark| 2 * open.count(mark)),
            boards
        );
        arches.push(house.count("ARCH"));
    }
    // While the arches do grow: bays of at most 4 ft are 11, 23 and 35.
    assert_eq!(arches, [12, 24, 36]);
}
