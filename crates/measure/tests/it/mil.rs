//! Film thickness.

use measure::{Length, mil};

#[test]
fn as_people_write_it() {
    for (text, taken) in [
        ("6 mil film", 5),
        ("6mil, clear", 4),
        ("6-Mil.", 6),
        (" 6.0 mils", 9),
        ("６\u{a0}mil", 8),
    ] {
        assert_eq!(
            mil::read_start(text),
            Some((Length::mils(6), taken)),
            "{text}"
        );
        assert_eq!(
            Length::read_start(text, Some(measure::Unit::Inch)),
            None,
            "{text}"
        );
    }
    for text in ["6", "6 miles", "6 milk", "mil", "1000 mil", "6 mil2", ""] {
        assert_eq!(mil::read_start(text), None, "{text}");
    }
}

/// 6 mil is 152 µm (D).
#[test]
fn six_mil_in_micrometres() {
    assert_eq!(Length::mils(6).as_nanometres(), 152_400);
}
