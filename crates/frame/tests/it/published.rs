//! Sums of the trade sheet, and masses of tables. Houses that others have counted are in `bulletins`.

use measure::{Length, System};

use crate::house::{Hoop, check, demo, listed, order, raised};

/// Bows for a length and a spacing (D, the counting rules of the trade sheet); nothing where the bays are uneven.
const BOWS: [(i64, [Option<i64>; 3]); 6] = [
    (36, [Some(10), None, Some(7)]),
    (48, [Some(13), None, Some(9)]),
    (60, [Some(16), Some(13), Some(11)]),
    (72, [Some(19), None, Some(13)]),
    (96, [Some(25), None, Some(17)]),
    (144, [Some(37), None, Some(25)]),
];

#[test]
fn bows_for_lengths_and_spacings() {
    for (column, spacing) in ["4 ft", "5 ft", "6 ft"].into_iter().enumerate() {
        let house = Hoop {
            width: 204,
            height: 108,
            side: 48,
            shoulder: 36,
            roof: 180,
            spacing,
        };
        let family = frame::Family::read(&house.text()).unwrap();
        for (feet, bows) in BOWS {
            let order = order(&format!(
                "name = \"h\"\nfamily = \"hoop\"\nlength = \"{feet} ft\""
            ));
            match (bows[column], frame::expand(&order, &family)) {
                (Some(bows), Ok(frame)) => assert_eq!(frame.bows, bows, "{feet} ft at {spacing}"),
                (None, Err(e)) => {
                    // "never round silently": 36 ft at 5 ft is 7.2 bays, and so on.
                    let bays = format!("{:.2} bays of 5 ft", feet as f64 / 5.0);
                    assert!(e.to_string().contains(&bays), "{e}");
                }
                (wanted, got) => panic!("{feet} ft at {spacing}: {wanted:?}, {got:?}"),
            }
        }
    }
}

/// Three purlin runs, a clamp at every bow, boards in pieces of 12 ft (D, the trade sheet's own examples).
#[test]
fn three_houses_of_the_trade_sheet() {
    // width, length, spacing, bows, posts, clamps, board pieces
    let houses = [
        (20, 48, "4 ft", 13, 26, 39, 16),
        (30, 72, "6 ft", 13, 26, 39, 24),
        (30, 96, "4 ft", 25, 50, 75, 32),
    ];
    for (width, length, spacing, bows, posts, clamps, boards) in houses {
        let house = Hoop {
            width: width * 12,
            height: width * 6,
            side: 48,
            shoulder: 36,
            roof: 300,
            spacing,
        };
        let list = house.list(&format!("{length} ft"));
        // Two board joints each side and height; nothing in this family holds them, so they bring no hardware.
        // Lines of 21 ft tubes; the three last pieces are cut from as few as will do, several from one if they go in.
        let (whole, rest) = (length / 21, length % 21);
        let from_one = 21 / rest;
        let runs = 3 * whole + (3 + from_one - 1) / from_one;
        let bolts = posts + 2 * posts;
        check(
            &list,
            &[
                ("POST", posts),
                ("BOW", 2 * bows),
                ("RUN", runs),
                ("BOARD", boards),
                ("BOLT", bolts),
                ("CLAMP", clamps),
            ],
        );
    }
}

/// Pounds per foot of bare light-gauge tube (D, 10.69 (D − t) t; the older constant gives up to 0.003 less).
#[test]
fn tubes_weigh_what_the_table_says() {
    let list = listed(&demo());
    for (mark, pounds_per_foot) in [("P1", 1.399), ("B1", 1.399), ("R1", 0.869), ("S1", 0.869)] {
        let part = &list.line(mark).unwrap().part;
        let feet = part.length.unwrap().to_inches() / 12.0;
        let found = part.unit_mass.to_pounds() / feet;
        assert!(
            (found - pounds_per_foot).abs() < 0.005,
            "{mark}: {found} lb/ft"
        );
    }
}

/// 1000 ft² of 6 mil film at 0.92 g/cm³ weigh 28.7 lb (D, from a yield table, S2t).
#[test]
fn film_weighs_what_the_yield_table_says() {
    let list = listed(&demo());
    for mark in ["F1", "F2"] {
        let part = &list.line(mark).unwrap().part;
        let square_feet =
            part.length.unwrap().to_inches() * part.width.unwrap().to_inches() / 144.0;
        let pounds = part.unit_mass.to_pounds();
        assert!(
            (pounds / square_feet * 1000.0 - 28.7).abs() < 0.1,
            "{mark}: {pounds} lb"
        );
        assert!(part.description.contains("6 mil"), "{}", part.description);
    }
}

/// The trade calls a tube 1-5/8 that measures 1.660 in (S2t): the description says both.
#[test]
fn a_description_names_the_tube_and_its_measure() {
    let list = listed(&demo());
    let post = &list.line("P1").unwrap().part;
    for word in ["Ground post", "1-5/8", "1.660 in", "14 ga", "5 ft", "plain"] {
        assert!(
            post.description.contains(word),
            "{word}: {}",
            post.description
        );
    }
    assert_eq!(post.length, Some(Length::feet(5)));
    let height = raised(&demo()).height;
    assert_eq!(
        height.write(System::FeetInch, measure::Grid::SIXTEENTH),
        "10 ft 9 in"
    );
}
