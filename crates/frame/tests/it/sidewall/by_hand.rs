//! Whole parts lists of sidewall-30 worked by hand from what the family file says, mark by mark.

use measure::Length;

use super::{NEARLY_ALL, listed, sidewall};
use crate::house::check;

// The roof by its own circles, inches, heights over the tops of the posts: a shoulder of 36 about (−144, 0) and a
// roof of 480 that touches it and goes through the peak (0, 90). With k = 480 − 36 = 444 and a the shoulder's turn,
// the roof's centre is (−144 + k cos a, −k sin a), and its distance from the peak is 480:
//   2·144·k cos a − 2·90·k sin a = k² + 144² + 90² − 480²   →   127872 cos a − 79920 sin a = −4428
//   a = 59.6773°, the centre (80.1619, −383.2590)
//   shoulder 36 a = 37.4964;   roof 480 × (30.3227° − 9.6130°) = 173.4913;   half over a post 210.9877
//   height at x from the middle: √(480² − (x + 80.1619)²) − 383.2590, nearer the wall √(36² − (x − 144)²)
//   at 21: 85.960, 42: 80.935, 48: 79.315, 69: 72.976, 90: 65.567, 96: 63.246, 117: 54.379, 138: 44.298,
//   at 144: 41.184, 165: 29.240
//   a tie 40 up: x = √(480² − 423.2590²) − 80.1619 = 146.2268 each way, 292.4536 long

/// 48 ft and nothing chosen: sides of 5 ft, bows at 4 ft, a tie on every second, a ridge, both ends framed.
#[test]
fn a_plain_house_by_hand() {
    let order = sidewall("length = \"48 ft\"", "");
    let bows = 48 / 4 + 1; // 13
    let posts = 2 * bows; // 26
    let ties = 6; // bows 2, 4, 6, 8, 10, 12

    // Ridge of 576: tubes of 127 show 127 − 4 = 123, 576 / 123 = 4.7 → 5, 4 splices at 123, 246, 369, 492; bows
    // stand at 96, 240, 336, 480, all further off than 2.
    let (tubes, tube_splices) = (5, 4);
    // A tie of 292.45: tubes of 152 show 148, so 148 and 144.45: two tubes, one splice; of 148 nothing is left for
    // another 144.
    let (tie_tubes, tie_splices) = (2, 1);
    // Base and hip on both sides: 576 / 117 = 4.9 → 5, 4 splices at 117, 234, 351, 468; bows at 96, 240, 336, 480.
    let (rails, rail_pieces, rail_splices) = (4, 5, 4);
    // Lock channel on them: 576 / 96 = 6 sticks. Wires of 80 lapping 2: 7 whole ones reach 7 × 78 = 546, and 30.
    let (rail_locks, rail_wires) = (6, 7);
    let rail_fastenings = 576 / 24 + 1; // 25
    // Arch from 4 in to 4 in: 2 × (210.9877 + 56) = 533.975. Sticks 533.975 / 96 = 5.6 → 6, the last cut to 54; two
    // of 54 are more than 96. Wires: 6 × 78 = 468, and 66. Every 18 in: 29.7 → 30 gaps, 31.
    let (arch_locks, arch_wires, arch_fastenings) = (6, 6, 31);
    // Cut wires: 30 four times, two of them from one of 80; 66 twice, each from its own. 2 + 2.
    let cut_wires = 4;
    // Studs at 0, 48, 96 and 144: seven an end. Their heights 150, 139.3, 123.2, 101.2: no two come out of 168.
    let studs = 2 * 7; // 14

    let list = listed(&order);
    check(
        &list,
        &[
            ("P1", posts),
            ("B1", posts),
            ("B2", posts),
            ("R1", tubes),
            ("T1", ties * tie_tubes),
            ("S1", studs),
            ("C1", rails * rail_pieces),
            ("C2", rails * rail_splices),
            ("L1", rails * rail_locks + 2 * arch_locks), // 24 + 12
            ("W1", rails * rail_wires + 2 * arch_wires + cut_wires), // 28 + 12 + 4
            ("F1", 1),
            ("F2", 2),
            ("K1", 2 * bows),
            ("X1", bows),
            ("X4", 2 * ties),
            ("X6", studs),
            ("X7", studs),
            // A leg in its post, a piece in a piece, a tie's two ends.
            ("N1", posts + posts + 2 * ties), // 64
            ("N2", 4 * bows),
            ("N3", posts + posts + 2 * ties + 4 * bows), // 116
            ("N4", posts + posts + 2 * 2 * ties + 4 * bows), // 128
            // Splices of tubes 4 + 12, rails on posts 52 + 52, plates 64, channel on rails 100, on arches 62: 346.
            (
                "N5",
                tube_splices
                    + 2 * ties * tie_splices
                    + 2 * 2 * posts
                    + 4 * rails * rail_splices
                    + rails * rail_fastenings
                    + 2 * arch_fastenings,
            ),
            ("N6", 2 * bows + 2 * studs + 2 * studs), // 82
        ],
    );

    // The cover: 533.975 + 2 × 12 = 557.975 in, 46.5 ft, so the 48 ft roll.
    let cover = &list.line("F1").unwrap().part;
    assert_eq!(
        (cover.width, cover.length),
        (Some(Length::feet(48)), Some(Length::feet(52)))
    );
    let supplied = |mark: &str| list.line(mark).unwrap().supplied;
    // 3 of 100 of 64 are 2; of 116, 4, but 5 at least; 5 of 100 of 346 are 18, in hundreds 400; of 82, 5.
    let packs = ["N1", "N2", "N3", "N4", "N5", "N6", "W1"].map(supplied);
    assert_eq!(packs, [66, 54, 121, 133, 400, 100, 45]);
}

