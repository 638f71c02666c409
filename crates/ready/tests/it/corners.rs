//! Corners from measured lengths: against a numerical library, against the bulletins' rule, and against random stakes.

mod misread;

use measure::{Length, System};
use proptest::prelude::*;
use ready::corners::{CORNERS, Corners, Measured, SquareUp, Trouble, corners, fit, read_reading};
use ready::tape::TapeClass;
use serde_json::Value;
use tally::{Corner, StakeReading};

/// Front, back, left, right, and the diagonals.
const PAIRS: [[usize; 2]; 6] = [[0, 1], [2, 3], [0, 3], [1, 2], [0, 2], [1, 3]];

fn asked(width: i64, length: i64) -> SquareUp {
    SquareUp {
        width: Length::feet(width),
        length: Length::feet(length),
        tolerance: Length::sixty_fourths(32),
        tape: Length::feet(100),
        class: TapeClass::Handbook44,
        system: System::FeetInch,
    }
}

fn reading([from, to]: [usize; 2], metres: f64) -> StakeReading {
    StakeReading {
        from: CORNERS[from],
        to: CORNERS[to],
        length: (metres * 1e9).round() as i64,
        rise: None,
    }
}

fn apart(at: &[[f64; 2]; 4], [from, to]: [usize; 2]) -> f64 {
    (at[to][0] - at[from][0]).hypot(at[to][1] - at[from][1])
}

/// All six, read without error.
fn read(at: &[[f64; 2]; 4]) -> Vec<StakeReading> {
    PAIRS.map(|pair| reading(pair, apart(at, pair))).to_vec()
}

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

fn rectangle(width: f64, length: f64) -> [[f64; 2]; 4] {
    [[0.0, 0.0], [width, 0.0], [width, length], [0.0, length]]
}

