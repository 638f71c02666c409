//! Lengths as people and lists write them.

use measure::{Length, ReadError, Unit};

fn sixteenths(n: i64) -> Length {
    Length::sixty_fourths(4 * n)
}

fn feet_inches(feet: i64, sixteenth: i64) -> Length {
    Length::feet(feet) + sixteenths(sixteenth)
}

/// Each text alone, and the same at the start of a longer one.
#[track_caller]
fn check(texts: &[&str], right: Length) {
    for text in texts {
        assert_eq!(
            Length::read(text, None).map_err(|e| e.to_string()),
            Ok(right),
            "{text}"
        );
        let longer = format!("{text}, galvanized");
        assert_eq!(
            Length::read_start(&longer, None),
            Some((right, text.len())),
            "{longer}"
        );
    }
}

#[test]
fn feet_and_inches() {
    check(
        &[
            "10' 6-1/2\"",
            "10ft 6 1/2in",
            "10'-6½\"",
            "10' 6½\"",
            "10'6-1/2\"",
            "10’ 6-1/2”",
            "10′ 6‑1⁄2″",
            "10' 6-1/2''",
            "10’ 6 1/2’’",
            "10'–6 ½\"",
            "10' - 6 1/2\"",
            "10 ft. 6-1/2 in.",
            "10 FT 6.5 IN",
            "10 feet, 6 1/2 inches",
            "10-ft 6.5-inch",
            "１０＇　６－１／２＂",
            "10\u{a0}ft\u{202f}6\u{2009}1/2\u{a0}in",
            "10' 06.500\"",
            "126.5\"",
            "126-1/2 in",
            "126½”",
        ],
        feet_inches(10, 104),
    );
    check(
        &[
            "10'",
            "10 ft",
            "10ft.",
            "10 foot",
            "120\"",
            "120 inches",
            "10 '",
        ],
        Length::feet(10),
    );
    check(
        &["1-5/8 in", "1 5/8\"", "1⅝″", "1.625 in.", "1 10/16 inch"],
        sixteenths(26),
    );
    check(
        &["1/2 in", "½\"", ".5 in", "0' 1/2\"", "0.5″"],
        sixteenths(8),
    );
    check(&["-10' 6\"", "−10 ft 6 in"], -feet_inches(10, 96));
    check(&["1,200 ft", "14,400 in"], Length::feet(1200));
}

#[test]
fn metric() {
    check(
        &[
            "3.2 m",
            "3200mm",
            "320 cm",
            "3,200 mm",
            "3,2 m",
            "3200.000 MM",
            "３．２ｍ",
            "3.2 metres",
            "3.2 meter",
        ],
        Length::millimetres(3200),
    );
    check(&["0,125 m", "12,5 cm", "125 mm"], Length::millimetres(125));
    check(
        &["1,234,567 mm", "1,234.567 m"],
        Length::millimetres(1_234_567),
    );
}

#[test]
fn whole_texts_only() {
    let ten_six = feet_inches(10, 96);
    assert_eq!(Length::read("10' 6", None), Ok(ten_six));
    assert_eq!(Length::read("\u{feff}10 ft 6 ", None), Ok(ten_six));
    assert_eq!(Length::read("10'6", None), Ok(ten_six));
    assert_eq!(Length::read(" 10 ", Some(Unit::Foot)), Ok(Length::feet(10)));
    assert_eq!(Length::read("1-5/8", Some(Unit::Inch)), Ok(sixteenths(26)));
    assert_eq!(
        Length::read("3200", Some(Unit::Millimetre)),
        Ok(Length::millimetres(3200))
    );
    assert_eq!(
        Length::read("3,2", Some(Unit::Metre)),
        Ok(Length::millimetres(3200))
    );
    // The unit that is written stands above the one that the place gives.
    assert_eq!(
        Length::read("3 m", Some(Unit::Inch)),
        Ok(Length::millimetres(3000))
    );
}

