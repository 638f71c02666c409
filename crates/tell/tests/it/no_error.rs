//! With nothing misread and every piece just as the list has it, the right mark is always the likeliest.

use frame::{Family, Order, PartsList, expand};
use measure::Length;
use tell::{Asked, Decided, Kit, KnownPart, Reading};

use crate::draw::everything;
use crate::house::{DEMO, LARGEST, ROUND, demo, list, others, part};

/// Orders of a family: two lengths, and each choice by itself.
fn orders(family: &Family) -> Vec<Order> {
    let length = |length: Length| length.write(measure::System::FeetInch, measure::Grid::SIXTEENTH);
    let [least, most] = family.lengths();
    let uneven = match family.may_be_uneven().first() {
        Some(way) => format!("uneven = '{way}'\n"),
        None => String::new(),
    };
    let plain = |l: Length| {
        let text = format!(
            "name = 'a house'\nfamily = '{}'\nlength = '{}'\n{uneven}",
            family.name,
            length(l)
        );
        Order::read(&text).unwrap()
    };
    let mut orders = vec![plain(least), plain(most)];
    for option in family.choices() {
        for choice in option.choices.iter().skip(1) {
            let mut order = plain(least);
            let table = match option.tables() {
                ["front", ..] => &mut order.front,
                ["left", ..] => &mut order.left,
                _ => &mut order.options,
            };
            table.insert(option.key.clone(), choice.clone());
            orders.push(order);
        }
    }
    orders
}

/// Asks as the kit would have it, of a piece just as the list has it.
fn asks_and_answers(kit: &Kit, part: &frame::Part) -> Vec<Reading> {
    let mut readings = Vec::new();
    let mut cannot: Vec<Asked> = Vec::new();
    while let Some(next) = kit.next_but(&readings, &cannot) {
        assert!(next.bits.is_finite() && next.bits > 0.0 && next.seconds > 0.0);
        match next.asked.of_part(part) {
            Some(reading) => readings.push(reading),
            None => cannot.push(next.asked),
        }
        assert!(readings.len() + cannot.len() < 30, "it ends");
    }
    readings
}

fn check(list: &PartsList, kit: &Kit) -> usize {
    for line in &list.lines {
        let mark = &line.part.mark;
        let all: Vec<Reading> = (everything(measure::System::FeetInch).iter())
            .filter_map(|asked| asked.of_part(&line.part))
            .collect();
        for readings in [asks_and_answers(kit, &line.part), all] {
            let answer = kit.answer(&readings);
            let first = &answer.candidates[0];
            assert!(
                first.marks.contains(mark),
                "{mark} is called: {}",
                answer.words
            );
            assert!(first.probability > answer.none, "{mark}: {}", answer.words);
            assert_eq!(answer.odd, [], "{mark}");
            if let Some(decided) = &answer.decided {
                assert!(matches!(decided, Decided::Is(marks) if marks.contains(mark)));
            }
        }
    }
    list.lines.len()
}

#[test]
fn the_right_mark_wins_in_every_order() {
    let mut pieces = 0;
    for family in Family::shipped() {
        let known = others(&family.name);
        for order in orders(&family) {
            // A choice that needs another is tried with that in the whole house below.
            let Ok(frame) = expand(&order, &family) else {
                continue;
            };
            let list = PartsList::of(&frame);
            pieces += check(&list, &Kit::of_list(&list, &known, frame.system));
        }
    }
    for order in [DEMO, LARGEST, ROUND] {
        let (list, system) = list(order);
        pieces += check(&list, &Kit::of_list(&list, &[], system));
    }
    assert!(pieces > 1_000, "{pieces}");
}

#[test]
fn a_piece_from_another_order_is_none_of_this_and_named() {
    let (_, kit) = demo();
    let (round, _) = list(ROUND);
    let bow = part(&round, "B2");
    let readings: Vec<Reading> = (everything(measure::System::FeetInch).iter())
        .filter_map(|asked| asked.of_part(bow))
        .collect();
    let answer = kit.answer(&readings);
    assert_eq!(answer.decided, Some(Decided::NoneOfThisOrder));
    let (nearest, chance) = answer.nearest_elsewhere.unwrap();
    assert_eq!((nearest.part.mark.0.as_str(), chance > 0.9), ("B2", true));
    assert!(
        answer.words.contains("looks like B2, bow, of"),
        "{}",
        answer.words
    );
    assert!(
        answer.words.ends_with("a piece from another order?"),
        "{}",
        answer.words
    );
}

#[test]
fn a_thing_that_is_on_no_list_is_none_of_this_order() {
    let (list, kit) = demo();
    // A round tube twice as long as any here, and as thick as a thumb.
    let mut odd = part(&list, "S1").clone();
    odd.length = Some(Length::feet(20));
    if let Some(frame::Section::Tube { outside, .. }) = &mut odd.section {
        *outside = Length::mils(840);
    }
    let readings = asks_and_answers(&kit, &odd);
    assert_eq!(
        kit.answer(&readings).decided,
        Some(Decided::NoneOfThisOrder)
    );
}

#[test]
fn known_parts_stand_once_and_none_that_this_order_has() {
    let known = KnownPart::of_families(&Family::shipped());
    assert!(known.len() > 100, "{}", known.len());
    let (list, system) = list(DEMO);
    let kit = Kit::of_list(&list, &known, system);
    assert!(kit.elsewhere().count() < known.len());
    for line in &list.lines {
        assert!(
            kit.elsewhere().all(|k| k.part != line.part),
            "{}",
            line.part.mark
        );
    }
}
