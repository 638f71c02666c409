//! Parts lists of round-16 worked by hand from what the family file says of the house, mark by mark.

use frame::{ExpandError, Family, Frame, PartsList, Refusal, expand};
use measure::Length;

use crate::house::{check, order};

fn raise(size: &str, tables: &str) -> Result<Frame, ExpandError> {
    let order = order(&format!(
        "name = \"a test house\"\nfamily = \"round-16\"\n{size}\n{tables}"
    ));
    expand(&order, &Family::named("round-16")?)
}

fn listed(size: &str, tables: &str) -> PartsList {
    PartsList::of(&raise(size, tables).unwrap_or_else(|e| panic!("{e}")))
}

// Of every round-16 (inches):
//   quarter circle               96 × π / 2 = 150.796
//   half of the profile          18 + 150.796 = 168.796
//   arch channel, 3 in to 3 in   2 × (168.796 − 3) = 331.593: three sticks of 96 and 43.593 of a fourth
//   its wires of 80, lapping 2   four that bring 78 each, and 331.593 − 312 = 19.593 of a fifth
//   its fastenings every 18      331.593 / 18 = 18.4 → 19 gaps, 20 fastenings
//   tube line                    149.5 − 3.5 swage = 146 a piece, and the last piece loses its swage
//   boards of 168                butted, at least 6 clear of the bows
//   rails of 117                 butted, at least 2 clear of the bows
//   brace                        from 27° up the circle, at 96 × cos 27° = 85.537 from the middle and
//                                18 + 96 × sin 27° = 61.583 high, to 96 and 8, a bay of 48 on:
//                                √(10.463² + 53.583² + 48²) = 72.70 of a tube of 78
//   studs, 3 above the ground    15 + √(96² − x²): at 30 in 106.19, at 60 in 89.94, at 78 in 70.96
//   jambs, from the ground       18 + √(96² − 21²) = 111.68
//   of a stud tube of 114        no two of those can be cut
//   a saw takes 1/8

/// 24 ft and nothing chosen: seven bows on ground posts, boards along the ground, both ends framed without a door.
#[test]
fn a_plain_24_ft_house() {
    let (bows, posts) = (7, 14);
    let braces = 4;
    // At each end: studs at 30 and 78 in from the middle on either side.
    let studs = 8;
    let list = listed("length = \"24 ft\"", "");
    check(
        &list,
        &[
            ("P1", posts),
            ("B1", 2 * bows),
            ("B2", bows),
            // 288: 146, and 142 of the second.
            ("R1", 2),
            ("W1", braces),
            ("S1", studs),
            // A side of 288: 168 (half way between bows), and 120 is cut. An end board of 192: 168, and 24 is cut.
            // The four cuts go two by two: 120 + 24. So two at the sides, two at the ends, and two that are cut.
            ("T1", 2 + 2 + 2),
            ("T3", 2 + 2),
            // Sides 288 / 96 = 3 each. Arches three each, and both cuts of 43.593 from one.
            ("L1", 2 * 3 + 2 * 3 + 1),
            // Sides: three that bring 78, and 54 is cut. Arches: four, and 19.593. 54 + 19.593 from one, twice.
            ("Z1", 2 * 3 + 2 * 4 + 2),
            ("F1", 1),
            ("F2", 2),
            ("X1", bows),
            ("X2", studs),
            ("X4", 2 * braces),
            // End boards on the corner posts, and studs on the end boards.
            ("X5", 4 + studs),
            ("N1", posts + 2 * braces),
            ("N2", posts),
            ("N3", posts + 2 * braces + posts),
            ("N4", posts),
            // Two at each of two splices of a bow, one in the ridge's splice, two on each stud's top, the arches.
            ("N5", 2 * 2 * bows + 1 + 2 * studs + 2 * 20),
            // Straps two each, plates four each; sides every 24: 12 gaps, 13 on each.
            ("N6", 2 * (4 + studs) + 4 * 4 + 2 * 13),
            ("Y1", 1),
        ],
    );

    let length = |mark: &str| list.line(mark).unwrap().part.length.unwrap();
    // From the post's top at 12 in to 0.4 of the circle: 6 + 60.319, a swage of 4 and 6 in the post: 76.319.
    assert_eq!(length("B1"), Length::sixty_fourths(76 * 64 + 5 * 4));
    // Over the peak: 2 × 0.6 × 150.796 = 180.956.
    assert_eq!(length("B2"), Length::sixty_fourths(180 * 64 + 15 * 4));
    // The cover: 331.593 + 2 × 12 = 355.593 across, 29.6 ft, so the roll of 32; 24 ft and 2 at each end.
    let cover = &list.line("F1").unwrap().part;
    assert_eq!(
        (cover.width, cover.length),
        (Some(Length::feet(32)), Some(Length::feet(28)))
    );

    // Spares. N5 needs 28 + 1 + 16 + 40 = 85: 5 % is 5, at least 10, and by fifties: 100. N6 needs 24 + 16 + 26 = 66,
    // and 10, so 100. N1 needs 22 and N3 36: 2 % is one, at least 2. X1 one more, Z1 two. G2 is not in this house.
    for (mark, packed) in [
        ("N5", 100),
        ("N6", 100),
        ("N1", 24),
        ("N3", 38),
        ("X1", 8),
        ("Z1", 18),
        ("P1", 14),
    ] {
        assert_eq!(list.line(mark).unwrap().supplied, packed, "{mark}");
    }
}

