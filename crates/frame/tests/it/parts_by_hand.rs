//! Whole parts lists worked by hand from what the family file says of the house, mark by mark.

use measure::Length;

use crate::house::{check, demo, gothic_order, listed, quantity};

// Of every gothic-24 (inches; the profile is worked by hand in `geometry`):
//   half of the profile          48 + 36.018 + 137.993 = 222.011
//   arch channel, 6 in to 6 in   2 × (222.011 − 6) = 432.022
//   its pieces of 96             432.022 / 96 = 4.5 → 5
//   its wires of 80, lapping 2   1 + (432.022 − 80) / 78 = 5.5 → 6
//   its fastenings every 18      432.022 / 18 = 24.001 → 25 gaps, 26 fastenings
//   ridge tube                   126.5 − 3.5 swage = 123 a piece, and the last piece loses its swage

/// The demo: 48 ft, bows at 4 ft, purlins, a double door in front and a single one at the back.
#[test]
fn the_demo_order() {
    let bows = 48 / 4 + 1; // 13
    let posts = 2 * bows; // 26

    // Lines of 576 in. Ridge and two purlins: 576 / 123 = 4.7 → 5 tubes, 4 splices each.
    let (tube_lines, tubes, tube_splices) = (3, 5, 4);
    // Base and hip on both sides: 576 / 117 = 4.9 → 5 channels, 4 splices.
    let (rails, rail_pieces, rail_splices) = (4, 5, 4);
    // 8 ft sticks of lock channel: 576 / 96 = 6. Wires: 1 + (576 − 80) / 78 = 7.4 → 8.
    let (rail_locks, rail_wires) = (6, 8);
    // Every 24 in: 24 gaps, 25 fastenings.
    let rail_fastenings = 25;

    // Each end: two studs at 8 ft and two jambs, so four uprights; no middle studs beside a door.
    let uprights = 2 * (2 + 2); // 8

    // Lock channel round a door stands on each jamb up to 82 in (one stick, two wires: 80 < 82) and along the
    // header: 84 in at the front (one stick, two wires), 42 in at the back (one stick, one wire).
    let door_locks = (2 + 1) + (2 + 1);
    let door_wires = (2 * 2 + 2) + (2 * 2 + 1);
    // Every 18 in: 82 / 18 → 5 gaps, 6 on each of four jambs; 84 / 18 → 5 gaps, 6; 42 / 18 → 3 gaps, 4.
    let door_fastenings = 4 * 6 + 6 + 4;

    check(
        &listed(&demo()),
        &[
            ("P1", posts),
            ("B1", 2 * bows),
            ("R1", tube_lines * tubes),
            ("S1", uprights),
            ("H1", 1),
            ("H2", 1),
            ("C1", rails * rail_pieces),
            ("C2", rails * rail_splices),
            ("L1", rails * rail_locks + 2 * 5 + door_locks), // 24 + 10 + 6 = 40
            ("W1", rails * rail_wires + 2 * 6 + door_wires), // 32 + 12 + 11 = 55
            ("F1", 1),
            ("F2", 2),
            ("K1", 2 * bows),
            ("X1", bows),
            ("X2", 2 * bows),
            ("X3", uprights),
            ("X4", uprights),
            ("D1", 2 + 1),
            ("D2", 6 + 3),
            ("D3", 1 + 1),
            ("N1", posts),
            ("N2", 4 * bows),
            ("N3", posts + 4 * bows),
            ("N4", posts + 4 * bows),
            // Tube splices 12, rails on bows and on posts 2 each (104), plates 4 each (64), channel on rails 100,
            // on the arches 52, round the doors 34: 366.
            (
                "N5",
                tube_lines * tube_splices
                    + 2 * 2 * bows
                    + 2 * posts
                    + 4 * rails * rail_splices
                    + rails * rail_fastenings
                    + 2 * 26
                    + door_fastenings,
            ),
            // Ridge clamps 26, cross connectors 52, stud clamps 16, headers on jambs 8, shoes 16, doors 24 + 12.
            (
                "N6",
                2 * bows + 2 * 2 * bows + 2 * uprights + 2 * 4 + 2 * uprights + 24 + 12,
            ),
        ],
    );
}

