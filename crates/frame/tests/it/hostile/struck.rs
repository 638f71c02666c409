//! Shipped families with lines struck out, doubled, and with texts and numbers changed at random.

use std::time::Instant;

use frame::{
    Family, Frame, HouseEnd, Order, PartsList, View, bow_flat, end_elevation, expand, isometric,
    joint_detail, joints_to_detail, part_drawing, plan, side_elevation,
};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::LONGEST;

const SHIPPED: [&str; 3] = [
    include_str!("../../../../../families/round-16.toml"),
    include_str!("../../../../../families/gothic-24.toml"),
    include_str!("../../../../../families/sidewall-30.toml"),
];

/// What may stand where a length, a word, or a number was.
const TEXTS: [&str; 34] = [
    "0 in",
    "-1 in",
    "-40 ft",
    "0.000000001 m",
    "1/64 in",
    "1 in",
    "3 in",
    "6 in",
    "15 in",
    "4 ft",
    "30 ft",
    "99 ft",
    "328 ft",
    "999 m",
    "9000000 m",
    "9223372036 m",
    "-9223372036 m",
    "9999999999999999999 ft",
    "follows",
    "peak",
    "over the peak",
    "all",
    "rest",
    "ends",
    "left",
    "none",
    "swaged 9000000 m",
    "swaged 70 in",
    "2 mil",
    "9223372036854775807 mil",
    "9000000 kg",
    "0 g",
    "",
    "\u{1F33F}",
];
const NUMBERS: [&str; 16] = [
    "0",
    "-1",
    "1",
    "2",
    "7",
    "1000",
    "10000",
    "9223372036854775807",
    "-9223372036854775808",
    "nan",
    "inf",
    "-inf",
    "1e308",
    "1e-308",
    "-0.0",
    "0.5",
];

/// One thing done to a text, as numbers for the kind, the place and what is put there.
type Blow = (u8, u32, u32);

fn strike(text: &str, (kind, place, what): Blow) -> String {
    let mut lines: Vec<String> = text.lines().map(String::from).collect();
    let line = place as usize % lines.len().max(1);
    match kind % 8 {
        0..=2 => lines[line] = with_text(&lines[line], what),
        3 | 4 => lines[line] = with_number(&lines[line], what),
        5 => _ = lines.remove(line),
        6 => {
            let twice = lines[line].clone();
            lines.insert(line, twice);
        }
        _ => {
            let starts: Vec<usize> = (lines.iter().enumerate())
                .filter(|(_, line)| line.starts_with("[["))
                .map(|(i, _)| i)
                .collect();
            let Some(&start) = starts.get(place as usize % starts.len().max(1)) else {
                return text.into();
            };
            let end = (starts.iter().copied().find(|s| *s > start)).unwrap_or(lines.len());
            let table: Vec<String> = lines[start..end].to_vec();
            match what % 3 {
                0 => _ = lines.drain(start..end),
                1 => lines.extend(table),
                _ => (0..1 + what % 40).for_each(|_| lines.extend(table.clone())),
            }
        }
    }
    lines.join("\n")
}

/// The line with one of its quoted texts changed.
fn with_text(line: &str, what: u32) -> String {
    let mut parts: Vec<&str> = line.split('"').collect();
    let quoted = parts.len() / 2;
    if quoted > 0 {
        parts[1 + 2 * (what as usize % quoted)] = TEXTS[what as usize / 7 % TEXTS.len()];
    }
    parts.join("\"")
}

/// The line with one of its numbers outside of quotes changed.
fn with_number(line: &str, what: u32) -> String {
    let mut numbers = Vec::new();
    let (mut quoted, mut start) = (false, None);
    for (i, c) in line.char_indices().chain([(line.len(), ' ')]) {
        if c == '"' {
            quoted = !quoted;
        }
        let in_word =
            i > 0 && line[..i].ends_with(|b: char| b.is_alphanumeric() || b == '-' || b == '_');
        if !quoted && c.is_ascii_digit() && start.is_none() && !in_word {
            start = Some(i);
        } else if !(c.is_ascii_digit() || c == '.')
            && let Some(from) = start.take()
        {
            numbers.push(from..i);
        }
    }
    let mut line = line.to_string();
    if !numbers.is_empty() {
        let range = numbers[what as usize % numbers.len()].clone();
        line.replace_range(range, NUMBERS[what as usize / 7 % NUMBERS.len()]);
    }
    line
}