/// What the plain house weighs in its crate, from 0.02466 (D − t) t kg/m (engineering facts, 1.1, S2), steel strip of
/// 7850 kg/m³ and aluminium of 2700 (from memory).
#[test]
fn the_crate_of_a_plain_house_by_hand() {
    let inch = 0.0254;
    let tube = |count: f64, outside: f64, wall: f64, long: f64| {
        count * 0.02466 * (outside - wall) * 25.4 * wall * 25.4 * long * inch
    };
    let strip = |count: f64, wide: f64, metres: f64, long: f64, density: f64| {
        count * wide * inch * metres * long * inch * density
    };
    let steel = tube(26.0, 1.9, 0.083, 96.0)
        + tube(26.0, 1.9, 0.083, 102.5)
        + tube(26.0, 1.9, 0.083, 117.5)
        + tube(5.0, 1.9, 0.065, 127.0)
        + tube(12.0, 1.66, 0.083, 152.0)
        + tube(14.0, 1.66, 0.065, 168.0)
        + strip(20.0, 3.5, 0.0635 * inch, 117.0, 7850.0)
        + strip(36.0, 2.375, 0.0012, 96.0, 2700.0);
    // Plates, wires with their spare, peak plates, clamps, brackets, stud clamps, shoes; then fasteners as packed.
    let hardware = 16.0 * 115.0
        + 45.0 * 62.0
        + 26.0 * 520.0
        + 13.0 * 210.0
        + 12.0 * 340.0
        + 14.0 * (150.0 + 640.0)
        + 66.0 * 31.0
        + 54.0 * 34.0
        + 121.0 * 5.0
        + 133.0 * 3.0
        + 400.0 * 4.5
        + 100.0 * 5.2;
    let list = listed(&sidewall("length = \"48 ft\"", ""));
    let crate_of = &list.packed[0];
    let ours = crate_of.contents.to_kilograms();
    let by_hand = steel + hardware / 1e3;
    // The formula's 0.02466 is good to 1 in 10 000.
    assert!((ours - by_hand).abs() < by_hand * 2e-4, "{ours} {by_hand}");
    assert!((crate_of.gross.to_kilograms() - ours - 85.0).abs() < 1e-6);
    // Film: 48 × 52 ft and twice 32 × 14.5 ft of 6 mil, 0.92 g/cm³ (S2t).
    let film = (48.0 * 52.0 + 2.0 * 32.0 * 14.5) * 0.3048_f64.powi(2) * 0.0001524 * 920.0;
    let bundle = list.packed[1].contents.to_kilograms();
    assert!((bundle - film).abs() < 1e-3, "{bundle} {film}");
    assert!((list.gross().to_kilograms() - ours - bundle - 85.0 - 9.0).abs() < 1e-6);
}

