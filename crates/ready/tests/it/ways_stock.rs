//! The file of stock: it is read whole, and what is wrong with one is told by its field.

use measure::Length;
use measure::tube::SCHEDULE_40;
use ready::ways::{Price, Stock};

#[test]
fn what_comes_with_the_program_is_read() {
    let text = include_str!("../../stock.toml");
    let stock = Stock::read(text).unwrap();
    assert_eq!(*Stock::shipped(), stock);
    // Read once, however often it is asked for.
    assert!(std::ptr::eq(Stock::shipped(), Stock::shipped()));
    assert!(stock.pieces.len() >= 5 && stock.bars.len() >= 8 && !stock.sheets.is_empty());
    assert_eq!(stock.setting.trip, Price([1_500, 6_000]));
    assert_eq!(stock.setting.kerf, Length::sixty_fourths(8));
}

/// What is called by a pipe's size has the pipe's outside (public tables of ASME B36.10M, as `measure` cites them).
#[test]
fn fence_tube_has_the_outside_of_pipe() {
    let stock = Stock::shipped();
    let pipe: Vec<Length> = SCHEDULE_40.iter().map(|row| row.od).collect();
    let fence = stock
        .bars
        .iter()
        .filter(|bar| bar.key.starts_with("fence") || bar.key.starts_with("top rail"));
    let outsides: Vec<Length> = fence.filter_map(|bar| Some(bar.tube?.outside)).collect();
    assert!(outsides.len() >= 6);
    assert!(
        outsides.iter().all(|outside| pipe.contains(outside)),
        "{outsides:?}"
    );
}

#[test]
fn a_bad_file_is_told_by_its_field() {
    let text = include_str!("../../stock.toml");
    let bad = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        Stock::read(&text.replacen(from, to, 1))
            .unwrap_err()
            .to_string()
    };
    for (from, to, says) in [
        ("trip_risk = 0.05", "trip_risk = 1.5", "trip_risk"),
        ("trip_risk = 0.05", "trip_risk = nan", "trip_risk"),
        ("trip_days = [0, 1]", "trip_days = [2, 1]", "trip_days"),
        ("trip_days = [0, 1]", "trip_days = [0, 100000]", "trip_days"),
        (
            "trip = [15.00, 60.00]",
            "trip = [60.00, 15.00]",
            "[least, most]",
        ),
        (
            "trip = [15.00, 60.00]",
            "trip = [-1.00, 15.00]",
            "[least, most]",
        ),
        ("trip = [15.00, 60.00]", "trip = [1.001, 15.00]", "decimals"),
        ("failed_way = 150.00", "failed_way = 1e300", "a price"),
        ("kerf = \"1/8 in\"", "kerf = \"wide\"", "wide"),
        ("kerf = \"1/8 in\"", "kerf = \"-1 in\"", "more than nothing"),
        ("kerf = \"1/8 in\"", "kerfs = \"1/8 in\"", "kerfs"),
        (
            "key = \"nut\"",
            "key = \"washer\"",
            "two things have the key `washer`",
        ),
        ("key = \"nut\"", "key = \"\"", "no letters"),
        (
            "tube = { outside = \"1.315 in\", wall = \"0.065 in\" }",
            "",
            "either a `tube` or a `timber`",
        ),
    ] {
        let said = bad(from, to);
        assert!(said.contains(says), "{to}: {said}");
    }
    let long = "# ".to_owned() + &"x".repeat(300_000);
    assert!(
        Stock::read(&long)
            .unwrap_err()
            .to_string()
            .contains("bytes")
    );
}
