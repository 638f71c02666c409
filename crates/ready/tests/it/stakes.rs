//! Setting out against tables of handbooks and bulletins, and against sums worked by hand.
//!
//! Marks: S seen in a publication, S2 second-hand, S2t a trade page, D computed in the facts sheet, M from memory.

use measure::{Length, System};
use ready::stakes::{
    Datum, Fall, SetOut, SettingOut, Side, Tops, diagonal, diagonals_differ, how, setting_out,
    triangles,
};
use ready::tape::TapeClass;

use crate::setting::{demo, raised, sidewall};

fn feet(feet: i64) -> Length {
    Length::feet(feet)
}

fn shown(length: Length) -> String {
    length.tape(System::FeetInch)
}

/// Diagonals as the table of squaring and the table of target diagonals print them (3-4-5 rows S2, the rest D).
#[test]
fn diagonals_of_the_tables() {
    let table = [
        (3, 4, "5 ft"),
        (6, 8, "10 ft"),
        (9, 12, "15 ft"),
        (12, 16, "20 ft"),
        (15, 20, "25 ft"),
        (20, 48, "52 ft"),
        (30, 72, "78 ft"),
        (14, 48, "50 ft"),
        (14, 40, "42 ft 4-9/16 in"),
        (17, 36, "39 ft 9-3/4 in"),
        (20, 30, "36 ft 11/16 in"),
        (26, 48, "54 ft 7-1/16 in"),
        (30, 48, "56 ft 7-1/4 in"),
        (30, 96, "100 ft 6-15/16 in"),
        (12, 36, "37 ft 11-3/8 in"),
        (20, 36, "41 ft 2-3/16 in"),
        (20, 96, "98 ft 3/4 in"),
        (22, 72, "75 ft 3-7/16 in"),
        (34, 96, "101 ft 10-1/8 in"),
    ];
    for (width, length, printed) in table {
        let is = diagonal(feet(width), feet(length));
        assert_eq!(shown(is), printed, "{width} x {length}");
    }
    for (width, length, whole) in [(20, 48, 52), (30, 72, 78), (14, 48, 50), (15, 20, 25)] {
        assert_eq!(diagonal(feet(width), feet(length)), feet(whole));
    }
}

/// 30 x 96 ft, the far long side slid 1 in along itself: 1.909 in (D), and the rule 2 × slide × length / diagonal.
#[test]
fn what_a_slide_does_to_the_diagonals() {
    let differ = diagonals_differ(360.0, 1152.0, 1.0);
    assert!((differ - 1.909).abs() < 0.0005, "{differ}");
    let rule = 2.0 * 1152.0 / 360.0_f64.hypot(1152.0);
    assert!((differ - rule).abs() < 0.001, "{rule}");
}

fn legs(t: &ready::stakes::Triangle, system: System) -> [String; 3] {
    [t.along, t.across, t.slant].map(|length| length.tape(system))
}

#[test]
fn the_largest_triangle_that_house_and_tape_hold() {
    let largest = |width, length, tape| {
        let all = triangles([feet(width), feet(length)], feet(tape), System::FeetInch);
        all.first()
            .map(|t| [t.along, t.across, t.slant].map(|l| l.to_inches() / 12.0))
    };
    // A research institute's worked example takes 24-32-40 ft (S).
    assert_eq!(largest(24, 40, 100), Some([32.0, 24.0, 40.0]));
    assert_eq!(largest(30, 96, 100), Some([40.0, 30.0, 50.0]));
    // The tape's end counts, and the side: 17 ft hold 15.
    assert_eq!(largest(30, 96, 25), Some([20.0, 15.0, 25.0]));
    assert_eq!(largest(17, 36, 100), Some([20.0, 15.0, 25.0]));
    // 4 across and 3 along where the house is wider than long.
    assert_eq!(largest(40, 30, 100), Some([30.0, 40.0, 50.0]));
    assert_eq!(largest(30, 96, 4), None);
    assert_eq!(largest(2, 96, 100), None);
    let metric = |mm| Length::millimetres(mm);
    let all = triangles(
        [metric(9_000), metric(29_000)],
        metric(30_000),
        System::Metric,
    );
    assert_eq!(
        legs(&all[0], System::Metric),
        ["12000 mm", "9000 mm", "15000 mm"]
    );
    assert_eq!(all.len(), 3);
}