#[test]
fn at_the_start_of_a_text() {
    #[track_caller]
    fn takes(text: &str, bare: Option<Unit>, taken: &str, right: Length) {
        assert_eq!(
            Length::read_start(text, bare),
            Some((right, taken.len())),
            "{text}"
        );
        assert!(text.starts_with(taken));
    }
    takes("1 5/8 in. OD", None, "1 5/8 in.", sixteenths(26));
    takes("1⅝″ × 14 ga", None, "1⅝″", sixteenths(26));
    takes("24x96", Some(Unit::Foot), "24", Length::feet(24));
    takes("24 x 96", Some(Unit::Foot), "24", Length::feet(24));
    takes("24'x96'", None, "24'", Length::feet(24));
    takes("24ftx96ft", None, "24ft", Length::feet(24));
    takes("10' 6 pcs", None, "10'", Length::feet(10));
    takes("10'6, 4 pcs", None, "10'6", feet_inches(10, 96));
    takes("10'-12' posts", None, "10'", Length::feet(10));
    takes("10 ft\t6", None, "10 ft", Length::feet(10));
    takes("6\"", Some(Unit::Foot), "6\"", Length::inches(6));
    takes("1-5/8 tube", Some(Unit::Inch), "1-5/8", sixteenths(26));
    takes("24, white", Some(Unit::Foot), "24", Length::feet(24));
    for (text, bare) in [
        ("16 ga tube", Some(Unit::Inch)),
        ("16ga", Some(Unit::Inch)),
        ("12 lb", Some(Unit::Foot)),
        ("10-6", Some(Unit::Foot)),
        ("1/2/2024", Some(Unit::Inch)),
        ("10%", Some(Unit::Inch)),
        ("4A2", Some(Unit::Inch)),
        ("4 \"A\" posts", None),
        ("10 m²", None),
        ("10ft2", None),
        ("10'6pcs", None),
        ("10' 12\"", None),
        ("10 miles", None),
        ("tube", Some(Unit::Inch)),
        ("", None),
    ] {
        assert_eq!(Length::read_start(text, bare), None, "{text}");
    }
}

#[test]
fn refusals_say_what_would_be_right() {
    #[track_caller]
    fn refuses(text: &str, bare: Option<Unit>, right: &str) {
        let error = Length::read(text, bare).expect_err(text);
        assert_eq!(error.to_string(), right);
    }
    let like = "write it like 10' 6-1/2\", 10 ft 6 in, 126.5 in or 3200 mm";
    refuses(" ", None, &format!("nothing stands here; {like}"));
    refuses(
        "tube",
        None,
        &format!("`tube` does not begin with a number; {like}"),
    );
    refuses("10", None, &format!("`10` has no unit; {like}"));
    for bare in [None, Some(Unit::Foot)] {
        refuses(
            "10 6",
            bare,
            &format!("`10 6` has two numbers and no unit between them; {like}"),
        );
        refuses(
            "10-6",
            bare,
            &format!("`10-6` has two numbers and no unit between them; {like}"),
        );
        refuses(
            "10 6\"",
            bare,
            &format!("`10 6\"` has two numbers and no unit between them; {like}"),
        );
        refuses(
            "10 yd",
            bare,
            &format!("`10 yd` has `yd` where a unit should stand; {like}"),
        );
        refuses(
            "10yd",
            bare,
            &format!("`10yd` has `yd` where a unit should stand; {like}"),
        );
    }
    refuses(
        "1 5/8 in. OD",
        None,
        "`1 5/8 in. OD` goes on with `OD` after the measure; leave that out",
    );
    refuses(
        "1/0 in",
        None,
        "`1/0 in` has a fraction over 0; write a fraction such as 1/2 or 5/16",
    );
    refuses(
        "61/2\"",
        None,
        "`61/2\"` has a fraction of one or more; if it is a mixed number write it like 6-1/2",
    );
    refuses(
        "1.234,5 mm",
        None,
        "`1.234,5 mm` has points, commas or slashes that make no one number; write 1234.5 or 5/8",
    );
    refuses(
        "3,200 m",
        None,
        "the comma in `3,200 m` may part thousands or decimals; write 3200 or 3.2, without a comma",
    );
    refuses(
        "6,5 in",
        None,
        "`6,5 in` has a decimal comma, which only metric units take; write a point or a fraction",
    );
    refuses(
        "10.5' 6\"",
        None,
        "`10.5' 6\"` has part of a unit in front of a smaller unit; write whole feet or pounds, like 10' 6-1/2\" \
         or 10 ft 6-1/2 in",
    );
    refuses(
        "10' 14\"",
        None,
        "`10' 14\"` has 12 or more of the smaller unit after the larger; write it like 10' 6-1/2\" or 10 ft \
         6-1/2 in",
    );
    refuses(
        "1001 km",
        None,
        &format!("`1001 km` has `km` where a unit should stand; {like}"),
    );
    refuses(
        "1000001 m",
        None,
        "`1000001 m` is beyond 1000 km, the most that is read; check the unit",
    );
    refuses(
        "0.1234567890123 m",
        None,
        "`0.1234567890123 m` has more digits than a measure can have; write at most 12 before and after the \
         point",
    );
}

#[test]
fn the_range_ends_at_a_thousand_kilometres() {
    assert_eq!(
        Length::read("1000000 m", None),
        Ok(Length::millimetres(1_000_000_000))
    );
    assert_eq!(
        Length::read("-1000000 m", None),
        Ok(Length::millimetres(-1_000_000_000))
    );
    let beyond = Length::read("1000000.000000001 m", None);
    assert!(matches!(beyond, Err(ReadError::TooLarge { .. })));
}