/// Orders of a small house and a larger one, plain and with choices as the number has it.
fn orders(family: &Family, number: usize) -> Vec<Order> {
    let plain = |length: &str| {
        let name = &family.name;
        Order::read(&format!(
            "name = \"struck\"\nfamily = {name:?}\nlength = {length:?}"
        ))
        .ok()
    };
    let chosen = |length: &str| {
        let mut order = plain(length)?;
        for (i, option) in family.choices().iter().enumerate() {
            let choice = (number >> (i % 16)) % option.choices.len();
            for table in option.tables() {
                let table = match *table {
                    "front" => &mut order.front,
                    "back" => &mut order.back,
                    "left" => &mut order.left,
                    "right" => &mut order.right,
                    _ => &mut order.options,
                };
                table.insert(option.key.clone(), option.choices[choice].clone());
            }
        }
        Some(order)
    };
    (["24 ft", "96 ft"].into_iter())
        .flat_map(|length| [plain(length), chosen(length)])
        .flatten()
        .collect()
}

fn all_drawings(frame: &Frame) {
    let _ = isometric(frame, View::ALL[0]);
    let _ = plan(frame);
    let _ = side_elevation(frame);
    for end in HouseEnd::BOTH {
        let _ = end_elevation(frame, end);
    }
    for part in &frame.parts {
        let _ = bow_flat(frame, &part.mark.0);
        let _ = part_drawing(part);
    }
    for (kind, _) in joints_to_detail(frame) {
        let _ = joint_detail(frame, kind);
    }
}

/// Reads, orders, counts and now and then draws; what is refused is refused in words.
fn stands_or_is_refused(text: &str, choice: usize) -> bool {
    let started = Instant::now();
    let family = match Family::read(text) {
        Ok(family) => family,
        Err(e) => {
            assert!(e.to_string().len() > 20, "{e}");
            return false;
        }
    };
    assert!(
        started.elapsed() < LONGEST,
        "read in {:?}",
        started.elapsed()
    );
    let mut built = false;
    for order in orders(&family, choice) {
        let started = Instant::now();
        match expand(&order, &family) {
            Ok(frame) => {
                built = true;
                let list = PartsList::of(&frame);
                assert!(
                    list.lines
                        .iter()
                        .all(|line| line.quantity >= 0 && line.supplied >= line.quantity)
                );
                assert!(list.gross() >= list.mass());
                if choice.is_multiple_of(8) {
                    all_drawings(&frame);
                }
            }
            Err(e) => assert!(e.to_string().len() > 20, "{e}"),
        }
        assert!(
            started.elapsed() < LONGEST,
            "built in {:?}",
            started.elapsed()
        );
    }
    built
}

#[test]
fn struck_families_are_refused_or_built() {
    let cases = 1_000;
    let config = Config {
        failure_persistence: None,
        max_shrink_iters: 40,
        ..Config::with_cases(cases)
    };
    let mut runner =
        TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let blow = (any::<u8>(), any::<u32>(), any::<u32>());
    let blows = (
        0..SHIPPED.len(),
        proptest::collection::vec(blow, 1..4),
        any::<u16>(),
    );
    let seen = std::cell::RefCell::new([0, 0]);
    let result = runner.run(&blows, |(family, blows, choice)| {
        let text = blows
            .iter()
            .fold(SHIPPED[family].to_string(), |text, blow| {
                strike(&text, *blow)
            });
        seen.borrow_mut()[usize::from(stands_or_is_refused(&text, choice.into()))] += 1;
        Ok(())
    });
    result.unwrap_or_else(|e| panic!("{}", e.to_string().chars().take(600).collect::<String>()));
    // A test that only sees refusals tests the reading alone.
    let [refused, built] = seen.into_inner();
    assert!(
        refused > cases / 10 && built > cases / 10,
        "{refused} {built}"
    );
}