/// 48 ft with nearly all that can be chosen: anchors beside the posts, purlins, rails, cloths, a door in front, the left
/// side rolled up behind a screen.
#[test]
fn a_48_ft_house_with_nearly_everything() {
    let list = listed(
        "length = \"48 ft\"",
        "[options]\nfooting = \"ground posts and anchors\"\npurlins = \"ridge and one each side\"\n\
         base = \"rail\"\nshade = \"shade cloth\"\nground = \"ground cover\"\n\
         [front]\ndoor = \"single\"\n[left]\nside = \"roll-up\"\nscreen = \"insect screen\"",
    );
    let (bows, posts) = (13, 26);
    let braces = 4;
    // Lines of 576. Tubes: 438 of three and 138 of a fourth, three splices. Ridge, two purlins, the left roll bar.
    let (tubes, tube_splices) = (4, 3);
    // Rails: 117, 234, 351, 468 and 108 of a fifth; none within 2 of a bow at 48 (21, 6, 15, 12 away).
    // Two base rails and the left hip rail.
    let (rails, rail_pieces, rail_splices) = (3, 5, 4);
    // Front: two studs at 60 in, two jambs. Back: four studs.
    let (studs, jambs) = (6, 2);
    // Anchors at bows 1, 4, 7, 10, 13, on both sides.
    let anchors = 10;
    check(
        &list,
        &[
            ("P1", posts),
            ("B1", 2 * bows),
            ("B2", bows),
            ("R1", 4 * tubes),
            ("W1", braces),
            ("S1", studs + jambs),
            ("H1", 1),
            // Front: 96 − 21 = 75 on either side of the door, both from one. Back: 168, and 24 from another, since
            // 168 − 75 − 75 leaves less.
            ("T1", 1 + 1 + 1),
            ("T3", 1),
            ("C1", rails * rail_pieces),
            ("C2", rails * rail_splices),
            // Right base and left hip: six sticks each. Arches three each. Cuts: jambs 82 and 82, the arches'
            // 43.593 twice from one, the header's 42: four.
            ("L1", 2 * 6 + 2 * 3 + 4),
            // Lines of 576: seven that bring 78, and 30. Arches four and 19.593. Jambs of 82: one, and 4 over. The
            // header 42. Cuts: 42 + 30 + 4 and 30 + 19.593 + 19.593 + 4 from two of 80.
            ("Z1", 2 * 7 + 2 * 4 + 2 + 2),
            ("F1", 1),
            ("F2", 2),
            ("F3", 1),
            ("F4", 1),
            // 192 + 2 × 6 = 204 across. Rolls of 72 lapping 6: three cover 204, 216 in all; 120 takes two, 240.
            ("F5", 3),
            ("A1", anchors),
            ("A2", anchors),
            ("G1", 1),
            // 576 every 24: 24 gaps.
            ("G2", 25),
            ("X1", 3 * bows),
            ("X2", studs + jambs),
            ("X3", jambs),
            ("X4", 2 * braces),
            // End boards on four corner posts and on two jambs, studs on end boards.
            ("X5", 4 + 2 + studs),
            ("D1", 1),
            ("D2", 3),
            ("D3", 1),
            ("N1", posts + 2 * braces + anchors),
            ("N3", posts + 2 * braces + anchors),
            // Bows' splices 52; tubes' 12; base rails on posts 52, the hip rail on bows 26; plates 48; tops of
            // studs and jambs 16; header 4; shoes 4; channel on rails 25 each on two lines; arches 40; round the
            // door 82 / 18 → 5 gaps, 6 on each jamb, 42 / 18 → 3 gaps, 4; crank 2; door 12.
            (
                "N5",
                2 * 2 * bows
                    + 4 * tube_splices
                    + 2 * posts
                    + 2 * bows
                    + 4 * rails * rail_splices
                    + 2 * (studs + jambs)
                    + 4
                    + 2 * jambs
                    + 2 * 25
                    + 2 * 20
                    + 2 * 6
                    + 4
                    + 2
                    + 12,
            ),
            ("N6", 2 * (4 + 2 + studs) + 4),
            // Each strip of 72 by 49 ft, every 36: 2 gaps across, 588 / 36 → 17 along, twice.
            ("Q1", 3 * 2 * (2 + 17)),
            // The shade goes up from 60 in: 42 / 96 is the sine of 25.944°, 43.47 of the circle, 61.47 with the leg;
            // 337.593 − 2 × 61.47 = 214.65, 17.9 ft, so the roll of 20. Every 24: 240 / 24 = 10 and 600 / 24 = 25.
            ("Q2", 2 * (10 + 25)),
            ("Y1", 1),
        ],
    );
    let sheet = |mark: &str| {
        let part = &list.line(mark).unwrap().part;
        (part.width.unwrap(), part.length.unwrap())
    };
    let feet = Length::feet;
    // The cover: 337.593 − 2 − 3 + 18 + 12 = 362.593 across, 30.2 ft.
    assert_eq!(sheet("F1"), (feet(32), feet(52)));
    assert_eq!(sheet("F3"), (feet(20), feet(50)));
    // The screen, 3 in to 48 in: 15 of leg, asin(30 / 96) = 0.31783 of 96: 30.51; 4 more at either edge: 53.5.
    assert_eq!(sheet("F4"), (feet(6), feet(49)));
    assert_eq!(sheet("F5"), (feet(6), feet(49)));

    // 2 % of 44 is one, at least two; 5 % of 25 is two; 114 in bags of 50; 70 and 5 % (3.5 → 4) by tens.
    for (mark, packed) in [("N1", 46), ("G2", 27), ("Q1", 150), ("Q2", 80)] {
        assert_eq!(list.line(mark).unwrap().supplied, packed, "{mark}");
    }
}

