//! What holds of every length and every text.

use measure::{Gauge, Grid, Length, Mass, MassUnit, System, Tolerance, Unit, gauge, mil, tube};
use proptest::prelude::*;

const MOST: i64 = 1_000_000_000_000_000;

fn any_length() -> impl Strategy<Value = Length> {
    prop_oneof![-MOST..=MOST, -40_000_000_000..=40_000_000_000_i64].prop_map(Length::nanometres)
}

fn any_grid() -> impl Strategy<Value = Grid> {
    let fraction = prop::sample::select(vec![1, 2, 4, 8, 10, 16, 32, 64, 100, 1000])
        .prop_map(|parts| Grid::inch_fraction(parts).expect("a part of an inch"));
    let metric = prop::sample::select(vec![1, 5, 10, 20, 50, 100, 1000])
        .prop_map(|n| Grid::new(Length::millimetres(n)).expect("more than nothing"));
    let odd = (1..5_000_000_i64)
        .prop_map(|n| Grid::new(Length::nanometres(n)).expect("more than nothing"));
    prop_oneof![fraction, metric, odd]
}

fn any_system() -> impl Strategy<Value = System> {
    prop::sample::select(vec![System::FeetInch, System::Metric])
}

fn any_bare() -> impl Strategy<Value = Option<Unit>> {
    prop::option::of(prop::sample::select(vec![
        Unit::Foot,
        Unit::Inch,
        Unit::Metre,
        Unit::Millimetre,
    ]))
}

