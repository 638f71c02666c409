//! The tube tables against what is printed, and the naming trap.

use measure::tube::{
    self, Called, EMT, FORMULA_CONSTANT, GROUP_IC, Naming, PRINTED_CONSTANT, Row, SCHEDULE_40,
    Series, pounds_per_foot,
};
use measure::{Gauge, Grid, Length, Mass, Sure, gauge};

fn is_near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within + 1e-9
}

fn printed(row: &Row) -> f64 {
    row.printed.expect("a printed weight").pounds_per_foot()
}

/// Every weight that was found in print, against the formula.
///
/// Schedule 40 and four EMT rows are second-hand (S2); Group IC and the other two EMT rows are from memory (M),
/// so of these the check says that they fit together and no more.
#[test]
fn every_printed_weight_agrees_with_the_formula() {
    let with_weight: Vec<&Row> = tube::rows().filter(|row| row.printed.is_some()).collect();
    for row in &with_weight {
        assert_eq!(row.weight_agrees(), Some(true), "{row:?}");
    }
    let weight_sure = |row: &&Row| row.printed.map(|weight| weight.sure);
    let (from_memory, seen): (Vec<&Row>, Vec<&Row>) = with_weight
        .iter()
        .partition(|row| weight_sure(row) == Some(Sure::Memory));
    let name = |row: &&Row| format!("{:?} {}", row.series, row.name);
    let from_memory: Vec<String> = from_memory.iter().map(name).collect();
    println!(
        "weights seen second-hand, checked: {:?}",
        seen.iter().map(name).collect::<Vec<_>>()
    );
    println!("weights from memory, consistent only: {from_memory:?}");
    assert_eq!(
        from_memory,
        [
            "GroupIc 1.660",
            "GroupIc 1.900",
            "GroupIc 2.375",
            "GroupIc 2.875",
            "Emt 1/2",
            "Emt 2"
        ]
    );
    assert_eq!(seen.len(), 11);
    assert!(
        seen.iter()
            .all(|row| weight_sure(row) == Some(Sure::SecondHand))
    );
    assert!(tube::rows().all(|row| (row.sure == Sure::Memory) == (row.series == Series::GroupIc)));
}

/// The classic weights follow 10.68: rounded to 0.01 lb/ft it gives each of them, where 10.69 misses two
/// (NPS 2 would be 3.66 and NPS 2-1/2 would be 5.80).
#[test]
fn schedule_40_is_printed_by_the_older_constant() {
    let round = |pounds: f64| (pounds * 100.0).round() / 100.0;
    let misses = |constant: f64| -> Vec<&str> {
        SCHEDULE_40
            .iter()
            .filter(|row| {
                !is_near(
                    round(pounds_per_foot(row.od, row.wall, constant)),
                    printed(row),
                    0.0,
                )
            })
            .map(|row| row.name)
            .collect()
    };
    assert_eq!(misses(PRINTED_CONSTANT), [""; 0]);
    assert_eq!(misses(FORMULA_CONSTANT), ["2", "2-1/2"]);
}

/// One public table printed 3.853 lb/ft for NPS 2, a slip for 3.65.
#[test]
fn a_slip_in_a_table_is_found() {
    let nps_2 = SCHEDULE_40[5];
    assert_eq!((nps_2.name, nps_2.weight_agrees()), ("2", Some(true)));
    assert!(!tube::weight_agrees(nps_2.od, nps_2.wall, 3.853));
    // Nor would a slip in the OD or the wall pass.
    assert!(!tube::weight_agrees(Length::mils(2357), nps_2.wall, 3.65));
    assert!(!tube::weight_agrees(nps_2.od, Length::mils(145), 3.65));
}

/// The ID is printed beside OD and wall (S2), and every EMT ID equals that of Schedule 40 of the same size.
#[test]
fn od_less_two_walls_is_the_printed_id() {
    let inside = |row: &Row| row.od - row.wall * 2;
    let schedule_40 = [622, 824, 1049, 1380, 1610, 2067, 2469];
    let emt = [622, 824, 1049, 1380, 1610, 2067];
    assert_eq!(
        SCHEDULE_40.each_ref().map(inside),
        schedule_40.map(Length::mils)
    );
    assert_eq!(EMT.each_ref().map(inside), emt.map(Length::mils));
}