/// Twenty cases worked by scipy.optimize.least_squares; version and command stand in the file. Positions, standard errors
/// and misfits agree to a hundredth of a millimetre.
#[test]
fn as_a_numerical_library_has_it() {
    let kept: Value = serde_json::from_str(include_str!("../reference/corners.json")).unwrap();
    assert!(kept["by"].as_str().unwrap().starts_with("scipy 1."));
    let cases = kept["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 20);
    let mut worst = [0.0_f64; 3];
    for case in cases {
        let number = |value: &Value| value.as_f64().unwrap();
        let measured: Vec<Measured> = (case["readings"].as_array().unwrap().iter())
            .map(|r| Measured {
                between: [0, 1].map(|i| r["between"][i].as_u64().unwrap() as usize),
                level: number(&r["level"]),
                error: number(&r["error"]),
            })
            .collect();
        let start = rectangle(number(&case["width"]), number(&case["length"]));
        let ours = fit(&measured, start).unwrap();
        for corner in 0..4 {
            for axis in 0..2 {
                let by = ours.at[corner][axis] - number(&case["at"][corner][axis]);
                worst[0] = worst[0].max(by.abs());
            }
        }
        let sought = [[1, 0], [1, 1], [2, 0], [2, 1], [3, 1]];
        for (i, [corner, axis]) in sought.into_iter().enumerate() {
            let by = ours.error[corner][axis] - number(&case["error"][i]);
            worst[1] = worst[1].max(by.abs());
        }
        let misfit = number(&case["misfit"]);
        worst[2] = worst[2].max((ours.misfit - misfit).abs() / misfit.max(1.0));
    }
    println!("against scipy: {worst:?} (m, m, share of the misfit)");
    assert!(worst.iter().all(|by| *by < 1e-5), "{worst:?}");
}

/// The bulletins' case: sides right, diagonals 1.909 in apart on 30 x 96 ft (D): the far string slides 1 in, and no stake
/// of the base line moves (S: hold the base line, slide the far pair).
#[test]
fn the_far_string_slides_along_itself() {
    let mut at = rectangle(30.0 * FOOT, 96.0 * FOOT);
    at[1][1] += INCH;
    at[2][1] += INCH;
    let said = corners(&read(&at), &asked(30, 96)).unwrap();
    assert!((said.lengths[4] - said.lengths[5] - 1.909 * INCH).abs() < 1e-4);
    assert!(!said.within && said.agree && said.blunder.is_none());
    assert!(said.moves.slide);
    assert_eq!(said.moves.held, [Corner::FrontLeft, Corner::BackLeft]);
    let words: Vec<String> = said
        .moves
        .moves
        .iter()
        .map(|m| m.in_words(System::FeetInch))
        .collect();
    assert_eq!(
        words,
        [
            "front right: 1 in towards the front",
            "back right: 1 in towards the front"
        ]
    );
    assert!(
        said.says[0].starts_with("Move 2 stakes; front left and back left stay"),
        "{:?}",
        said.says
    );
    let svg = ready::corners::corners_svg(&said, &asked(30, 96));
    assert_eq!(svg.matches(", moves</text>").count(), 2);
    if let Ok(folder) = std::env::var("DRAWINGS") {
        std::fs::write(format!("{folder}/corners.svg"), svg).unwrap();
    }
}

/// One stake alone is off: it alone moves, even when it is one of the base line.
#[test]
fn one_stake_off_is_one_move() {
    for corner in 0..4 {
        let mut at = rectangle(20.0 * FOOT, 48.0 * FOOT);
        at[corner][1] += 1.375 * INCH;
        let said = corners(&read(&at), &asked(20, 48)).unwrap();
        let words: Vec<String> = said
            .moves
            .moves
            .iter()
            .map(|m| m.in_words(System::FeetInch))
            .collect();
        let name = CORNERS[corner].in_words();
        assert_eq!(words.len(), 1, "{words:?}");
        assert_eq!(words[0], format!("{name}: 1-3/8 in towards the front"));
    }
}

#[test]
fn square_within_the_tolerance_moves_nothing() {
    let mut at = rectangle(20.0 * FOOT, 48.0 * FOOT);
    at[2][0] += 0.4 * INCH;
    let said = corners(&read(&at), &asked(20, 48)).unwrap();
    assert!(said.within && said.moves.moves.is_empty());
    assert!(said.says[0].contains("Move nothing"), "{:?}", said.says);
    let metric = SquareUp {
        system: System::Metric,
        class: TapeClass::Two,
        tolerance: Length::millimetres(5),
        ..asked(20, 48)
    };
    let said = corners(&read(&at), &metric).unwrap();
    assert_eq!(
        said.moves.moves[0].in_words(System::Metric),
        "back right: 10 mm to the left"
    );
}

/// A side that slopes: the tape along it, and the rise. 3-4-5 scaled up: 52 ft along a rise of 20 ft are 48 ft level.
#[test]
fn a_sloping_side_is_brought_level() {
    let at = rectangle(20.0 * FOOT, 48.0 * FOOT);
    let mut readings = read(&at);
    readings[2].length = Length::feet(52).as_nanometres();
    readings[2].rise = Some(Length::feet(-20).as_nanometres());
    let said = corners(&readings, &asked(20, 48)).unwrap();
    assert!(said.within && said.agree, "{said:?}");
    assert!(said.residuals[2].over.abs() < 1e-6);

    readings[2].rise = Some(Length::feet(53).as_nanometres());
    let Err(Trouble::TooSteep { between }) = corners(&readings, &asked(20, 48)) else {
        panic!();
    };
    assert_eq!(between, "front left to back left");
}

#[test]
fn too_few_lengths_are_asked_for_by_name() {
    let at = rectangle(20.0 * FOOT, 48.0 * FOOT);
    let sides = read(&at)[..4].to_vec();
    let Err(trouble) = corners(&sides, &asked(20, 48)) else {
        panic!()
    };
    let says = trouble.to_string();
    assert!(
        says.contains("front left to back right and front right to back left"),
        "{says}"
    );
    // Five lengths, of which two are the same one twice.
    let mut twice = sides.clone();
    twice.push(sides[0]);
    assert!(matches!(
        corners(&twice, &asked(20, 48)),
        Err(Trouble::Loose { .. })
    ));
    assert!(matches!(
        corners(&[], &asked(20, 48)),
        Err(Trouble::Loose { .. })
    ));
    let odd = StakeReading {
        to: Corner::FrontLeft,
        ..sides[0]
    };
    assert!(matches!(
        corners(&[odd], &asked(20, 48)),
        Err(Trouble::NotBetween(1))
    ));
}

/// Any five of the six hold the corners, and nothing checks them.
#[test]
fn any_five_will_do_and_say_that_nothing_checks_them() {
    let at = rectangle(20.0 * FOOT, 48.0 * FOOT);
    for left_out in 0..6 {
        let mut five = read(&at);
        five.remove(left_out);
        let said = corners(&five, &asked(20, 48)).unwrap();
        assert_eq!(said.spare, 0);
        assert!(said.within && said.blunder.is_none());
        assert!(
            said.says.last().unwrap().contains("Nothing checks"),
            "{:?}",
            said.says
        );
        five[0].length += Length::feet(1).as_nanometres();
        let said = corners(&five, &asked(20, 48)).unwrap();
        let blunder = said.blunder.unwrap();
        assert!(!blunder.named && said.moves.moves.is_empty());
        assert!(said.says[1].contains("cannot be told"), "{:?}", said.says);
    }
}

#[test]
fn lengths_of_no_triangle_are_refused() {
    let at = rectangle(20.0 * FOOT, 48.0 * FOOT);
    let mut five = read(&at);
    five.remove(5);
    // 20, 48 and 84 ft.
    five[4].length = Length::feet(84).as_nanometres();
    let said = corners(&five, &asked(20, 48));
    let Err(Trouble::NoTriangle { longest, .. }) = said else {
        panic!("{said:?}")
    };
    assert_eq!(longest, "front left to back right");
}

/// Stakes anywhere near their places.
fn stakes() -> impl Strategy<Value = (i64, i64, [[f64; 2]; 4])> {
    let off = || -0.15..0.15_f64;
    (
        10..40_i64,
        12..150_i64,
        prop::array::uniform4([off(), off()]),
    )
        .prop_map(|(width, length, off)| {
            let mut at = rectangle(width as f64 * FOOT, length as f64 * FOOT);
            for (corner, by) in at.iter_mut().zip(off) {
                corner[0] += by[0];
                corner[1] += by[1];
            }
            (width, length, at)
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn exact_readings_leave_no_residuals((width, length, at) in stakes()) {
        let said = corners(&read(&at), &asked(width, length)).unwrap();
        prop_assert!(said.agree && said.blunder.is_none());
        for residual in &said.residuals {
            prop_assert!(residual.over.abs() < 1e-6, "{:?}", said.residuals);
        }
        for pair in PAIRS {
            prop_assert!((apart(&said.at, pair) - apart(&at, pair)).abs() < 1e-6);
        }
    }

    #[test]
    fn after_the_moves_it_is_square((width, length, at) in stakes()) {
        let asked = asked(width, length);
        let said = corners(&read(&at), &asked).unwrap();
        let mut after = said.at;
        for by in &said.moves.moves {
            let corner = CORNERS.iter().position(|c| *c == by.corner).unwrap();
            after[corner][0] += by.right;
            after[corner][1] += by.back;
        }
        let again = corners(&read(&after), &asked).unwrap();
        prop_assert!(again.within && again.moves.moves.is_empty(), "{:?}", said.moves);
        // Whoever moves fewer is not square: every way to move one stake less was tried, so it is enough that it moves
        // none where none is needed.
        prop_assert_eq!(said.moves.moves.is_empty(), said.within);
    }

    #[test]
    fn nothing_read_makes_it_fall_over(
        lengths in prop::collection::vec((0..5_usize, 0..5_usize, any::<i64>(), any::<Option<i64>>()), 0..8),
        width in any::<i64>(), length in any::<i64>(), tape in any::<i64>(), tolerance in any::<i64>(),
    ) {
        let all = [CORNERS[0], CORNERS[1], CORNERS[2], CORNERS[3], Corner::Other];
        let readings: Vec<StakeReading> = lengths
            .into_iter()
            .map(|(from, to, length, rise)| StakeReading { from: all[from], to: all[to], length, rise })
            .collect();
        for system in [System::FeetInch, System::Metric] {
            let wild = SquareUp {
                width: Length::nanometres(width),
                length: Length::nanometres(length),
                tolerance: Length::nanometres(tolerance),
                tape: Length::nanometres(tape),
                class: TapeClass::Two,
                system,
            };
            let _ = corners(&readings, &wild);
            let _ = corners(&readings, &SquareUp { tape: wild.tape, ..asked(20, 48) });
        }
    }
}

/// Readings as people write them, and what is not one.
#[test]
fn readings_are_read_as_they_are_written() {
    let read = |text| read_reading(text, System::FeetInch);
    let one = read("fl-br 52' 1/2\" rise 8 in").unwrap();
    assert_eq!((one.from, one.to), (Corner::FrontLeft, Corner::BackRight));
    assert_eq!(
        one.length,
        (Length::feet(52) + Length::sixty_fourths(32)).as_nanometres()
    );
    assert_eq!(one.rise, Some(Length::inches(8).as_nanometres()));
    let whole = read("FR-BL 52").unwrap();
    assert_eq!(
        (whole.length, whole.rise),
        (Length::feet(52).as_nanometres(), None)
    );
    let metric = read_reading("BL-BR 7,315", System::Metric);
    // A comma with three digits after it may mean either.
    assert!(metric.is_err());
    let metric = read_reading("BL-BR 7.315 rise -0.2", System::Metric).unwrap();
    assert_eq!(
        (metric.length, metric.rise),
        (7_315_000_000, Some(-200_000_000))
    );
    for wrong in [
        "",
        "FL-FR",
        "FL-FL 20'",
        "FL 20'",
        "XX-FR 20'",
        "FL-FR 20 1/2",
        "FL-FR 20' rise",
    ] {
        let says = read(wrong).unwrap_err();
        assert!(!says.is_empty(), "{wrong}");
    }
}
