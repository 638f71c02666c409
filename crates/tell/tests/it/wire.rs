//! How readings are written into the log. If one of these fails, old logs no longer load.

use tell::{BendLook, Coating, EndLook, Kind, Marks, Reading, Size, TapeClass, Tool, Which};

fn check(reading: Reading, written: &str) {
    assert_eq!(serde_json::to_string(&reading).unwrap(), written);
    assert_eq!(serde_json::from_str::<Reading>(written).unwrap(), reading);
}

#[test]
fn readings_are_written_so() {
    check(
        Reading::Kind {
            is: Kind::RoundTube,
        },
        r#"{"read":"kind","is":"round_tube"}"#,
    );
    check(
        Reading::Looks {
            like: "hinge".into(),
        },
        r#"{"read":"looks","like":"hinge"}"#,
    );
    check(
        Reading::End {
            end: Which::Other,
            is: EndLook::Swaged,
        },
        r#"{"read":"end","end":"other","is":"swaged"}"#,
    );
    check(
        Reading::Bend { is: BendLook::Bent },
        r#"{"read":"bend","is":"bent"}"#,
    );
    check(
        Reading::Coating {
            is: Coating::ZincPlated,
        },
        r#"{"read":"coating","is":"zinc_plated"}"#,
    );
    check(Reading::Holes { count: 2 }, r#"{"read":"holes","count":2}"#);
    check(
        Reading::Size {
            of: Size::Length,
            nanometres: 3_213_100_000,
            with: Tool::Tape {
                marks: Marks::Inch,
                class: TapeClass::Handbook44,
            },
        },
        r#"{"read":"size","of":"length","nanometres":3213100000,"with":{"tool":"tape","marks":"inch","class":"handbook_44"}}"#,
    );
    check(
        Reading::Size {
            of: Size::HoleSpacing,
            nanometres: -1,
            with: Tool::Tape {
                marks: Marks::Metric,
                class: TapeClass::EcII,
            },
        },
        r#"{"read":"size","of":"hole_spacing","nanometres":-1,"with":{"tool":"tape","marks":"metric","class":"ec_2"}}"#,
    );
    check(
        Reading::Size {
            of: Size::Wall,
            nanometres: 2_108_200,
            with: Tool::GaugePlate { marks: Marks::Inch },
        },
        r#"{"read":"size","of":"wall","nanometres":2108200,"with":{"tool":"gauge_plate","marks":"inch"}}"#,
    );
    check(
        Reading::Mass {
            micrograms: 410_000_000,
            step_micrograms: 10_000_000,
        },
        r#"{"read":"mass","micrograms":410000000,"step_micrograms":10000000}"#,
    );
}

/// What a later program writes is read, and weighs nothing.
#[test]
fn what_is_not_known_yet_is_read_all_the_same() {
    for (written, reading) in [
        (
            r#"{"read":"smell","of":"zinc","strength":3}"#,
            Reading::Unknown,
        ),
        (
            r#"{"read":"kind","is":"rope"}"#,
            Reading::Kind { is: Kind::Unknown },
        ),
        (
            r#"{"read":"kind","is":"wire","sure":"very"}"#,
            Reading::Kind { is: Kind::Wire },
        ),
        (
            r#"{"read":"end","end":"one","is":"welded"}"#,
            Reading::End {
                end: Which::One,
                is: EndLook::Unknown,
            },
        ),
        (
            r#"{"read":"size","of":"pitch","nanometres":5,"with":{"tool":"laser","beam":"red"}}"#,
            Reading::Size {
                of: Size::Unknown,
                nanometres: 5,
                with: Tool::Unknown,
            },
        ),
        (
            r#"{"read":"size","of":"length","nanometres":5,"with":{"tool":"tape","marks":"inch"}}"#,
            Reading::Size {
                of: Size::Length,
                nanometres: 5,
                with: Tool::Tape {
                    marks: Marks::Inch,
                    class: TapeClass::Unknown,
                },
            },
        ),
    ] {
        assert_eq!(serde_json::from_str::<Reading>(written).unwrap(), reading);
    }
    let (_, kit) = crate::house::demo();
    let unknown = [Reading::Unknown, Reading::Kind { is: Kind::Unknown }];
    assert_eq!(kit.answer(&unknown).candidates, kit.answer(&[]).candidates);
}
