//! How long telling takes, on a kit of 400 parts beside those known of two other families. `cargo bench -p tell`.
//!
//! The goal is 1 ms for an answer with what to read next, and 200 ms for the table of look-alikes. Each figure is of many
//! runs one after the other on one core.

use std::time::{Duration, Instant};

use frame::Family;
use tell::{Kit, KnownPart, Reading};

mod wide;

fn main() {
    let (parts, system) = wide::parts();
    let others: Vec<Family> = (Family::shipped().into_iter())
        .filter(|family| family.name != "sidewall-30")
        .collect();
    let known = KnownPart::of_families(&others);
    let of = || Kit::of(parts.iter().map(|(part, n)| (part, *n)), &known, system);
    let kit = of();
    println!(
        "{} parts, {} known of other orders\n\n{:<52} {:>9} {:>9}",
        parts.len(),
        kit.elsewhere().count(),
        "",
        "median",
        "p99"
    );
    row("the kit made ready", 100, || of().looks().count());
    row(
        "the kit made ready, first answer and what to read next",
        50,
        || of().next(&[]).map_or(0, |next| next.words.len()),
    );
    row("nothing read: answer and what to read next", 1_000, || {
        once(&kit, &[])
    });

    let (piece, _) = parts
        .iter()
        .find(|(part, _)| part.mark.0 == "R2-3")
        .expect("it is there");
    let mut readings: Vec<Reading> = Vec::new();
    let mut cannot = Vec::new();
    while let Some(next) = kit.next_but(&readings, &cannot) {
        match next.asked.of_part(piece) {
            Some(reading) => readings.push(reading),
            None => {
                cannot.push(next.asked);
                continue;
            }
        }
        let name = format!("{} read: answer and what to read next", readings.len());
        row(&name, 1_000, || once(&kit, &readings));
    }
    println!("    {}", kit.answer(&readings).words);
    let twice: Vec<Reading> = readings.iter().chain(&readings).cloned().collect();
    row("the same, each read twice", 1_000, || once(&kit, &twice));
    row("the table of look-alikes", 50, || kit.look_alikes().len());
    println!("    {} pairs", kit.look_alikes().len());
    row("the look-alikes of one mark", 200, || {
        kit.look_alikes_of(&piece.mark).len()
    });
}

fn once(kit: &Kit, readings: &[Reading]) -> usize {
    let answer = kit.answer(readings);
    answer.words.len() + kit.next(readings).map_or(0, |next| next.words.len())
}

fn row(name: &str, runs: usize, work: impl Fn() -> usize) {
    let mut took: Vec<Duration> = (0..runs)
        .map(|_| {
            let began = Instant::now();
            std::hint::black_box(work());
            began.elapsed()
        })
        .collect();
    took.sort_unstable();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    let (median, p99) = (ms(took[runs / 2]), ms(took[runs * 99 / 100]));
    println!("{name:<52} {median:>6.3} ms {p99:>6.3} ms");
}