/// A university's 17 x 36 ft house (S): posts every 4 ft, 10 bows, 20 posts. The grid is worked by hand.
#[test]
fn the_post_grid_of_a_bulletin() {
    let family = include_str!("../../../frame/tests/it/bulletins/rut.family.toml");
    let order = include_str!("../../../frame/tests/it/bulletins/rut.order.toml");
    let frame = raised(family, order);
    let asked = SetOut {
        datum: Datum::Centre,
        ..SetOut::usual(System::FeetInch)
    };
    let out = setting_out(&frame, &asked);
    assert_eq!(out.posts.len(), 20);
    for bow in 0..10 {
        for (i, side) in [Side::Left, Side::Right].into_iter().enumerate() {
            let post = &out.posts[2 * bow + i];
            assert_eq!((post.bow, post.side), (bow + 1, side));
            assert_eq!(post.along, feet(4 * bow as i64));
            let x = [0.0, feet(17).to_metres()][i];
            assert!((post.x - x).abs() < 1e-9);
            // 4 ft posts, 2 ft of them in the ground: what the test's family has them at.
            assert!(post.level.is_some());
        }
    }
    assert_eq!(shown(out.must[4].level), "39 ft 9-3/4 in");
    assert_eq!(out.strings, [feet(17), feet(36)]);

    // With the string at the outer faces of 1.660 in posts all is 1.660 in wider and longer, and each centre 0.83 in in.
    let faces = setting_out(&frame, &SetOut::usual(System::FeetInch));
    assert_eq!(faces.offset, Length::mils(830));
    assert_eq!(
        faces.strings,
        [17, 36].map(|f| feet(f) + Length::mils(1_660))
    );
    assert_eq!(faces.posts[0].along, Length::mils(830));
    assert_eq!(faces.posts[18].along, feet(36) + Length::mils(830));
}

fn centred(fall: Fall, tops: Tops) -> SetOut {
    SetOut {
        datum: Datum::Centre,
        fall,
        tops,
        ..SetOut::usual(System::FeetInch)
    }
}

#[test]
fn an_exact_house_of_our_own() {
    let out = setting_out(&sidewall("72 ft"), &centred(Fall::default(), Tops::Level));
    assert_eq!(out.must[4].level, feet(78));
    assert_eq!(out.must[5].on_ground, feet(78));
    assert_eq!(out.posts.len(), 2 * 19);
    // Handbook 44: 3/16 in up to 80 ft (S2); with two tapes it may be twice that.
    assert_eq!(
        out.blind,
        [Length::sixty_fourths(12), Length::sixty_fourths(24)]
    );
    let says: Vec<String> = how(&out).into_iter().map(|step| step.says).collect();
    assert!(
        says.iter()
            .any(|s| s.contains("40 ft back along the base line, 30 ft across, and exactly 50 ft")),
        "{says:#?}"
    );
}

/// 30 x 96 ft: a difference under about 1/4 to 1/2 in cannot be told from tape error (D).
#[test]
fn what_cannot_be_told_from_the_tape() {
    let out = setting_out(&sidewall("96 ft"), &centred(Fall::default(), Tops::Level));
    let [one, two] = out.blind.map(Length::to_inches);
    // The diagonal is just past the tape: 100 ft at 1/4 in, and the rest at 1/32 in.
    assert!(
        (0.25..=0.3).contains(&one) && (0.5..=0.6).contains(&two),
        "{one} {two}"
    );
}

/// Ground that rises 3 ft over 72 ft and 4 ft over 30 ft, by Pythagoras. On it the diagonals of a square house differ.
#[test]
fn slope_distance_against_level_distance() {
    let frame = sidewall("72 ft");
    let fall = Fall::of(&frame, feet(3), feet(4));
    let out = setting_out(&frame, &centred(fall, Tops::WithTheGround));
    let hypot = |a: f64, b: f64| {
        Length::from_metres(a.hypot(b) * 0.3048, measure::Grid::NANOMETRE).unwrap()
    };
    assert_eq!(out.must[0].on_ground, hypot(30.0, 4.0));
    assert_eq!(out.must[2].on_ground, hypot(72.0, 3.0));
    assert_eq!(out.must[4].on_ground, hypot(78.0, 7.0));
    assert_eq!(out.must[5].on_ground, hypot(78.0, 1.0));
    assert_eq!(out.must[5].level, feet(78));
    assert!(out.must[4].on_ground > out.must[5].on_ground);
    // 18 bays of 4 ft, each 2 in up.
    assert_eq!(out.bays.len(), 1);
    assert_eq!((out.bays[0].count, out.bays[0].level), (18, feet(4)));
    assert_eq!(out.bays[0].on_ground, hypot(4.0, 2.0 / 12.0));
    // Bow 10 of 19 stands half way: 36 ft level, and 1 ft 6 in up.
    assert_eq!(out.posts[18].along, feet(36));
    assert_eq!(out.posts[18].on_ground, hypot(36.0, 1.5));
}

