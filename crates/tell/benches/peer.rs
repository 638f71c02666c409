//! Draws pieces from the error model, reads them, and writes the readings for `peer/learn.py`, whose classifiers learn from
//! the same; then says how we do on those it is tested with. `crates/tell/benches/peer/run` runs both.

use std::fmt::Write as _;
use std::path::Path;
use std::time::Instant;

use frame::{Family, Mark, Order, PartsList, expand};
use measure::System;
use tell::{Asked, Decided, Kit, KnownPart, Reading};

#[path = "../tests/it/draw/mod.rs"]
#[allow(dead_code)]
mod draw;
use draw::{Truth, Yard, everything};

const TRAIN: usize = 40_000;
const TEST: usize = 8_000;

fn main() {
    // Without a folder, as when all benches are run, there is nothing to be held against.
    let Some(folder) = std::env::args()
        .nth(1)
        .filter(|asked| !asked.starts_with("--"))
    else {
        println!("run crates/tell/benches/peer/run");
        return;
    };
    let order =
        Order::read(include_str!("../../../demo/order.toml")).expect("the demo is an order");
    let family = Family::named(&order.family).expect("it comes with the program");
    let frame = expand(&order, &family).expect("it can be built");
    let list = PartsList::of(&frame);
    let others: Vec<Family> = (Family::shipped().into_iter())
        .filter(|other| other.name != family.name)
        .collect();
    let kit = Kit::of_list(&list, &KnownPart::of_families(&others), frame.system);
    let yard = Yard::of(list.lines.iter().map(|l| (&l.part, l.supplied)), &kit);
    let asked = everything(System::FeetInch);
    let mut rng = fastrand::Rng::with_seed(20);

    let train = draw_and_read(&yard, &asked, TRAIN, &mut rng);
    let test = draw_and_read(&yard, &asked, TEST, &mut rng);
    let folder = Path::new(&folder);
    for (name, drawn) in [("train.csv", &train), ("test.csv", &test)] {
        std::fs::write(folder.join(name), table(&asked, drawn)).expect("the folder can be written");
    }

    let began = Instant::now();
    let right = (test.iter())
        .filter(|(label, readings)| label_of(&kit, readings) == *label)
        .count();
    let took = began.elapsed().as_secs_f64() / TEST as f64;
    row(
        "ours, all readings",
        right as f64 / TEST as f64,
        asked.len() as f64,
        took,
    );
    asked_for(&kit, &yard, &mut fastrand::Rng::with_seed(21));
}

type Drawn = (String, Vec<Reading>);

fn draw_and_read(
    yard: &Yard,
    asked: &[Asked],
    count: usize,
    rng: &mut fastrand::Rng,
) -> Vec<Drawn> {
    (0..count)
        .map(|_| {
            let mut piece = yard.draw(rng);
            let readings = asked.iter().map(|asked| piece.read(*asked, rng)).collect();
            (label(piece.truth), readings)
        })
        .collect()
}

fn label(truth: Truth) -> String {
    match truth {
        Truth::Ours(part) => part.mark.0.clone(),
        _ => "none".into(),
    }
}

fn label_of(kit: &Kit, readings: &[Reading]) -> String {
    let answer = kit.answer(readings);
    let first = &answer.candidates[0];
    match first.probability > answer.none {
        true => first.marks[0].0.clone(),
        false => "none".into(),
    }
}

/// As the kit would have it asked, until it is told or nothing more helps.
fn asked_for(kit: &Kit, yard: &Yard, rng: &mut fastrand::Rng) {
    let (mut right, mut count, mut seconds) = (0, 0, 0.0);
    let began = Instant::now();
    for _ in 0..TEST {
        let mut piece = yard.draw(rng);
        let mut readings = Vec::new();
        while let Some(next) = kit.next(&readings) {
            readings.push(piece.read(next.asked, rng));
            seconds += next.seconds;
        }
        count += readings.len();
        let answer = kit.answer(&readings);
        let said = match &answer.decided {
            Some(Decided::Is(marks)) => marks
                .first()
                .map_or_else(String::new, |Mark(mark)| mark.clone()),
            Some(Decided::NoneOfThisOrder) => "none".into(),
            None => label_of(kit, &readings),
        };
        right += usize::from(said == label(piece.truth));
    }
    let n = TEST as f64;
    let took = began.elapsed().as_secs_f64() / n;
    row(
        "ours, what it asks for",
        right as f64 / n,
        count as f64 / n,
        took,
    );
    println!("    that takes {:.0} s at the pile", seconds / n);
}

fn row(name: &str, accuracy: f64, readings: f64, took: f64) {
    println!(
        "{name:<44} {:>7.2} % {readings:>8.2} {:>9.3} ms",
        accuracy * 100.0,
        took * 1e3
    );
}

/// One line a piece: its label, then one column a reading; numbers in millimetres and grams, looks as words.
fn table(asked: &[Asked], drawn: &[Drawn]) -> String {
    let mut text = String::from("label");
    for number in 0..asked.len() {
        let _ = write!(text, ",reading {number}");
    }
    for (label, readings) in drawn {
        let _ = write!(text, "\n{label}");
        for reading in readings {
            let _ = match reading {
                Reading::Kind { is } => write!(text, ",{is:?}"),
                Reading::Looks { like } => write!(text, ",\"{like}\""),
                Reading::End { is, .. } => write!(text, ",{is:?}"),
                Reading::Bend { is } => write!(text, ",{is:?}"),
                Reading::Coating { is } => write!(text, ",{is:?}"),
                Reading::Holes { count } => write!(text, ",{count}"),
                Reading::Size { nanometres, .. } => write!(text, ",{}", *nanometres as f64 / 1e6),
                Reading::Mass { micrograms, .. } => write!(text, ",{}", *micrograms as f64 / 1e6),
                Reading::Unknown => write!(text, ","),
            };
        }
    }
    text.push('\n');
    text
}
