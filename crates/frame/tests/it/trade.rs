//! Facts of the trade, all common practice without a source, in a family for tests only: what comes of them by hand.

use frame::{Family, Frame, Order, PartsList, expand};
use measure::Length;

use crate::house::{check, quantity};

const SIX_FOOT: &str = include_str!("trade/six-foot.family.toml");

fn raise(size: &str, options: &str) -> (Frame, PartsList) {
    let order = format!("name = \"t\"\nfamily = \"six-foot\"\n{size}\n[options]\n{options}");
    let order = Order::read(&order).unwrap_or_else(|e| panic!("{e}"));
    let family = Family::read(SIX_FOOT).unwrap_or_else(|e| panic!("{e}"));
    let frame = expand(&order, &family).unwrap_or_else(|e| panic!("{e}"));
    let list = PartsList::of(&frame);
    (frame, list)
}

/// How a line of ridge stock is made up: whole runs of 72 in, and what finishes it.
struct Line {
    size: &'static str,
    bows: i64,
    tubes: i64,
    extensions: i64,
    /// What the last piece is cut to, in inches; nothing where it goes in as it comes.
    last: Option<i64>,
}

const LINES: [Line; 6] = [
    // 4 x 72 in; the last tube loses its swage.
    Line {
        size: "length = \"24 ft\"",
        bows: 7,
        tubes: 4,
        extensions: 0,
        last: Some(72),
    },
    // 4 x 72 in and 36 in: the extension as it comes.
    Line {
        size: "length = \"27 ft\"\nbow_spacing = \"3 ft\"",
        bows: 10,
        tubes: 4,
        extensions: 1,
        last: None,
    },
    // 4 x 72 in and 48 in, more than an extension.
    Line {
        size: "length = \"28 ft\"",
        bows: 8,
        tubes: 5,
        extensions: 0,
        last: Some(48),
    },
    // 5 x 72 in and 24 in of an extension.
    Line {
        size: "length = \"32 ft\"",
        bows: 9,
        tubes: 5,
        extensions: 1,
        last: Some(24),
    },
    Line {
        size: "length = \"36 ft\"",
        bows: 10,
        tubes: 6,
        extensions: 0,
        last: Some(72),
    },
    // 16 x 72 in.
    Line {
        size: "length = \"96 ft\"",
        bows: 25,
        tubes: 16,
        extensions: 0,
        last: Some(72),
    },
];

#[test]
fn an_extension_finishes_some_lengths_of_ridge_and_purlins() {
    for (options, lines) in [("", 1), ("purlins = \"one each side\"", 3)] {
        for line in LINES {
            let (frame, list) = raise(line.size, options);
            let size = line.size;
            assert_eq!(frame.bows, line.bows, "{size}");
            assert_eq!(quantity(&list, "RT"), lines * line.tubes, "{size}");
            assert_eq!(quantity(&list, "RX"), lines * line.extensions, "{size}");
            // One screw a splice, and a splice between every two pieces of a line.
            let splices: i64 = (list.line("S8").unwrap().uses().iter())
                .filter(|(says, _)| says.contains("swage in plain"))
                .map(|(_, count)| count)
                .sum();
            assert_eq!(
                splices,
                lines * (line.tubes + line.extensions - 1),
                "{size}"
            );
            let last = (frame.pieces.iter())
                .filter(|p| ["RT", "RX"].contains(&p.mark.0.as_str()))
                .filter(|p| (p.to - frame.length.to_metres()).abs() < 1e-9);
            let cuts: Vec<Option<Length>> = last.map(|p| p.cut_to).collect();
            assert_eq!(cuts.len() as i64, lines, "{size}");
            let wanted = line.last.map(Length::inches);
            assert!(cuts.iter().all(|cut| *cut == wanted), "{size}: {cuts:?}");
            // Connectors go with purlins only: one a crossing.
            assert_eq!(quantity(&list, "CC"), (lines - 1) * line.bows, "{size}");
        }
    }
}