/// The smallest house with bows 6 ft apart: 24 ft, framed ends without doors, purlins since 6 ft asks for them.
#[test]
fn the_least_house_at_6_ft() {
    let order = gothic_order(
        "length = \"24 ft\"\nbow_spacing = \"6 ft\"",
        "[options]\npurlins = \"one each side\"",
    );
    // 4 bays, 5 bows, 10 posts. Lines of 288 in: tubes 288 / 123 → 3; channels 288 / 117 → 3; lock channel
    // 288 / 96 = 3; wires 1 + (288 − 80) / 78 = 3.7 → 4; fastenings 288 / 24 = 12 gaps → 13.
    // Each end: studs at 8 ft and middle studs at 3 ft, four uprights.
    check(
        &listed(&order),
        &[
            ("P1", 10),
            ("B1", 10),
            ("R1", 3 * 3),
            ("S1", 8),
            ("C1", 4 * 3),
            ("C2", 4 * 2),
            ("L1", 4 * 3 + 2 * 5),
            ("W1", 4 * 4 + 2 * 6),
            ("F1", 1),
            ("F2", 2),
            ("K1", 10),
            ("X1", 5),
            ("X2", 10),
            ("X3", 8),
            ("X4", 8),
            ("N1", 10),
            ("N2", 20),
            ("N3", 30),
            ("N4", 30),
            ("N5", 3 * 2 + 2 * 10 + 2 * 10 + 4 * 8 + 4 * 13 + 2 * 26),
            ("N6", 2 * 5 + 2 * 10 + 2 * 8 + 2 * 8),
        ],
    );
}

/// The smallest house at 4 ft, without purlins, open in front and framed without a door at the back.
#[test]
fn the_least_house_with_an_open_end() {
    let order = gothic_order("length = \"24 ft\"", "[front]\nwall = \"open\"");
    // 6 bays, 7 bows, 14 posts; one tube line of 3; four uprights in the back wall only. The arch channel is on
    // both end bows, since the main cover ends there whatever stands below.
    check(
        &listed(&order),
        &[
            ("P1", 14),
            ("B1", 14),
            ("R1", 3),
            ("S1", 4),
            ("C1", 12),
            ("C2", 8),
            ("L1", 12 + 10),
            ("W1", 16 + 12),
            ("F1", 1),
            ("F2", 1),
            ("K1", 14),
            ("X1", 7),
            ("X3", 4),
            ("X4", 4),
            ("N1", 14),
            ("N2", 28),
            ("N3", 14 + 28),
            ("N4", 14 + 28),
            ("N5", 2 + 2 * 14 + 2 * 14 + 4 * 8 + 4 * 13 + 2 * 26),
            ("N6", 2 * 7 + 2 * 4 + 2 * 4),
        ],
    );
}

#[test]
fn both_ends_open_have_no_end_wall() {
    let order = gothic_order(
        "length = \"24 ft\"",
        "[front]\nwall = \"open\"\n[back]\nwall = \"open\"",
    );
    let list = listed(&order);
    for mark in ["S1", "F2", "X3", "X4", "H1", "H2", "D1"] {
        assert_eq!(quantity(&list, mark), 0, "{mark}");
    }
}

