//! Square tube for everything, and a length that is no whole number of bays; quantities worked by hand.

use super::written::{PLAIN, Written, in_sixteenths};
use super::{feet, inches, sixteenths};

/// Bows, posts, purlins all of square tube: pieces, and masses by hand, `2 (a + b − 2t) t` of steel at 7850 kg/m³.
#[test]
fn a_house_of_square_tube() {
    let written = Written {
        profile: r#"
width = "20 ft"
height = "12 ft"
peak = "smooth"
half = [
    { name = "side", straight = "follows" },
    { name = "roof", arc = "10 ft", turn = 90 },
]
"#,
        parts: r#"
[[part]]
mark = "POST"
noun = "ground post"
box = { called = "2-1/4 x 2-1/4", width = "2.25 in", wall = "0.083 in", gauge = 14 }
length = "4 ft"
[[part]]
mark = "BOW"
noun = "bow"
box = { called = "2 x 2", width = "2 in", wall = "0.065 in", gauge = 16 }
ends = ["plain", "plain"]
[[part]]
mark = "RUN"
noun = "purlin"
box = { called = "1 x 2", width = "1 in", depth = "2 in", wall = "0.065 in", gauge = 16 }
length = "20 ft"
"#,
        post: &PLAIN.post.replace("0 in", "1 ft"),
        bow: r#"{ half = [{ part = "BOW", to = "peak" }], insert = "6 in" }"#,
        more: r#"
[[member]]
role = "ridge"
part = "RUN"
along = "peak"
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["ridge", "bow"]
says = "ridge"
hardware = { BOLT = 2 }
stage = "frame"
sub_kit = "frame"
[[joint]]
peak = "bow"
says = "halves"
hardware = { BOLT = 4 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    };
    let house = written.raise("36 ft", "");
    // Nine bays of 4 ft; 36 ft of ridge are a tube and 16 ft of another.
    assert_eq!(house.count("POST"), 20);
    assert_eq!(house.count("BOW"), 20);
    assert_eq!(house.count("RUN"), 2);
    assert_eq!(house.count("BOLT"), 20 + 10 * 2 + 10 * 4);
    // A leg of 2 ft, of which 1 ft is the post's; a quarter of a circle; 6 in in the post.
    let half = 1.0 + std::f64::consts::FRAC_PI_2 * 10.0 + 0.5;
    assert_eq!(house.sixteenths("BOW"), in_sixteenths(half));
    let kilograms = |a: f64, b: f64, t: f64, feet: f64| {
        2.0 * (a + b - 2.0 * t) * t * 0.0254f64.powi(2) * feet * 0.3048 * 7850.0
    };
    for (mark, by_hand) in [
        ("POST", kilograms(2.25, 2.25, 0.083, 4.0)),
        ("BOW", kilograms(2.0, 2.0, 0.065, half)),
        ("RUN", kilograms(1.0, 2.0, 0.065, 20.0)),
    ] {
        let part = &house.list.line(mark).unwrap().part;
        let found = part.unit_mass.to_kilograms();
        assert!(
            (found / by_hand - 1.0).abs() < 0.001,
            "{mark}: {found} kg, {by_hand}"
        );
        let square = if mark == "RUN" {
            "rectangular tube"
        } else {
            "square tube"
        };
        assert!(part.description.contains(square), "{}", part.description);
    }
}

/// 50 ft at 6 ft are 8 bays and 2 ft.
#[test]
fn a_length_that_is_no_whole_number_of_bays() {
    let written = Written {
        size: r#"uneven = ["short last bay", "equal bays", "long last bay", "short end bays"]"#,
        more: r#"
[[part]]
mark = "RUN"
noun = "ridge"
tube = { called = "1-3/8", outside = "1.315 in", wall = "0.065 in" }
length = "21 ft"
[[member]]
role = "ridge"
part = "RUN"
along = "peak"
stage = "frame"
sub_kit = "frame"
[[joint]]
between = ["ridge", "bow"]
says = "ridge"
hardware = { BOLT = 1 }
stage = "frame"
sub_kit = "frame"
"#,
        ..PLAIN
    };
    let equal = 600 * 16 / 9;
    let ways: [(&str, i64, i64, i64); 4] = [
        ("short last bay", 9, inches(72), inches(24)),
        ("equal bays", 9, equal, equal),
        ("long last bay", 8, inches(72), inches(96)),
        // 7 bays of 6 ft, and 4 ft at either end.
        ("short end bays", 9, inches(48), inches(48)),
    ];
    for (way, bays, first, last) in ways {
        let house = written.raise(
            "50 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        let stations = &house.frame.stations;
        let bay = |bow: usize| sixteenths(Some(stations[bow] - stations[bow - 1]));
        assert_eq!(house.frame.bows, bays + 1, "{way}");
        assert!((bay(1) - first).abs() <= 1, "{way}: first bay {}", bay(1));
        assert!(
            (bay(bays as usize) - last).abs() <= 1,
            "{way}: last bay {}",
            bay(bays as usize)
        );
        assert_eq!(sixteenths(Some(stations[bays as usize])), feet(50), "{way}");
        assert_eq!(house.count("POST"), 2 * (bays + 1), "{way}");
        // Two feet and a crossing a bow; the ridge is 21 and 21 and 8 ft whatever stands under it.
        assert_eq!(house.count("BOLT"), 3 * (bays + 1), "{way}");
        assert_eq!(house.count("RUN"), 3, "{way}");
        // A whole number of bays needs no way, and is not changed by one.
        let even = written.raise(
            "48 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        assert_eq!(even.frame.bows, 9, "{way}");
        // Shorter than a bay: one bay, as long as the house.
        let tiny = written.raise(
            "5 ft",
            &format!("bow_spacing = \"6 ft\"\nuneven = \"{way}\""),
        );
        assert_eq!(tiny.frame.bows, 2, "{way}");
    }
    let said = written.refused("50 ft");
    for word in ["12.50 bays of 4 ft", "short last bay", "short end bays"] {
        assert!(said.contains(word), "{said}");
    }
}
