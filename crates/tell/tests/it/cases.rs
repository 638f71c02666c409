//! What happens at a pile.

use measure::{Length, Tolerance};
use tell::{Asked, Decided, Kind, Kit, Marks, Reading, Size, TapeClass, Tool, Tools, Which};

use crate::house::{DEMO, LARGEST, demo, list, part};

const TAPE: Tool = Tool::Tape {
    marks: Marks::Inch,
    class: TapeClass::Handbook44,
};
const CALIPER: Tool = Tool::Caliper { marks: Marks::Inch };

fn size(of: Size, with: Tool, text: &str) -> Reading {
    Reading::Size {
        of,
        nanometres: Length::read(text, None).unwrap().as_nanometres(),
        with,
    }
}

fn tube() -> Reading {
    Reading::Kind {
        is: Kind::RoundTube,
    }
}

fn end(end: Which, is: tell::EndLook) -> Reading {
    Reading::End { end, is }
}

/// The trap: the trade calls it 1-5/8 and it measures 1.660 in (names M, ODs S2: facts of the fence trade and ASME
/// B36.10M). A kit that has a 1-5/8 fence tube and a light one that is the literal 1.625 in.
#[test]
fn what_is_called_1_5_8_measures_1_660() {
    let (list, _) = demo();
    let fence = part(&list, "P1").clone();
    let mut literal = fence.clone();
    literal.mark.0 = "P9".into();
    if let Some(frame::Section::Tube { outside, .. }) = &mut literal.section {
        *outside = Length::mils(1625);
    }
    let kit = Kit::of(
        [(&fence, 26), (&literal, 26)],
        &[],
        measure::System::FeetInch,
    );
    let told = |text: &str| {
        let answer = kit.answer(&[tube(), size(Size::Across, CALIPER, text)]);
        answer.candidates[0].marks[0].0.clone()
    };
    assert_eq!(told("1.660 in"), "P1");
    assert_eq!(told("1.625 in"), "P9");
    // A tape cannot tell, says so, and a caliper is asked for.
    let taped = [tube(), size(Size::Across, TAPE, "1-5/8 in")];
    let answer = kit.answer(&taped);
    assert_eq!(answer.decided, None, "{}", answer.words);
    let next = kit.next(&taped).unwrap();
    assert_eq!(
        next.asked,
        Asked::Size {
            of: Size::Across,
            with: CALIPER
        }
    );
    assert!(next.words.contains("1.617 in is P9"), "{}", next.words);
    // F1083 small sizes: +1/64 in, -1/32 in (S2t); at either end of that it is still a P1 or not decided.
    let limits = Tolerance::new(Length::sixty_fourths(1), Length::sixty_fourths(2)).unwrap();
    for od in [Length::mils(1660) + limits.plus(), Length::mils(1660)] {
        let text = format!("{:.3} in", od.to_inches());
        assert_eq!(told(&text), "P1");
    }
}

/// Half an inch is between the ridge tube and the stud of the demo (10 ft 6-1/2 in, 10 ft 6 in); a piece 1/8 in off, all
/// that we allow a tube, is still told by its length alone.
#[test]
fn a_piece_an_eighth_off_is_still_itself() {
    let (_, kit) = demo();
    let told = |length: &str| {
        let across = size(Size::Across, TAPE, "1-5/16 in");
        kit.answer(&[tube(), across, size(Size::Length, TAPE, length)])
    };
    for (length, mark) in [
        ("10 ft 5-7/8 in", "S1"),
        ("10 ft 6 in", "S1"),
        ("10 ft 6-1/8 in", "S1"),
        ("10 ft 6-3/8 in", "R1"),
        ("10 ft 6-1/2 in", "R1"),
        ("10 ft 6-5/8 in", "R1"),
    ] {
        let answer = told(length);
        assert_eq!(
            answer.candidates[0].marks[0].0, mark,
            "{length}: {}",
            answer.words
        );
        assert!(
            answer.candidates[0].probability > 0.8,
            "{length}: {}",
            answer.words
        );
    }
    assert_eq!(told("10 ft 6-1/4 in").decided, None, "right between");
}

/// A foot too few: nothing else fits, so it is the right mark after all, the reading is called odd, and one more settles it.
#[test]
fn a_foot_misread_is_found_out() {
    let (_, kit) = demo();
    let mut readings = vec![
        tube(),
        size(Size::Across, TAPE, "1-5/16 in"),
        end(Which::One, tell::EndLook::Plain),
        end(Which::Other, tell::EndLook::Plain),
        size(Size::Length, TAPE, "9 ft 6 in"),
    ];
    let answer = kit.answer(&readings);
    // 9 ft 6 in is also the stud of another house, which is said.
    let (known, _) = answer.nearest_elsewhere.clone().unwrap();
    assert_eq!(known.part.mark.0, "S1");
    assert!(
        answer.none > 0.05 && answer.probability_of(&frame::Mark("S1".into())) > 0.05,
        "{}",
        answer.words
    );
    readings.push(size(Size::Length, TAPE, "10 ft 6 in"));
    readings.push(size(Size::Length, TAPE, "10 ft 6 in"));
    let answer = kit.answer(&readings);
    assert_eq!(answer.mark().unwrap().0, "S1", "{}", answer.words);
    assert_eq!(answer.odd.len(), 1, "{:?}", answer.odd);
    assert_eq!(answer.odd[0].reading, 4);
    assert!(
        answer.odd[0].words.contains("10 ft 6 in: measure it again"),
        "{}",
        answer.odd[0].words
    );
}