/// A post's height and depth over a level line, worked by hand: posts stand 5 ft over the ground.
#[test]
fn heights_and_depths_on_a_slope() {
    let frame = sidewall("72 ft");
    let level = setting_out(&frame, &centred(Fall::default(), Tops::Level));
    let nominal = level.posts[0].level.unwrap();
    assert_eq!(shown(nominal.above_ground), "5 ft");
    assert_eq!(nominal.below_line, Length::ZERO);
    assert_eq!(nominal.short_of, Length::ZERO);

    // It rises 2 ft to the back: with level tops the front posts stand out 2 ft more.
    let back = Fall::of(&frame, feet(2), Length::ZERO);
    let out = setting_out(&frame, &centred(back, Tops::Level));
    let at = |i: usize| out.posts[i].level.unwrap();
    assert_eq!(shown(at(0).above_ground), "7 ft");
    assert_eq!(shown(at(0).short_of), "2 ft");
    assert_eq!(shown(nominal.in_ground - at(0).in_ground), "2 ft");
    assert_eq!(shown(at(37).above_ground), "5 ft");
    assert_eq!(shown(at(0).below_line), "0 in");

    // With the ground, all stand 5 ft out, and the front top is 2 ft below the level line.
    let out = setting_out(&frame, &centred(back, Tops::WithTheGround));
    let at = |i: usize| out.posts[i].level.unwrap();
    assert_eq!(shown(at(0).above_ground), "5 ft");
    assert_eq!(shown(at(0).below_line), "2 ft");
    assert_eq!(shown(at(37).below_line), "0 in");

    // It falls 1 ft to the right: tops are level across, so that the right posts stand out 1 ft more.
    let right = Fall::of(&frame, Length::ZERO, feet(-1));
    let out = setting_out(&frame, &centred(right, Tops::WithTheGround));
    let at = |i: usize| out.posts[i].level.unwrap();
    assert_eq!(shown(at(0).above_ground), "5 ft");
    assert_eq!(shown(at(1).above_ground), "6 ft");
    assert_eq!(shown(at(1).short_of), "1 ft");
    let says = how(&out)
        .into_iter()
        .any(|step| step.says.contains("ask the sender"));
    assert!(says);
}

#[test]
fn the_demo_is_set_out_whole() {
    let frame = demo();
    let out: SettingOut = setting_out(&frame, &SetOut::usual(frame.system));
    assert_eq!(out.posts.len() as i64, 2 * frame.bows);
    assert!(out.posts.iter().all(|post| post.level.is_some()));
    for step in how(&out) {
        println!("- {} {}", step.says, step.caution);
    }
}

/// EC classes at 3, 5, 8, 10 and 30 m in millimetres (S2t to 10 m, 30 m D); a length is raised to the next whole metre.
#[test]
fn limits_of_metric_tapes() {
    let table = [
        (TapeClass::One, [0.4, 0.6, 0.9, 1.1, 3.1]),
        (TapeClass::Two, [0.9, 1.3, 1.9, 2.3, 6.3]),
        (TapeClass::Three, [1.8, 2.6, 3.8, 4.6, 12.6]),
    ];
    for (class, limits) in table {
        for (metres, limit) in [3, 5, 8, 10, 30].into_iter().zip(limits) {
            let is = class.limit(Length::millimetres(1_000 * metres)).unwrap();
            assert_eq!(is.to_metres() * 1e3, limit, "{class:?} {metres}");
        }
    }
    let part = TapeClass::Two.limit(Length::millimetres(1_987)).unwrap();
    assert_eq!(
        part,
        TapeClass::Two.limit(Length::millimetres(2_000)).unwrap()
    );
    // 6.5 mm at 31 m (D).
    assert_eq!(
        TapeClass::Two.limit(Length::millimetres(31_000)).unwrap(),
        Length::nanometres(6_500_000)
    );
}

/// Handbook 44 section 5.52 (S2): each interval at its ends.
#[test]
fn limits_of_american_tapes() {
    let table = [
        (6, Some("1/32 in")),
        (7, Some("1/16 in")),
        (30, Some("1/16 in")),
        (31, Some("1/8 in")),
        (55, Some("1/8 in")),
        (56, Some("3/16 in")),
        (80, Some("3/16 in")),
        (81, Some("1/4 in")),
        (100, Some("1/4 in")),
        (101, None),
    ];
    for (length, limit) in table {
        let is = TapeClass::Handbook44.limit(feet(length));
        let grid = measure::Grid::inch_fraction(32).unwrap();
        assert_eq!(
            is.map(|l| l.write(System::FeetInch, grid)).as_deref(),
            limit,
            "{length}"
        );
    }
    // In two pulls of a 25 ft tape and 10 ft more: 1/16 in each.
    let over = TapeClass::Handbook44.limit_over(feet(60), feet(25));
    assert_eq!(over, Length::sixty_fourths(12));
}

/// The drawing is to scale: posts of the demo stand as far apart as its bays, and it is well-formed.
#[test]
fn the_drawing_is_to_scale() {
    let frame = demo();
    let out = setting_out(&frame, &SetOut::usual(frame.system));
    let svg = ready::stakes::setting_out_svg(&out);
    let at: Vec<f64> = (svg.split("<circle cx=\"").skip(1))
        .map(|rest| rest.split('"').next().unwrap().parse().unwrap())
        .collect();
    assert_eq!(at.len() as i64, 2 * frame.bows);
    let long = (at[at.len() - 1] - at[0]) / frame.length.to_metres();
    for (bow, station) in frame.stations.iter().enumerate() {
        let is = at[2 * bow] - at[0];
        assert!((is - station.to_metres() * long).abs() < 0.02, "bow {bow}");
    }
    if let Ok(folder) = std::env::var("DRAWINGS") {
        std::fs::write(format!("{folder}/setting-out.svg"), svg).unwrap();
    }
}