/// Lengths that follow from the places, by the profile worked by hand.
#[test]
fn lengths_that_follow() {
    let list = listed(&demo());
    let length = |mark: &str| list.line(mark).unwrap().part.length.unwrap();
    // Half bow: from the post's top at 24 in to the peak, 222.011 − 24 = 198.011, and 4 in of swage: 202.011,
    // to 1/16 in 16 ft 10 in.
    assert_eq!(length("B1"), Length::inches(202));
    // Headers from jamb to jamb: 2 × 21 in and 2 × 42 in.
    assert_eq!(length("H1"), Length::inches(42));
    assert_eq!(length("H2"), Length::inches(84));
    // The cover: 432.022 + 2 × 12 = 456.022 in across, 38.002 ft, so the 40 ft roll; 48 ft and 2 ft at each end.
    let cover = &list.line("F1").unwrap().part;
    assert_eq!(
        (cover.width, cover.length),
        (Some(Length::feet(40)), Some(Length::feet(52)))
    );
    // An end: 24 ft by 10 ft 9 in, and 12 in all round.
    let end = &list.line("F2").unwrap().part;
    assert_eq!(
        (end.width, end.length),
        (Some(Length::feet(26)), Some(Length::inches(129 + 24)))
    );
}

/// What the yard cuts: last pieces of lines, studs under the bow.
#[test]
fn cuts_by_hand() {
    let list = listed(&demo());
    let cuts = |mark: &str, role: &str| -> Vec<Length> {
        (list.line(mark).unwrap().places.iter())
            .filter(|p| p.role == role)
            .filter_map(|p| p.cut_to)
            .collect()
    };
    // Ridge: 576 − 4 × 123 = 84. Rails: 576 − 4 × 117 = 108, on two sides.
    assert_eq!(cuts("R1", "ridge"), [Length::inches(84)]);
    assert_eq!(cuts("R1", "purlin"), [Length::inches(84); 2]);
    assert_eq!(cuts("C1", "base rail"), [Length::inches(108); 2]);
    // 576 is six whole sticks of 96: nothing is cut.
    assert_eq!(cuts("L1", "hip channel"), []);
    // Wires: 576 − 7 × 78 = 30 on each of four lines.
    assert_eq!(
        cuts("W1", "wire")
            .iter()
            .filter(|l| **l == Length::inches(30))
            .count(),
        4
    );
    // A stud 96 from the middle, under the roof's circle of 360 about (66.919, −224.726) on its left:
    // √(360² − 162.919²) − 224.726 = 321.026 − 224.726 = 96.300, to 1/16 in 96-5/16.
    assert_eq!(cuts("S1", "stud"), [Length::sixty_fourths(96 * 64 + 20); 4]);
}

/// One mark, several uses and several bags, added up once.
#[test]
fn uses_and_sub_kits_of_one_mark() {
    let list = listed(&demo());
    let tubes = list.line("R1").unwrap();
    assert_eq!(tubes.uses(), [("ridge", 5), ("purlin", 10)]);
    assert_eq!(tubes.stages(), [("ridge", 5), ("purlins", 10)]);
    assert_eq!(list.first_stage(tubes), "ridge");
    let rails = list.line("C1").unwrap();
    assert_eq!(rails.uses(), [("hip rail", 10), ("base rail", 10)]);
    let mut bags = list.line("N5").unwrap().sub_kits();
    bags.sort_unstable();
    // Frame: 12 splices. Side walls: 104 on bows and posts, 64 in plates, 100 on rails. End walls: 52 and 34.
    assert_eq!(
        bags,
        [("end walls", 86), ("frame", 12), ("side walls", 268)]
    );
}

/// Every place says where it is, and two places of one use have different words.
#[test]
fn no_two_places_of_a_use_have_the_same_words() {
    let list = listed(&demo());
    for line in &list.lines {
        let mut seen = std::collections::BTreeSet::new();
        for place in &line.places {
            assert!(!place.name.trim().is_empty());
            let words = (&place.role, &place.name);
            assert!(
                seen.insert(words),
                "{}: {} twice",
                line.part.mark,
                place.name
            );
        }
    }
}

/// The door of the back end is at the back.
#[test]
fn doors_hang_at_their_own_end() {
    let list = listed(&demo());
    let ys: Vec<(&str, f64)> = (list.line("D1").unwrap().places.iter())
        .map(|p| (p.name.as_str(), p.at.y))
        .collect();
    let back = Length::feet(48).to_metres();
    assert!(ys.contains(&("door, back", back)), "{ys:?}");
    assert!(ys.contains(&("double door, front", 0.0)), "{ys:?}");
}