/// To measure the same deviation again tells little; to measure with the same slip three times over tells a lot.
#[test]
fn readings_of_one_size_are_not_taken_as_pieces_apart() {
    let (_, kit) = demo();
    let across = size(Size::Across, TAPE, "1-5/16 in");
    let between = size(Size::Length, TAPE, "10 ft 6-3/16 in");
    let told = |times: usize| {
        let mut readings = vec![tube(), across.clone()];
        readings.extend(std::iter::repeat_n(between.clone(), times));
        let answer = kit.answer(&readings);
        let odds = |mark: &str| answer.probability_of(&frame::Mark(mark.into()));
        (odds("S1") / odds("R1")).ln()
    };
    let (once, six) = (told(1), told(6));
    assert!(once > 0.0, "nearer to the stud");
    // Six readings taken as six pieces would count six times.
    assert!(six < 2.0 * once + 0.5, "once {once}, six times {six}");
}

#[test]
fn marks_that_nothing_tells_apart_are_one_answer() {
    let (largest, system) = list(LARGEST);
    let kit = Kit::of_list(&largest, &[], system);
    let rail = part(&largest, "H3");
    let mut readings = Vec::new();
    while let Some(next) = kit.next(&readings) {
        readings.push(next.asked.of_part(rail).unwrap());
    }
    let answer = kit.answer(&readings);
    let marks = ["H1", "H3"].map(|mark| frame::Mark(mark.into())).to_vec();
    assert_eq!(answer.decided, Some(Decided::Is(marks)));
    assert_eq!(answer.mark(), None);
    assert!(
        answer.words.contains("H1 or H3")
            && answer
                .words
                .ends_with("nothing to measure tells them apart"),
        "{}",
        answer.words
    );
}

#[test]
fn only_tools_at_hand_are_asked_for() {
    let (list, system) = list(DEMO);
    let kit = Kit::of_list(&list, &[], system).with_tools(Tools::tape_only(system));
    for line in &list.lines {
        let (mut readings, mut cannot) = (Vec::new(), Vec::new());
        while let Some(next) = kit.next_but(&readings, &cannot) {
            let needs_more = matches!(
                next.asked,
                Asked::Mass { .. }
                    | Asked::Size {
                        with: Tool::Caliper { .. } | Tool::String { .. },
                        ..
                    }
            );
            assert!(!needs_more, "{}", next.words);
            match next.asked.of_part(&line.part) {
                Some(reading) => readings.push(reading),
                None => cannot.push(next.asked),
            }
        }
    }
}

#[test]
fn what_to_read_next_says_what_it_would_mean() {
    let (_, kit) = demo();
    let readings = [
        tube(),
        size(Size::Across, TAPE, "1-5/16 in"),
        end(Which::One, tell::EndLook::Plain),
        Reading::Bend {
            is: tell::BendLook::Straight,
        },
    ];
    let next = kit
        .next_but(&readings, &[Asked::End(Which::Other)])
        .unwrap();
    assert_eq!(
        next.words,
        "Measure its length with a tape: 10 ft 6 in is S1, 10 ft 6-1/2 in is R1"
    );
    // In a metric order the same, on a metric tape.
    let (list, _) = list(DEMO);
    let metric = Kit::of_list(&list, &[], measure::System::Metric);
    let next = metric
        .next_but(&readings, &[Asked::End(Which::Other)])
        .unwrap();
    assert_eq!(
        next.words,
        "Measure its length with a tape: 3200 mm is S1, 3213 mm is R1"
    );
}

#[test]
fn look_alikes_say_how_to_tell_them_apart() {
    let (largest, system) = list(LARGEST);
    let kit = Kit::of_list(&largest, &[], system);
    let pairs = kit.look_alikes();
    let pair = |a: &str, b: &str| {
        pairs
            .iter()
            .find(|p| p.one[0].0 == a && p.other[0].0 == b)
            .unwrap_or_else(|| panic!("{a} {b}"))
    };
    assert_eq!(pair("H1", "H3").quickest, None);
    let webs = pair("V1", "V2");
    assert!(
        webs.by_eye > 0.35 && webs.by_tape.unwrap() < 0.01,
        "{webs:?}"
    );
    assert!(
        webs.words
            .contains("4 ft 5-5/16 in is V1, 4 ft 3-1/4 in is V2"),
        "{}",
        webs.words
    );
    for pair in &pairs {
        assert!(
            (0.0..=0.5).contains(&pair.by_eye)
                && pair.by_tape.is_none_or(|p| (0.0..=0.5).contains(&p))
        );
        if let Some(quickest) = &pair.quickest {
            assert!(quickest.wrong <= 0.025);
        }
    }
    // Nobody takes a door for a hinge.
    assert!(
        pairs
            .iter()
            .all(|p| !(p.one[0].0 == "D1" && p.other[0].0 == "D2"))
    );
    let of = kit.look_alikes_of(&frame::Mark("V2".into()));
    let expected: Vec<_> = (pairs.iter())
        .filter(|p| {
            [&p.one, &p.other]
                .into_iter()
                .flatten()
                .any(|m| m.0 == "V2")
        })
        .cloned()
        .collect();
    assert_eq!(of, expected);
}