/// 25 ft 6 in: six bays and 18 in, on anchors, with a door at the back and the right side rolled up.
#[test]
fn an_uneven_house_on_anchors() {
    let list = listed(
        "length = \"25 ft 6 in\"\nuneven = \"short last bay\"",
        "[options]\nfooting = \"anchors\"\n[front]\nwall = \"open\"\n[back]\ndoor = \"single\"\n\
         [right]\nside = \"roll-up\"",
    );
    let bows = 8;
    let braces = 4;
    let (studs, jambs) = (2, 2);
    check(
        &list,
        &[
            ("B2", bows),
            ("B3", 2 * bows),
            // 306: two that bring 146 (4 past the bow at 288), and 14, which an extension finishes. The ridge and
            // the roll bar, so that both 14 come from one of 36.
            ("R1", 2 * 2),
            ("E1", 1),
            ("W1", braces),
            ("S1", studs + jambs),
            ("H1", 1),
            // Sides 168, and 138 is cut; beside the door 75 and 75. Cuts: 138, 138, 75 + 75.
            ("T1", 2 + 3),
            ("T2", 1 + 1),
            ("T3", 2 + 1),
            // The left base and the right hip: three each, and 18. Arches three each. Cuts: 82, 82,
            // 43.593 + 43.593, 42 + 18 + 18.
            ("L1", 2 * 3 + 2 * 3 + 4),
            // Lines of 306: three that bring 78, and 72. Arches four, jambs one. Cuts: 72 + 4 twice; 42 and both
            // 19.593 are 81.2, too long for one, so two more.
            ("Z1", 2 * 3 + 2 * 4 + 2 + 4),
            ("F1", 1),
            ("F2", 1),
            ("A1", 2 * bows),
            ("G1", 1),
            // 306 / 24 → 13 gaps.
            ("G2", 14),
            ("X1", bows),
            ("X2", studs + jambs),
            ("X3", jambs),
            ("X4", 2 * braces),
            // Boards on bows, two end boards on the end bow and on the jambs, studs on them.
            ("X5", 2 * bows + 2 + 2 + studs),
            ("D1", 1),
            ("D2", 3),
            ("D3", 1),
            ("N1", 2 * bows + 2 * braces),
            ("N2", bows),
            ("N3", 2 * bows + 2 * braces + bows),
            ("N4", bows),
            // Bows' splices 32, ridge and roll bar 2 each, tops 8, header 4, shoes 4, arches 40, door channel 16,
            // crank 2, door 12.
            (
                "N5",
                2 * 2 * bows + 2 * 2 + 2 * (studs + jambs) + 4 + 2 * jambs + 2 * 20 + 16 + 2 + 12,
            ),
            // Straps 44, plates 12, channel on two boards 14 each.
            ("N6", 2 * (2 * bows + 4 + studs) + 4 * 3 + 2 * 14),
            ("Y1", 1),
        ],
    );
    // A leg from the ground: 18 + 60.319 + 4.
    assert_eq!(
        list.line("B3").unwrap().part.length,
        Some(Length::sixty_fourths(82 * 64 + 5 * 4))
    );
    // Braces over the last bay of 18: √(10.463² + 53.583² + 18²) = 57.483, to 1/16 57-1/2. Over a bay of 48 72.695.
    let cuts: Vec<Length> = (list.line("W1").unwrap().places.iter())
        .filter_map(|p| p.cut_to)
        .collect();
    let (long, short) = (
        Length::sixty_fourths(72 * 64 + 11 * 4),
        Length::sixty_fourths(57 * 64 + 32),
    );
    assert_eq!(cuts, [long, short, long, short]);
}