#[test]
fn fractions_that_are_no_whole_nanometres_go_to_the_nearest() {
    // 25 400 000 / 3 = 8 466 666.67; 25 400 000 · 1/128 = 198 437.5, half away from zero.
    assert_eq!(
        Length::read("1/3 in", None),
        Ok(Length::nanometres(8_466_667))
    );
    assert_eq!(
        Length::read("⅔\"", None),
        Ok(Length::nanometres(16_933_333))
    );
    assert_eq!(
        Length::read("1/128 in", None),
        Ok(Length::nanometres(198_438))
    );
    assert_eq!(
        Length::read("-1/128 in", None),
        Ok(Length::nanometres(-198_438))
    );
}

/// Each fraction character with the Numeric_Value that the Unicode Character Database gives it (S, version 14 by
/// way of another language's library).
#[test]
fn fraction_characters_mean_what_unicode_says() {
    let table = "½ 1/2, ⅓ 1/3, ⅔ 2/3, ¼ 1/4, ¾ 3/4, ⅕ 1/5, ⅖ 2/5, ⅗ 3/5, ⅘ 4/5, ⅙ 1/6, ⅚ 5/6, ⅐ 1/7, ⅛ 1/8, ⅜ 3/8, \
                 ⅝ 5/8, ⅞ 7/8, ⅑ 1/9, ⅒ 1/10";
    for row in table.split(", ") {
        let (character, fraction) = row.split_once(' ').expect("two columns");
        let written_out = Length::read(fraction, Some(Unit::Inch)).expect("a fraction");
        assert_eq!(
            Length::read(&format!("6{character}\""), None),
            Ok(Length::inches(6) + written_out),
            "{row}"
        );
        assert_eq!(
            Length::read(&format!("6-{fraction}\""), None),
            Ok(Length::inches(6) + written_out),
            "{row}"
        );
    }
}

/// Every typographic character in the place of the plain one.
#[test]
fn typographic_characters_mean_the_plain_ones() {
    let right = Ok(feet_inches(10, 104));
    for foot in "'‘’‛′ʹʼ´`＇".chars() {
        assert_eq!(
            Length::read(&format!("10{foot} 6-1/2\""), None),
            right,
            "{foot}"
        );
        assert_eq!(
            Length::read(&format!("10' 6-1/2{foot}{foot}"), None),
            right,
            "{foot}{foot}"
        );
    }
    for inch in "\"“”‟″ʺ〃＂".chars() {
        assert_eq!(
            Length::read(&format!("10' 6-1/2{inch}"), None),
            right,
            "{inch}"
        );
    }
    for dash in "-‐‑‒–—―−﹘﹣－".chars() {
        assert_eq!(
            Length::read(&format!("10'{dash}6{dash}1/2\""), None),
            right,
            "{dash}"
        );
    }
    for slash in "/⁄∕／".chars() {
        assert_eq!(
            Length::read(&format!("10' 6-1{slash}2\""), None),
            right,
            "{slash}"
        );
    }
    let spaces = "\u{20}\u{a0}\u{1680}\u{2000}\u{2007}\u{2009}\u{200a}\u{200b}\u{202f}\u{205f}\u{2060}\u{3000}\u{feff}";
    for space in spaces.chars() {
        let text = format!("{space}10{space}ft{space}6{space}1/2{space}in{space}");
        assert_eq!(Length::read(&text, None), right, "{space:?}");
    }
    for parts_columns in ["\t", "\n", "\r\n", "\u{2028}"] {
        let text = format!("10'{parts_columns}6\"");
        assert_eq!(
            Length::read_start(&text, None),
            Some((Length::feet(10), 3)),
            "{parts_columns:?}"
        );
    }
}

#[test]
fn near_misses_are_told_apart() {
    use ReadError::{ImproperFraction, Separators, TooManySmall, UnclearComma};
    assert!(matches!(
        Length::read("10' 12\"", None),
        Err(TooManySmall { most: 12, .. })
    ));
    assert!(matches!(
        Length::read("2/2 in", None),
        Err(ImproperFraction { .. })
    ));
    assert!(matches!(
        Length::read("1/2/2024 in", None),
        Err(Separators { .. })
    ));
    assert!(matches!(
        Length::read("1,234,56 mm", None),
        Err(Separators { .. })
    ));
    assert!(matches!(
        Length::read("1,234,5678 mm", None),
        Err(Separators { .. })
    ));
    assert!(matches!(
        Length::read("3,200 cm", None),
        Err(UnclearComma { .. })
    ));
    // Four digits in front of a comma part no thousands.
    assert_eq!(
        Length::read("1234,567 mm", None),
        Ok(Length::nanometres(1_234_567_000))
    );
}