/// Kilograms per metre as the facts sheet works them with 0.02466 (D), and the NPS 1 of F1083-18 as 33.4 mm (S).
#[test]
fn metric_weights() {
    let kilograms = [1.27, 1.68, 2.50, 3.39, 4.05, 5.44, 8.63];
    for (row, kilograms) in SCHEDULE_40.iter().zip(kilograms) {
        let mass = tube::mass(row.od, row.wall, Length::millimetres(1000)).expect("a tube");
        assert!(
            is_near(mass.to_kilograms(), kilograms, 0.0055),
            "{row:?}: {mass:?}"
        );
        // W = 0.02466 (D − t) t with millimetres (S2), rounded in its last place.
        let (od, wall) = (row.od.to_metres() * 1000.0, row.wall.to_metres() * 1000.0);
        let by_formula = 0.02466 * (od - wall) * wall;
        assert!(
            is_near(mass.to_kilograms() / by_formula, 1.0, 0.0003),
            "{row:?}: {by_formula}"
        );
    }
    assert!(is_near(SCHEDULE_40[2].od.to_metres() * 1000.0, 33.4, 0.05));
}

/// Light-gauge tube in lb/ft as the facts sheet works it with 10.69 (D), walls of the tube gauge (S2t).
#[test]
fn light_gauge_tube() {
    let gauges = [17, 16, 14, 13, 12];
    let table = [
        (1315, [0.779, 0.869, 1.093, 1.239, 1.405]),
        (1660, [0.993, 1.108, 1.399, 1.589, 1.807]),
        (1900, [1.142, 1.275, 1.612, 1.833, 2.087]),
        (2375, [1.437, 1.605, 2.034, 2.315, 2.640]),
        (2875, [1.747, 1.953, 2.477, 2.823, 3.223]),
    ];
    for (od, weights) in table {
        for (number, weight) in gauges.into_iter().zip(weights) {
            let gauge = Gauge::new(number).expect("a gauge");
            let (wall, _) = gauge.thickness(gauge::Column::Tube).expect("in the table");
            let computed = pounds_per_foot(Length::mils(od), wall, FORMULA_CONSTANT);
            assert!(
                is_near(computed, weight, 0.0006),
                "{od} {number} ga: {computed}"
            );
            // The same from the density, by another way.
            let foot = tube::mass(Length::mils(od), wall, Length::feet(1)).expect("a tube");
            assert!(
                is_near(foot.to_pounds(), weight, 0.0012),
                "{od} {number} ga: {foot:?}"
            );
        }
    }
}

#[test]
fn a_solid_bar_and_no_tube() {
    let (od, metre) = (Length::millimetres(20), Length::millimetres(1000));
    // A 20 mm round bar is π/4 · 0.02² · 7850 = 2.466 kg/m, as bar tables print it (M).
    let bar = tube::mass(od, Length::millimetres(10), metre).expect("a bar");
    assert!(is_near(bar.to_kilograms(), 2.466, 0.0005));
    assert_eq!(tube::mass(od, Length::millimetres(11), metre), None);
    assert_eq!(tube::mass(od, Length::ZERO, metre), None);
    assert_eq!(tube::mass(od, Length::millimetres(2), -metre), None);
    assert_eq!(tube::mass(od, Length::nanometres(i64::MAX), metre), None);
    assert_eq!(tube::mass(-od, -od, metre), None);
    assert_eq!(
        tube::mass(od, Length::millimetres(2), Length::ZERO),
        Some(Mass::ZERO)
    );
}

/// A metre of 1 m by 1 mm sheet is 7.85 kg.
#[test]
fn strip() {
    let (metre, millimetre) = (Length::millimetres(1000), Length::millimetres(1));
    assert_eq!(
        tube::strip_mass(metre, millimetre, metre),
        Some(Mass::grams(7850))
    );
    assert_eq!(tube::strip_mass(metre, -millimetre, -metre), None);
    let most = Length::nanometres(i64::MAX);
    assert_eq!(tube::strip_mass(most, most, most), None);
}

/// What a tape shows round a tube (D).
#[test]
fn tape_wraps() {
    let wraps = [
        (1315, 4131),
        (1375, 4320),
        (1660, 5215),
        (1900, 5969),
        (2375, 7461),
        (2875, 9032),
    ];
    for (od, wrap) in wraps {
        let computed = tube::circumference(Length::mils(od)).expect("in range");
        assert!(
            is_near(computed.to_inches(), f64::from(wrap) / 1000.0, 0.0005),
            "{od}: {computed:?}"
        );
        let back = tube::od_from_wrap(computed).expect("in range");
        assert!((back - Length::mils(od)).as_nanometres().abs() <= 1);
    }
}

