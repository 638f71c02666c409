//! Gauges: read, looked up, and checked against the law's ounces.

use measure::gauge::{self, Column, SHEET_BASIS, TABLE};
use measure::{Gauge, Length, Tolerance};

fn ten_thousandths(n: i64) -> Length {
    Length::ten_thousandths(n)
}

#[test]
fn as_people_write_them() {
    for (text, number, taken) in [
        ("16 ga", 16, 5),
        ("16ga. tube", 16, 5),
        ("16 gauge", 16, 8),
        ("16-gauge galvanized", 16, 8),
        ("#16 ga", 16, 6),
        ("# 16 ga", 16, 7),
        ("14GA", 14, 4),
        ("14GA.,", 14, 5),
        (" 14 Ga x 2", 14, 6),
        ("１４　ｇａ", 14, 15),
        ("14\u{a0}ga", 14, 6),
    ] {
        let right = Gauge::new(number).map(|gauge| (gauge, taken));
        assert_eq!(gauge::read_start(text), right, "{text}");
    }
    for text in [
        "16",
        "16 galvanized",
        "16 gal",
        "0 ga",
        "51 ga",
        "999 ga",
        "ga",
        "1.5 ga",
        "16 ga2",
        "",
        "9999999999999 ga",
    ] {
        assert_eq!(gauge::read_start(text), None, "{text}");
    }
}

/// 41.82 lb/ft² per inch is the basis (S2); 10 ga is then 5.625 lb/ft², 16 ga 2.5 and 18 ga 2.0 (S2).
///
/// The other weights are the ounces per square foot of the United States Standard Gauge, Act of 3 March 1893,
/// from memory (M); the thicknesses are from a trade chart (S2t), so the two meet only here.
#[test]
fn sheet_thickness_against_the_ounces_of_the_law() {
    let seen = [(10, 5.625), (16, 2.5), (18, 2.0)];
    let ounces = [90, 80, 70, 60, 50, 45, 40, 36, 32, 28, 24];
    // Half of the table's last place, 0.00005 in.
    let last_place = 0.00005 * SHEET_BASIS;
    for (row, ounces) in TABLE.iter().zip(ounces) {
        let pounds = row.sheet.to_inches() * SHEET_BASIS;
        assert!(
            (pounds - f64::from(ounces) / 16.0).abs() <= last_place,
            "{row:?}: {pounds}"
        );
        for (_, seen) in seen
            .iter()
            .filter(|(number, _)| *number == row.gauge.number())
        {
            assert!((pounds - seen).abs() <= last_place, "{row:?}: {pounds}");
        }
    }
    // A slip of one in the third place would be found.
    let slip = ten_thousandths(598 + 10).to_inches() * SHEET_BASIS;
    assert!((slip - 2.5).abs() > last_place);
}

/// Galvanized is 0.0037 to 0.0038 in thicker than plain sheet (D).
#[test]
fn zinc_adds_the_same_to_every_sheet() {
    for row in TABLE {
        let zinc = row.galvanized - row.sheet;
        assert!(
            (ten_thousandths(37)..=ten_thousandths(38)).contains(&zinc),
            "{row:?}"
        );
    }
}

#[test]
fn every_column_thins_as_the_number_grows() {
    for column in Column::ALL {
        for pair in TABLE.windows(2) {
            assert_eq!(pair[0].gauge.number() + 1, pair[1].gauge.number());
            assert!(pair[0].thickness(column) > pair[1].thickness(column));
        }
    }
}

/// "14 gauge" is 0.083 in on a tube, 0.0747 on plain and 0.0785 on galvanized sheet.
#[test]
fn one_number_has_three_thicknesses_and_one_thickness_many_numbers() {
    let fourteen = Gauge::new(14).expect("a gauge");
    let thickness = |column| fourteen.thickness(column).map(|(thickness, _)| thickness);
    assert_eq!(thickness(Column::Tube), Some(ten_thousandths(830)));
    assert_eq!(thickness(Column::Sheet), Some(ten_thousandths(747)));
    assert_eq!(
        thickness(Column::GalvanizedSheet),
        Some(ten_thousandths(785))
    );
    assert_eq!(
        Gauge::new(24).and_then(|gauge| gauge.thickness(Column::Tube)),
        None
    );

    // A caliper that shows 0.072 and may be off by 0.002 cannot decide.
    let caliper = Tolerance::either_way(ten_thousandths(20)).expect("not negative");
    let found: Vec<_> = gauge::may_be(ten_thousandths(720), caliper)
        .into_iter()
        .map(|(gauge, column)| (gauge.number(), column))
        .collect();
    assert_eq!(found, [(15, Column::Tube), (15, Column::GalvanizedSheet)]);
}

/// The tube column against the Birmingham wire gauge of `fluids` 1.3.1 (PyPI, `piping.BWG_inch`; S2), which has
/// nothing to do with the trade chart that the table is from.
#[test]
fn the_tube_column_is_the_birmingham_wire_gauge() {
    let birmingham = [
        0.134, 0.12, 0.109, 0.095, 0.083, 0.072, 0.065, 0.058, 0.049, 0.042, 0.035,
    ];
    for (row, inches) in TABLE.iter().zip(birmingham) {
        assert!((row.tube.to_inches() - inches).abs() < 1e-9, "{row:?}");
    }
}