#[test]
fn nearly_every_option_by_hand() {
    let order = sidewall("length = \"96 ft\"", NEARLY_ALL);
    let bows = 96 / 4 + 1; // 25
    let posts = 2 * bows; // 50
    let trusses = bows - 2; // 23: the end bows stand in framed walls

    // Lines of 1152. Tubes that show 123: 1152 / 123 = 9.4 → 10, 9 splices, the last piece 45 long; the splices come
    // no nearer to a bow than 3 (861 beside 864, 1107 beside 1104).
    let (tubes, tube_splices) = (10, 9);
    // Light tube: four purlins and the left roll bar, nine whole ones each; five of 45 come by twos from 123: 3.
    let light_lines = 5;
    let light_tubes = light_lines * 9 + 3; // 48
    // Hip rails: 1152 / 117 = 9.8 → 10, 9 splices (819 beside 816), the last 99 long.
    let (hips, rail_pieces, rail_splices) = (2, 10, 9);
    // Boards of 144 are three bays: every joint would lie on a post. The first cut to 132, the joints lie 12 before
    // the posts: 132, then 7 whole ones to 1140, then 12. 8 joints. Cut: 132 twice, each from its own (12 and a kerf
    // are not left of it), and 12 twice from one.
    let (boards, board_splices) = (2 * 7 + 3, 2 * 8);
    // Lock channel 1152 / 96 = 12. Base on both sides, since the screen holds there on the left: single. Hip: double.
    // Arches 2 × (210.9877 + 68) = 557.975: 5.8 → 6 double; the last 78, two of which are no 96.
    // Doors: jambs to 82 four times, headers 84 and 42: no two of them out of 96 (42 + 82 = 124): 6.
    let single = 2 * 12 + 6; // 30
    let double = 2 * 12 + 2 * 6; // 36
    // Wires of 80 lapping 2. Of 1152: 14 whole ones (1092) and 60; on base 2, hip 2, again on the hip for the screen 1
    // and for the inner film 2. Arches 557.975: 7 (546) and 12. Inner film over the arches from post to post,
    // 421.975: 5 (390) and 32. Jambs of 82: 1 and 4; headers: 84 is 1 and 6, 42 is less than one.
    let whole_wires = 7 * 14 + 2 * 7 + 2 * 5 + 4 + 1; // 127
    // Cut: seven of 60, none of which goes with another, with a 32 or with the 42; each leaves 19.875, where 12, 12, 6,
    // 4, 4, 4, 4 find room. 42 goes with a 32, the other 32 by itself: 9.
    let cut_wires = 9;
    // Front: jambs at 42, studs at 90 and 138 (186 is outside), uprights of the shutter at 21 on the header.
    // Back: jambs at 21, studs at 69, 117, 165. Two of the short uprights, 72 + 85.960 − 82 = 75.960 each, come out
    // of one of 168; beside each of the others there is no room for one (the least, 101.240, leaves 66.6).
    let standing = (2 + 4) + (2 + 6); // 14
    let short = 2;
    let stock = standing + 1; // 15

    let web_ends = trusses * 2 * (2 + 2 + 1); // two webs a side and a king post: 230
    let brace_ends = 2 * 8;
    let anchors = 2 * (2 + 6); // both end bows, and bows 2, 6, 10, 14, 18, 22
    // Wind panels 8 ft by 5 ft, held every 18 in: 6 gaps and 4 gaps, twice.
    let panel_screws = 2 * 2 * (6 + 4); // 40
    // Arch 557.975 / 18 = 30.999 → 31 gaps, 32. Round the doors: 82 → 5 gaps, 6; 84 → 6; 42 → 3 gaps, 4.
    let end_fastenings = 2 * 32 + 4 * 6 + 6 + 4; // 98
    let rail_fastenings = 4 * (1152 / 24 + 1); // 196

    let list = listed(&order);
    check(
        &list,
        &[
            ("P2", posts),
            ("B1", posts),
            ("B2", posts),
            ("R1", tubes),
            ("R2", light_tubes),
            ("T1", 2 * trusses),
            ("V1", 2 * trusses),
            ("V2", 2 * trusses),
            ("V3", trusses),
            // Corner braces of 107.19 and wind braces of 133.52: each out of its own 144.
            ("G1", 8),
            ("S1", stock),
            ("H1", 1),
            ("H2", 1),
            ("H3", 4),
            ("C1", hips * rail_pieces),
            ("C2", hips * rail_splices),
            ("J1", boards),
            ("J2", board_splices),
            ("L1", single),
            ("L2", double),
            ("W1", whole_wires + cut_wires),
            ("F1", 1),
            ("F2", 2),
            ("F3", 1),
            ("F4", 2),
            ("Y1", 1),
            ("Y3", 1),
            ("Y4", 3),
            ("K1", 2 * bows),
            ("X1", bows),
            ("X3", 4 * bows),
            ("X4", 2 * trusses),
            ("X5", web_ends + 2 * brace_ends), // 230 + 32
            ("X6", standing + 2 * short),      // tops, and the short ones' feet
            ("X7", standing),
            ("Q2", 1152 / 24 + 1),
            // Shade 38 ft by 96 ft, a clip every 2 ft all round: 2 × (19 + 48).
            ("Q3", 134),
            // Ground cover: 31 ft from three strips of 12 ft, 97 ft long, a pin every 3 ft: 3 × 2 × (4 + 33).
            ("Q4", 222),
            ("M1", 1),
            ("D1", 3),
            ("D2", 9),
            ("D3", 2),
            ("E1", anchors),
            ("E2", anchors),
            ("U1", 1),
            ("U2", 1),
            ("U3", 1),
            ("U4", 1),
            // Legs, bow pieces, ties, webs, braces, the fan's four, anchors.
            (
                "N1",
                posts + posts + 2 * trusses + web_ends + brace_ends + 4 + anchors,
            ), // 412
            ("N2", 4 * bows),
            // As N1, and the peaks and the boards.
            (
                "N3",
                posts
                    + posts
                    + 2 * trusses
                    + web_ends
                    + brace_ends
                    + 4
                    + anchors
                    + 4 * bows
                    + posts,
            ), // 562
            (
                "N4",
                posts + posts + 4 * trusses + 4 * bows + posts + panel_screws,
            ), // 382
            // Tube splices 9 + 36, ties 46, hip rails on posts 100, plates 72, channel 196 + 98, roll bar 18, crank 4.
            (
                "N5",
                5 * tube_splices
                    + 2 * trusses
                    + hips * bows * 2
                    + 4 * hips * rail_splices
                    + rail_fastenings
                    + end_fastenings
                    + 2 * tube_splices
                    + 4,
            ), // 579
            // Ridge 50, purlins 200, tops 32 and short feet 4, two headers and four vent rails at both ends 24, shoes
            // 28, panels 40, doors 36, fan 12, shutter 12, blower 6.
            (
                "N6",
                2 * bows
                    + 2 * 4 * bows
                    + 2 * (standing + 2 * short)
                    + 2 * 2 * (2 + 4)
                    + 2 * standing
                    + panel_screws
                    + 36
                    + 12
                    + 12
                    + 6,
            ), // 444
            ("N7", posts),
            ("N8", 4 * board_splices),
        ],
    );

    let sheet = |mark: &str| {
        let part = &list.line(mark).unwrap().part;
        let inches = |length: Option<Length>| length.unwrap().to_metres() / 0.0254;
        (inches(part.width).round(), inches(part.length).round())
    };
    // The cover on the right from 4 in with 12 to hold, on the left from 3 in with 16 round the bar:
    // 565.975 − 7 + 28 = 586.975, 48.9 ft, so 50 ft.
    assert_eq!(sheet("F1"), (600.0, 1200.0));
    assert_eq!(sheet("F2"), (384.0, 186.0)); // 30 and 13.5 ft, and a foot all round
    assert_eq!(sheet("F3"), (480.0, 1200.0)); // 421.975 + 24 = 445.975, 37.2 ft
    assert_eq!(sheet("F4"), (96.0, 60.0)); // 68 + 12 = 80; a bay and 6 in at each end
    assert_eq!(sheet("Y1"), (456.0, 1152.0)); // 421.975 + 12 = 433.975, 36.2 ft
    assert_eq!(sheet("Y3"), (84.0, 1176.0)); // 68 + 6 = 74, more than 6 ft
    assert_eq!(sheet("Y4"), (144.0, 1164.0));
}