/// Texts made of what lengths are made of, so that the readers are led deep before something is wrong.
fn like_a_length() -> impl Strategy<Value = String> {
    let pieces = vec![
        "0",
        "1",
        "6",
        "10",
        "61",
        "999999999999",
        "1000000",
        "½",
        "⅝",
        "1/2",
        "/",
        "⁄",
        "-",
        "–",
        "−",
        " ",
        "\u{a0}",
        "\u{2009}",
        "'",
        "’",
        "″",
        "\"",
        "''",
        ",",
        ".",
        ",200",
        "ft",
        "FT.",
        "in",
        "inches",
        "m",
        "mm",
        "ga",
        "gauge",
        "mil",
        "#",
        "lb",
        "oz",
        "kg",
        "x",
        "X",
        "×",
        "²",
        "１",
        "＂",
        "．",
        "ｍ",
        "é",
        "☃",
        "𝟙",
        "\u{301}",
        "\t",
        "İ",
    ];
    prop::collection::vec(prop::sample::select(pieces), 0..12).prop_map(|pieces| pieces.concat())
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![like_a_length(), "\\PC*", any::<String>()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn what_is_written_is_read_back(length in any_length(), grid in any_grid(), system in any_system()) {
        let on_grid = length.round(grid);
        prop_assume!(on_grid.as_nanometres().abs() <= MOST);
        let text = on_grid.write(system, grid);
        prop_assert_eq!(Length::read(&text, None), Ok(on_grid), "{}", &text);
        prop_assert_eq!(Length::read_start(&text, None), Some((on_grid, text.len())));
        // A length off the grid is written as its nearest step.
        prop_assert_eq!(length.write(system, grid), text);
    }

    #[test]
    fn rounding_moves_at_most_half_a_step(length in any_length(), grid in any_grid()) {
        let rounded = length.round(grid);
        let step = grid.step().as_nanometres();
        prop_assert_eq!(rounded.as_nanometres() % step, 0);
        prop_assert!((rounded - length).as_nanometres().abs() * 2 <= step);
        prop_assert_eq!(rounded.round(grid), rounded);
        prop_assert_eq!((-length).round(grid), -rounded);
    }

    #[test]
    fn adding_is_exact(parts in prop::collection::vec(-6400..6400_i64, 0..200)) {
        let sum: Length = parts.iter().map(|&n| Length::sixty_fourths(n)).sum();
        prop_assert_eq!(sum, Length::sixty_fourths(parts.iter().sum()));
        let backwards: Length = parts.iter().rev().map(|&n| Length::sixty_fourths(n)).sum();
        prop_assert_eq!(sum, backwards);
    }

    #[test]
    fn order_is_kept(a in any_length(), b in any_length(), grid in any_grid()) {
        prop_assert_eq!(a.cmp(&b), a.as_nanometres().cmp(&b.as_nanometres()));
        let (small, large) = (a.min(b), a.max(b));
        prop_assert!(small.round(grid) <= large.round(grid));
        prop_assert!(small.to_metres() <= large.to_metres());
        let [small, large] = [small, large].map(|length| {
            let text = length.round(grid).write(System::FeetInch, grid);
            Length::read(&text, None).ok()
        });
        prop_assume!(small.is_some() && large.is_some());
        prop_assert!(small <= large);
    }

    #[test]
    fn metres_come_back(n in -1_000_000_000..1_000_000_000_i64, grid in any_grid()) {
        // Up to 1e15 nm, a float of metres is within 1e-16 of its length, far less than half a step.
        let length = Length::nanometres(n).round(grid);
        prop_assert_eq!(Length::from_metres(length.to_metres(), grid), Some(length));
    }

    #[test]
    fn a_comma_or_a_dash_is_never_lost(n in 1000..999_999_i64) {
        let (thousands, rest) = (n / 1000, n % 1000);
        let text = format!("{thousands},{rest:03} mm");
        prop_assert_eq!(Length::read(&text, None), Ok(Length::millimetres(n)));
        let text = format!("{}–{} in", n, "1/2");
        prop_assert_eq!(Length::read(&text, None), Ok(Length::sixty_fourths(64 * n + 32)));
    }

    #[test]
    fn no_text_makes_a_reader_panic(text in any_text(), bare in any_bare()) {
        let whole = Length::read(&text, bare);
        if let Some((length, taken)) = Length::read_start(&text, bare) {
            prop_assert!(taken > 0 && text.is_char_boundary(taken));
            prop_assert!(length.as_nanometres().abs() <= MOST);
            // What was taken is a length by itself.
            prop_assert_eq!(Length::read(&text[..taken], bare), Ok(length), "{:?}", &text);
        }
        if let Err(error) = whole {
            let said = error.to_string();
            prop_assert!(said.chars().count() < 400 && !said.contains(char::is_control), "{}", said);
        }
        if let Some((mass, taken)) = Mass::read_start(&text) {
            prop_assert!(taken > 0 && text.is_char_boundary(taken));
            prop_assert_eq!(Mass::read(&text[..taken], None), Ok(mass));
        }
        let _ = Mass::read(&text, Some(MassUnit::Pound));
        if let Some((gauge, taken)) = gauge::read_start(&text) {
            prop_assert!(taken > 0 && text.is_char_boundary(taken));
            prop_assert_eq!(Gauge::new(gauge.number()), Some(gauge));
            prop_assert_eq!(Length::read_start(&text, bare), None, "a gauge is no length: {}", &text);
        }
        if let Some((thickness, taken)) = mil::read_start(&text) {
            prop_assert!(taken > 0 && text.is_char_boundary(taken));
            prop_assert!(thickness < Length::inches(1));
        }
        let _ = tube::called(&text);
    }

    #[test]
    fn ends_of_the_range_do_not_wrap(n in any::<i64>(), grid in any_grid(), m in any::<i64>()) {
        let (a, b) = (Length::nanometres(n), Length::nanometres(m));
        prop_assert_eq!(a.checked_add(b).map(Length::as_nanometres), n.checked_add(m));
        prop_assert_eq!(a.checked_sub(b).map(Length::as_nanometres), n.checked_sub(m));
        prop_assert_eq!(a.checked_mul(m).map(Length::as_nanometres), n.checked_mul(m));
        // Writing and asking a tolerance reach to the very ends.
        prop_assert!(!a.write(System::FeetInch, grid).is_empty());
        prop_assert_eq!(Tolerance::EXACT.holds(a, b), a == b);
        let _ = Tolerance::thousandths(a, u16::MAX).holds(a, b);
    }
}

#[test]
fn sums_out_of_range_stop_rather_than_wrap() {
    let most = Length::nanometres(i64::MAX);
    for attempt in [
        |a: Length| a + a,
        |a: Length| -a - a - a,
        |a: Length| a * 2,
        |a: Length| [a, a].into_iter().sum(),
    ] {
        assert!(std::panic::catch_unwind(|| attempt(most)).is_err());
    }
    assert!(std::panic::catch_unwind(|| Length::feet(i64::MAX)).is_err());
    assert!(std::panic::catch_unwind(|| Mass::micrograms(i64::MAX) * 2).is_err());
}

#[test]
fn floats_that_are_no_length_are_nothing() {
    for metres in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        assert_eq!(Length::from_metres(metres, Grid::NANOMETRE), None);
        assert_eq!(Mass::from_kilograms(metres), None);
    }
}
