//! How far a part may be off.

use measure::{Length, Tolerance};

#[test]
fn never_less_than_nothing() {
    let (some, less) = (Length::mils(5), Length::mils(-5));
    assert_eq!(Tolerance::new(less, some), None);
    assert_eq!(Tolerance::new(some, less), None);
    assert_eq!(Tolerance::either_way(less), None);
    assert_eq!(Tolerance::either_way(Length::ZERO), Some(Tolerance::EXACT));
    assert_eq!(Tolerance::EXACT.widened(less), None);
}

#[test]
fn holds_its_ends_and_nothing_beyond() {
    let tolerance = Tolerance::new(Length::mils(16), Length::mils(31)).expect("not negative");
    let nominal = Length::mils(1315);
    for (over, held) in [
        (16, true),
        (17, false),
        (0, true),
        (-31, true),
        (-32, false),
    ] {
        assert_eq!(
            tolerance.holds(nominal, nominal + Length::mils(over)),
            held,
            "{over}"
        );
    }
    // Read with a tape that may be off by half a sixteenth.
    let with_tape = tolerance
        .widened(Length::sixty_fourths(2))
        .expect("not negative");
    assert!(with_tape.holds(nominal, nominal + Length::mils(47)));
    assert!(!with_tape.holds(nominal, nominal + Length::mils(48)));
}

/// A ±1 % band on 2.375 in is ±0.024 in, and a caliper reading of 2.36 must still match it (D, from the S2t
/// band of F1083).
#[test]
fn one_percent_of_nps_2() {
    let nominal = Length::mils(2375);
    let (band, _) = measure::tube::pipe_od_tolerance(nominal);
    assert_eq!(band, Tolerance::thousandths(nominal, 10));
    assert_eq!(band.plus(), Length::nanometres(603_250));
    assert!((band.minus().to_inches() - 0.024).abs() < 0.0005);
    assert!(band.holds(nominal, Length::mils(2360)));
    assert!(!band.holds(nominal, Length::mils(2350)));
}