/// Pieces that come to measure, and what the yard cuts.
#[test]
fn lengths_by_hand() {
    let list = listed(&sidewall("length = \"96 ft\"", NEARLY_ALL));
    let sixteenths = |mark: &str| {
        let length = list.line(mark).unwrap().part.length.unwrap();
        (length.to_metres() / 0.0254 * 16.0).round()
    };
    // Lower piece: 37.4964 + 60 of the roof, and 5 in the post: 102.4964. Upper: 173.4913 − 60 and 4: 117.4913.
    assert_eq!(sixteenths("B1"), 102.5 * 16.0);
    assert_eq!(sixteenths("B2"), 117.5 * 16.0);
    // Webs from 48 on the tie to the bow at 96 and 24, where it is 63.246 and 85.303 up, the tie 40:
    // √(48² + 23.246²) = 53.333 and √(24² + 45.303²) = 51.268. The king post: 90 − 40.
    assert_eq!(sixteenths("V1"), 853.0);
    assert_eq!(sixteenths("V2"), 820.0);
    assert_eq!(sixteenths("V3"), 800.0);
    let cuts = |role: &str| -> Vec<f64> {
        (list.lines.iter().flat_map(|line| &line.places))
            .filter(|place| place.role == role)
            .filter_map(|place| place.cut_to)
            .map(|cut| (cut.to_metres() / 0.0254 * 16.0).round())
            .collect()
    };
    // From the roof 96 up, (−75.029, 70.961), to the next bow's shoulder, (−162.175, 31.075): 87.146 across, 39.886
    // down, 48 along: 107.188.
    assert_eq!(cuts("corner brace"), [1715.0; 4]);
    // From the shoulder, 103.075 over the ground, to 12 on the post: 17.825, 91.075 and 96: 133.523.
    assert_eq!(cuts("wind brace"), [2136.0; 4]);
    // 292.4536 − 148 = 144.4536.
    assert_eq!(cuts("tie"), [2311.0; 23]);
    // 72 + 85.960 − 82.
    assert_eq!(cuts("short vent upright"), [1215.0; 2]);
    // First and last piece of either side.
    assert_eq!(cuts("base board"), [2112.0, 192.0, 2112.0, 192.0]);
}

/// The film bundle of that house: film of 6 mil, cloth by its mass a square metre, and what holds their edges.
#[test]
fn the_film_bundle_by_hand() {
    let list = listed(&sidewall("length = \"96 ft\"", NEARLY_ALL));
    let square_foot = 0.3048_f64.powi(2);
    let film = (50.0 * 100.0 + 2.0 * 32.0 * 15.5 + 40.0 * 100.0 + 2.0 * 8.0 * 5.0)
        * square_foot
        * 0.0001524
        * 920.0;
    let cloth =
        (38.0 * 96.0 * 0.085 + 7.0 * 98.0 * 0.110 + 3.0 * 12.0 * 97.0 * 0.105) * square_foot;
    // Clips 134 and 7 spare, in 25s: 150 of 12 g. Pins 222, in hundreds: 300 of 45 g. Panels: 40 screws and washers.
    let edges = 150.0 * 0.012 + 300.0 * 0.045 + 40.0 * (0.0052 + 0.003);
    let bundle = &list.packed[1];
    let ours = bundle.contents.to_kilograms();
    assert!((ours - film - cloth - edges).abs() < 0.01, "{ours}");
    assert!((bundle.gross.to_kilograms() - ours - 9.0).abs() < 1e-6);
}
