//! Lengths as they are written.

use measure::{Grid, Length, System};

#[track_caller]
fn check(length: Length, system: System, grid: Grid, right: &str) {
    assert_eq!(length.write(system, grid), right);
}

fn sixteenths(n: i64) -> Length {
    Length::sixty_fourths(4 * n)
}

#[test]
fn feet_and_inches() {
    let on_tape = |length, right| check(length, System::FeetInch, Grid::SIXTEENTH, right);
    on_tape(Length::feet(10) + sixteenths(104), "10 ft 6-1/2 in");
    on_tape(Length::feet(10) + sixteenths(8), "10 ft 1/2 in");
    on_tape(Length::feet(10) + Length::inches(6), "10 ft 6 in");
    on_tape(Length::feet(10), "10 ft");
    on_tape(sixteenths(104), "6-1/2 in");
    on_tape(sixteenths(5), "5/16 in");
    on_tape(Length::ZERO, "0 in");
    on_tape(-Length::feet(10) - Length::inches(6), "-10 ft 6 in");
    on_tape(-sixteenths(1), "-1/16 in");
}

#[test]
fn rounding_is_half_away_from_zero_and_carries() {
    let on_tape = |length, right| check(length, System::FeetInch, Grid::SIXTEENTH, right);
    on_tape(Length::sixty_fourths(2), "1/16 in");
    on_tape(Length::sixty_fourths(-2), "-1/16 in");
    on_tape(Length::sixty_fourths(2) - Length::nanometres(1), "0 in");
    on_tape(Length::nanometres(1) - Length::sixty_fourths(2), "0 in");
    on_tape(Length::feet(1) - Length::sixty_fourths(1), "1 ft");
    on_tape(Length::feet(10) - Length::sixty_fourths(1), "10 ft");
}

#[test]
fn other_grids_in_feet_and_inches() {
    let grid = |parts| Grid::inch_fraction(parts).expect("a part of an inch");
    check(
        Length::sixty_fourths(65),
        System::FeetInch,
        grid(64),
        "1-1/64 in",
    );
    check(
        Length::sixty_fourths(66),
        System::FeetInch,
        grid(64),
        "1-1/32 in",
    );
    check(Length::sixty_fourths(65), System::FeetInch, grid(1), "1 in");
    check(
        Length::ten_thousandths(13_150),
        System::FeetInch,
        grid(1000),
        "1.315 in",
    );
    check(
        Length::millimetres(100),
        System::FeetInch,
        Grid::MILLIMETRE,
        "3.93700787 in",
    );
}

#[test]
fn metric() {
    check(
        Length::millimetres(3200),
        System::Metric,
        Grid::MILLIMETRE,
        "3200 mm",
    );
    check(
        Length::millimetres(-3),
        System::Metric,
        Grid::MILLIMETRE,
        "-3 mm",
    );
    check(Length::ZERO, System::Metric, Grid::MILLIMETRE, "0 mm");
    check(sixteenths(1), System::Metric, Grid::SIXTEENTH, "1.5875 mm");
    check(Length::feet(10), System::Metric, Grid::SIXTEENTH, "3048 mm");
    check(Length::feet(10), System::Metric, Grid::CENTIMETRE, "3.05 m");
    let grid =
        |millimetres| Grid::new(Length::millimetres(millimetres)).expect("more than nothing");
    check(Length::feet(10), System::Metric, grid(50), "3.05 m");
    check(Length::feet(10), System::Metric, grid(100), "3.0 m");
    check(Length::feet(10), System::Metric, grid(1000), "3 m");
    check(
        Length::nanometres(1),
        System::Metric,
        Grid::NANOMETRE,
        "0.000001 mm",
    );
}

#[test]
fn grids_are_more_than_nothing() {
    assert_eq!(Grid::new(Length::ZERO), None);
    assert_eq!(Grid::new(-Length::inches(1)), None);
    assert_eq!(Grid::new(Length::sixty_fourths(4)), Some(Grid::SIXTEENTH));
    assert_eq!(Grid::inch_fraction(16), Some(Grid::SIXTEENTH));
    for parts in [0, 3, 128] {
        assert_eq!(Grid::inch_fraction(parts), None, "{parts}");
    }
}