#[test]
fn the_naming_trap() {
    #[track_caller]
    fn check(name: &str, right: &[(i64, Naming, Sure)]) {
        let right: Vec<Called> = right
            .iter()
            .map(|&(od, because, sure)| Called {
                od: Length::mils(od),
                because,
                sure,
            })
            .collect();
        assert_eq!(tube::called(name), right, "{name}");
    }
    use Naming::{Fence, Literal, PipeSize};
    use Sure::{Memory, SecondHand, TradePage};
    for name in ["1-5/8", "1 5/8\"", "1⅝ in.", "1.625"] {
        check(name, &[(1660, Fence, Memory), (1625, Literal, Memory)]);
    }
    check("1-3/8", &[(1315, Fence, Memory), (1375, Literal, Memory)]);
    check(
        "1-7/8",
        &[(1900, Fence, TradePage), (1875, Literal, SecondHand)],
    );
    check(
        "2",
        &[
            (1900, Fence, TradePage),
            (2375, PipeSize, SecondHand),
            (2000, Literal, SecondHand),
        ],
    );
    check("2-3/8", &[(2375, Fence, Memory)]);
    check(
        "2-1/2",
        &[
            (2375, Fence, Memory),
            (2875, PipeSize, SecondHand),
            (2500, Literal, SecondHand),
        ],
    );
    check("2-7/8", &[(2875, Fence, Memory)]);
    check("3", &[(2875, Fence, Memory), (3000, Literal, SecondHand)]);
    // Tubing is sold by OD, pipe by NPS: 1-1/2 tube is 1.500, NPS 1-1/2 is 1.900 (S2).
    check(
        "1-1/2",
        &[(1900, PipeSize, SecondHand), (1500, Literal, SecondHand)],
    );
    check("1.66 in", &[(1660, Literal, SecondHand)]);
    check("tube", &[]);
    check("-1-5/8", &[]);
}

/// The fence names stand for ODs that Schedule 40 and Group IC have too.
#[test]
fn fence_names_are_pipe_sizes() {
    for (name, nps) in [
        ("1-3/8", "1"),
        ("1-5/8", "1-1/4"),
        ("1-7/8", "1-1/2"),
        ("2-3/8", "2"),
        ("2-7/8", "2-1/2"),
    ] {
        let fence = tube::called(name)[0].od;
        let pipe = SCHEDULE_40
            .iter()
            .find(|row| row.name == nps)
            .expect("a size")
            .od;
        assert_eq!(fence, pipe, "{name}");
        assert!(GROUP_IC.iter().any(|row| row.od == fence), "{name}");
    }
}

/// Schedule 40 in millimetres, OD and wall, by `fluids` 1.3.1 (PyPI, `piping.S40o` and `S40t`; S2): rounded to its
/// places, ours are the same.
#[test]
fn schedule_40_against_a_metric_table() {
    let metric = [
        (213, 277),
        (267, 287),
        (334, 338),
        (422, 356),
        (483, 368),
        (603, 391),
        (730, 516),
    ];
    let tenth = Grid::new(Length::nanometres(100_000)).expect("more than nothing");
    let hundredth = Grid::new(Length::nanometres(10_000)).expect("more than nothing");
    for (row, (od, wall)) in SCHEDULE_40.iter().zip(metric) {
        assert_eq!(
            row.od.round(tenth),
            Length::nanometres(od * 100_000),
            "{row:?}"
        );
        assert_eq!(
            row.wall.round(hundredth),
            Length::nanometres(wall * 10_000),
            "{row:?}"
        );
    }
}

/// The row without a listed weight: 1.056 lb/ft (D). That its wall is the least sure (M) no test can mend.
#[test]
fn the_group_ic_row_without_a_weight() {
    let row = GROUP_IC[0];
    assert_eq!((row.weight_agrees(), row.sure), (None, Sure::Memory));
    assert!(is_near(
        pounds_per_foot(row.od, row.wall, FORMULA_CONSTANT),
        1.056,
        0.0005
    ));
}