/// 24 ft at 4 ft, all of it by hand: 7 bows on 14 posts; three lines of 4 tubes; four rails of three channels of 8 ft;
/// two studs an end.
#[test]
fn a_house_of_24_ft_by_hand() {
    let (_, list) = raise(
        "length = \"24 ft\"",
        "purlins = \"one each side\"\nshade = \"over the house\"",
    );
    // A bolt a leg and two a peak; one a leg in the base rail and one in the hip rail; one a stud.
    let bolts = 14 + 2 * 7 + 14 + 14 + 4;
    check(
        &list,
        &[
            ("GP", 14),
            ("HB", 14),
            ("RT", 12),
            ("HC", 12),
            ("PL", 8),
            ("CC", 14),
            ("ST", 4),
            ("BT", bolts),
            ("NT", bolts),
            ("LW", bolts),
            ("FW", bolts),
            ("S8", 9 + 4 * 8 + 2 * 4),
            ("S10", 7 + 2 * 14),
            ("MC", 1),
            ("EC", 2),
            ("SC", 1),
        ],
    );
    // Base and hip rail are of the same channel.
    assert_eq!(
        list.line("HC").unwrap().uses(),
        [("base rail", 6), ("hip rail", 6)]
    );
    // And purlins are more of the ridge.
    assert_eq!(
        list.line("RT").unwrap().uses(),
        [("ridge", 4), ("purlin", 8)]
    );
    let post = &list.line("GP").unwrap().part;
    assert_eq!(post.length, Some(Length::feet(4)));
    assert!(post.description.contains("1-5/8") && post.description.contains("1.660 in"));
    for mark in ["MC", "EC"] {
        let film = &list.line(mark).unwrap().part.description;
        assert!(
            film.contains("6 mil") && film.contains("four years"),
            "{film}"
        );
    }
}

/// The same screws and bolts are in three bags; spares are in the first.
#[test]
fn the_same_hardware_is_bagged_apart() {
    let (_, list) = raise("length = \"24 ft\"", "purlins = \"one each side\"");
    for mark in ["BT", "NT", "LW", "FW"] {
        assert_eq!(
            list.line(mark).unwrap().sub_kits(),
            [("frame", 28), ("side walls", 28), ("end walls", 4)],
            "{mark}"
        );
    }
    let screws = list.line("S8").unwrap();
    assert_eq!(
        screws.sub_kits(),
        [("frame", 9), ("side walls", 32), ("end walls", 8)]
    );
    // 49 are needed, and a tenth more, rounded up, is packed.
    assert_eq!((screws.quantity, screws.supplied), (49, 54));
    assert_eq!(list.line("S10").unwrap().sub_kits(), [("frame", 35)]);
}

/// Film and fabric are apart from the crate, and heavy: 6 mil film is 28.7 lb to 1000 square feet (S2t).
#[test]
fn film_and_fabric_are_shipped_apart() {
    let (_, list) = raise("length = \"24 ft\"", "shade = \"over the house\"");
    let packed = |says: &str| list.packed.iter().find(|p| p.says == says).unwrap();
    // Half a circle of 8 ft on legs of 2 ft, from 6 in up, with 12 in to hold a side: 30.1 ft, so a roll of 32 ft; 24 ft
    // and 2 ft an end. Each end is 16 by 10 ft with a foot all round.
    let arc = std::f64::consts::PI * 8.0 + 2.0 * 1.5 + 2.0;
    assert!(28.0 < arc && arc < 32.0);
    let film = (32.0 * 28.0 + 2.0 * 18.0 * 12.0) * 0.0287;
    let found = packed("film roll").contents.to_pounds();
    assert!(
        (found - film).abs() < 0.1,
        "{found} lb of film, {film} by hand"
    );
    // The cloth ends where the legs do, 6 in further on either side: 26.1 ft, so 28 ft by 24 ft, at 100 g a square metre.
    let cloth = 28.0 * 24.0 * 0.3048f64.powi(2) * 0.1;
    let fabric = packed("fabric roll");
    assert!((fabric.contents.to_kilograms() - cloth).abs() < 0.01);
    assert!(((fabric.gross - fabric.contents).to_kilograms() - 2.0).abs() < 1e-9);
    // The crate has all but those, its own 40 kg, and the five spare screws of the frame's bag.
    let apart: f64 = ["MC", "EC", "SC"]
        .map(|mark| list.line(mark).unwrap().mass().to_kilograms())
        .iter()
        .sum();
    let spare = list.line("S8").unwrap();
    let spares = (spare.supplied - spare.quantity) as f64 * 0.002;
    let crate_ = list.mass().to_kilograms() - apart + spares + 40.0;
    assert!((packed("crate").gross.to_kilograms() - crate_).abs() < 1e-6);
    let gross: f64 = list.packed.iter().map(|p| p.gross.to_kilograms()).sum();
    assert!((list.gross().to_kilograms() - gross).abs() < 1e-6);
}