/// The same length in equal bays: seven of 306 / 7 = 43.714, and nothing else of the list changes but the braces' cut.
#[test]
fn equal_bays_have_as_many_bows() {
    let [short, equal] = ["short last bay", "equal bays"].map(|way| {
        let frame = raise(
            &format!("length = \"25 ft 6 in\"\nuneven = \"{way}\""),
            "[options]\nfooting = \"anchors\"",
        );
        frame.unwrap()
    });
    assert_eq!(short.bows, equal.bows);
    for (i, station) in equal.stations.iter().enumerate() {
        let even = 306.0 * 0.0254 / 7.0 * i as f64;
        assert!((station.to_metres() - even).abs() < 1e-8, "{i}");
    }
    let cuts: Vec<f64> = (equal.pieces.iter())
        .filter(|p| p.mark.0 == "W1")
        .map(|p| p.to - p.from)
        .collect();
    let brace = (10.463_f64.powi(2) + 53.583_f64.powi(2) + (306.0_f64 / 7.0).powi(2)).sqrt();
    assert_eq!(cuts.len(), 4);
    for cut in cuts {
        assert!((cut / 0.0254 - brace).abs() < 0.01, "{cut}");
    }
}

/// Equal bays stand at any nanometre: a line is held at each of them. 543 in by 16 is 33.9375 in, 862.0125 mm.
#[test]
fn bows_between_two_micrometres_hold_their_lines() {
    let size = "length = \"45 ft 3 in\"\nbow_spacing = \"3 ft\"\nuneven = \"equal bays\"";
    let list = listed(size, "");
    assert_eq!(crate::house::quantity(&list, "X1"), 17);
    assert_eq!(crate::house::quantity(&list, "N2"), 34);
}

/// A bow in one piece stands in two posts: 337.593 − 2 × 12 in, and 6 in each.
#[test]
fn a_bow_in_one_piece_goes_into_both_posts() {
    let file = include_str!("../../../../families/round-16.toml");
    let halves = "    { part = \"B1\", to = { of = \"hoop\", share = 0.4 } },\n";
    assert!(file.contains(halves));
    let family = Family::read(&file.replacen(halves, "", 1)).unwrap();
    let order = order("name = \"n\"\nfamily = \"round-16\"\nlength = \"12 ft\"");
    let list = PartsList::of(&expand(&order, &family).unwrap());
    // 325.593, to 1/16 in 9/16.
    let length = list.line("B2").unwrap().part.length;
    assert_eq!(length, Some(Length::sixty_fourths(325 * 64 + 9 * 4)));
}

/// What does not go together is said with the reason, and with an order that can be built.
#[test]
fn what_cannot_be_built_says_why() {
    let cases = [
        (
            "[front]\nwall = \"open\"\ndoor = \"single\"",
            "a door hangs in a framed end wall",
        ),
        (
            "[options]\nfooting = \"anchors\"\nbraces = \"none\"",
            "held upright by the braces",
        ),
        (
            "[left]\nscreen = \"insect screen\"",
            "a screen closes the opening",
        ),
        (
            "[options]\nbraces = \"none\"\n[right]\nside = \"roll-up\"",
            "the corners need their braces",
        ),
    ];
    for (tables, why) in cases {
        refused("length = \"24 ft\"", tables, why);
    }
}

/// An inch over six bays is no bay: seven equal ones, or six whole ones.
#[test]
fn two_bows_do_not_stand_in_one_place() {
    let refusal = refused(
        "length = \"24 ft 1 in\"\nuneven = \"short last bay\"",
        "",
        "the last bay would be 1 in",
    );
    let offered: Vec<&str> = (refusal.nearest.iter())
        .map(|(changes, _)| changes[0].as_str())
        .collect();
    assert!(offered.contains(&"length = 24 ft"), "{offered:?}");
    assert!(offered.contains(&"uneven = equal bays"), "{offered:?}");
    assert!(raise("length = \"25 ft\"\nuneven = \"short last bay\"", "").is_ok());
}

fn refused(size: &str, tables: &str, why: &str) -> Refusal {
    match raise(size, tables) {
        Err(ExpandError::Refused(refusal)) => {
            assert!(refusal.to_string().contains(why), "{refusal}");
            assert!(!refusal.nearest.is_empty(), "{refusal}");
            refusal
        }
        other => panic!("{tables}: {:?}", other.map(|_| "built")),
    }
}
