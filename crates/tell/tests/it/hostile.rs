//! Whatever is read, in whatever order: an answer that is one, never a panic.

use std::sync::OnceLock;

use measure::System;
use proptest::prelude::*;
use tell::{
    Asked, BendLook, Coating, EndLook, Kind, Kit, Marks, Reading, Size, TapeClass, Tool, Which,
};

use crate::house::demo;

fn number() -> impl Strategy<Value = i64> {
    prop_oneof![
        any::<i64>(),
        Just(0),
        Just(-1),
        Just(i64::MIN),
        Just(i64::MAX),
        0..10_000_000_000i64,
    ]
}

fn tool() -> impl Strategy<Value = Tool> {
    let marks = prop_oneof![Just(Marks::Inch), Just(Marks::Metric)];
    let class = prop_oneof![
        Just(TapeClass::EcI),
        Just(TapeClass::Unknown),
        Just(TapeClass::Handbook44)
    ];
    (marks, class, 0..5).prop_map(|(marks, class, tool)| match tool {
        0 => Tool::Tape { marks, class },
        1 => Tool::String { marks },
        2 => Tool::Caliper { marks },
        3 => Tool::GaugePlate { marks },
        _ => Tool::Unknown,
    })
}

fn reading() -> impl Strategy<Value = Reading> {
    let of = prop_oneof![
        Just(Size::Length),
        Just(Size::Across),
        Just(Size::Around),
        Just(Size::Wall),
        Just(Size::Chord),
        Just(Size::Rise),
        Just(Size::HoleSpacing),
        Just(Size::Unknown),
    ];
    prop_oneof![
        (of, number(), tool()).prop_map(|(of, nanometres, with)| Reading::Size {
            of,
            nanometres,
            with
        }),
        (number(), number()).prop_map(|(micrograms, step_micrograms)| Reading::Mass {
            micrograms,
            step_micrograms
        }),
        number().prop_map(|count| Reading::Holes { count }),
        ".{0,40}".prop_map(|like| Reading::Looks { like }),
        prop_oneof![
            Just(Kind::RoundTube),
            Just(Kind::Sheet),
            Just(Kind::Hardware),
            Just(Kind::Unknown)
        ]
        .prop_map(|is| Reading::Kind { is }),
        (
            any::<bool>(),
            prop_oneof![
                Just(EndLook::Plain),
                Just(EndLook::Threaded),
                Just(EndLook::Punched)
            ]
        )
            .prop_map(|(one, is)| Reading::End {
                end: if one { Which::One } else { Which::Other },
                is
            }),
        prop_oneof![Just(BendLook::Bent), Just(BendLook::Straight)]
            .prop_map(|is| Reading::Bend { is }),
        prop_oneof![Just(Coating::Wood), Just(Coating::Galvanized)]
            .prop_map(|is| Reading::Coating { is }),
        Just(Reading::Unknown),
    ]
}

fn kit() -> &'static Kit {
    static KIT: OnceLock<Kit> = OnceLock::new();
    KIT.get_or_init(|| demo().1)
}

fn check(kit: &Kit, readings: &[Reading]) {
    let answer = kit.answer(readings);
    let sum: f64 = answer.candidates.iter().map(|c| c.probability).sum::<f64>() + answer.none;
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    for candidate in &answer.candidates {
        assert!((0.0..=1.0).contains(&candidate.probability));
    }
    assert!(
        answer
            .candidates
            .windows(2)
            .all(|two| two[0].probability >= two[1].probability)
    );
    assert!(!answer.words.is_empty() && !answer.words.contains("NaN"));
    let next = kit.next(readings);
    assert!(
        answer.decided.is_none() || next.is_none(),
        "decided, and yet {next:?}"
    );
    if let Some(next) = next {
        assert!(next.bits.is_finite() && next.bits > 0.0);
    }
    for reading in readings {
        let written = serde_json::to_string(reading).unwrap();
        assert_eq!(&serde_json::from_str::<Reading>(&written).unwrap(), reading);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn any_readings_have_an_answer(readings in prop::collection::vec(reading(), 0..24)) {
        check(kit(), &readings);
    }

    /// What was read of different things may be read in any order.
    #[test]
    fn order_does_not_matter_where_nothing_is_read_twice(readings in prop::collection::vec(reading(), 0..8), seed: u64) {
        let mut once: Vec<Reading> = Vec::new();
        let what = |r: &Reading| match r {
            Reading::Size { of: Size::Around, .. } => (0, Size::Across as usize, None),
            Reading::Size { of, .. } => (0, *of as usize, None),
            Reading::End { end, .. } => (1, 0, Some(*end)),
            Reading::Kind { .. } => (2, 0, None),
            Reading::Looks { .. } => (3, 0, None),
            Reading::Bend { .. } => (4, 0, None),
            Reading::Coating { .. } => (5, 0, None),
            Reading::Holes { .. } => (6, 0, None),
            Reading::Mass { .. } => (7, 0, None),
            Reading::Unknown => (8, 0, None),
        };
        for reading in readings {
            if once.iter().all(|known| what(known) != what(&reading)) {
                once.push(reading);
            }
        }
        let mut turned = once.clone();
        fastrand::Rng::with_seed(seed).shuffle(&mut turned);
        let [a, b] = [&once, &turned].map(|readings| kit().answer(readings));
        prop_assert!((a.none - b.none).abs() < 1e-9);
        prop_assert!((a.candidates[0].probability - b.candidates[0].probability).abs() < 1e-9);
    }
}

#[test]
fn a_kit_of_nothing_answers_too() {
    let empty = Kit::of([], &[], System::Metric);
    check(&empty, &[]);
    check(&empty, &[Reading::Kind { is: Kind::Wire }]);
    assert!(empty.look_alikes().is_empty());
    let (list, _) = demo();
    let none_come = Kit::of(
        list.lines.iter().map(|l| (&l.part, 0)),
        &[],
        System::FeetInch,
    );
    check(&none_come, &[Reading::Kind { is: Kind::Wire }]);
    let owed = Kit::of(
        list.lines.iter().map(|l| (&l.part, i64::MIN)),
        &[],
        System::FeetInch,
    );
    check(&owed, &[]);
    let many = Kit::of(
        list.lines.iter().map(|l| (&l.part, i64::MAX)),
        &[],
        System::FeetInch,
    );
    check(&many, &[Reading::Holes { count: i64::MIN }]);
}

#[test]
fn ten_thousand_readings_are_no_more_than_the_last_few() {
    let (_, kit) = demo();
    let asked = Asked::Mass { step_micrograms: 1 };
    let (list, _) = demo();
    let reading = asked.of_part(&list.lines[0].part).unwrap();
    check(&kit, &vec![reading; 10_000]);
}
