//! How long an order takes to become a frame and a parts list. `cargo bench -p frame`.
//!
//! Each figure is of many runs one after the other on one core; the goal is 1 ms for the demo order,
//! and 5 ms for the largest house with every option.

use std::time::{Duration, Instant};

use frame::{Family, Order, PartsList, expand};

const RUNS: usize = 1_000;

fn main() {
    let demo = Order::read(include_str!("../../../demo/order.toml")).expect("the demo is an order");
    let largest = Order::read(include_str!("largest.toml")).expect("it is an order");

    println!(
        "{:<48} {:>8} {:>8} {:>9} {:>9}",
        "", "pieces", "joints", "median", "p99"
    );
    rows("demo, 48 ft", &demo);
    // Linear in the length: a foot more takes as long wherever it is added.
    for feet in [24, 48, 96, 192] {
        let mut order = largest.clone();
        order.length = format!("{feet} ft");
        rows(&format!("every option, {feet} ft"), &order);
    }

    let family = family_of(&demo);
    let mut wrong = demo.clone();
    wrong.length = "47 ft".into();
    wrong.front.insert("wall".into(), "open".into());
    row("two troubles: refusal and nearest orders", (0, 0), || {
        wrong
            .settle(&family)
            .map_err(|refusal| refusal.nearest.len())
            .err()
            .unwrap_or_default()
    });
    for name in [&demo.family, &largest.family] {
        row(&format!("{name}: read and check the file"), (0, 0), || {
            Family::named(name)
                .map(|family| family.stages().count())
                .unwrap_or_default()
        });
    }
}

fn family_of(order: &Order) -> Family {
    Family::named(&order.family).expect("the family comes with the program")
}

fn rows(name: &str, order: &Order) {
    let family = family_of(order);
    let frame = expand(order, &family).expect("it can be built");
    let counts = (frame.pieces.len(), frame.joints.len());
    row(&format!("{name}: expand"), counts, || {
        expand(order, &family)
            .map(|frame| frame.pieces.len())
            .unwrap_or_default()
    });
    row(&format!("{name}: parts list"), counts, || {
        PartsList::of(&frame).lines.len()
    });
}

fn row(name: &str, (pieces, joints): (usize, usize), work: impl Fn() -> usize) {
    let mut took: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let began = Instant::now();
            std::hint::black_box(work());
            began.elapsed()
        })
        .collect();
    took.sort_unstable();
    let ms = |d: Duration| d.as_secs_f64() * 1e3;
    let (median, p99) = (ms(took[RUNS / 2]), ms(took[RUNS * 99 / 100]));
    println!("{name:<48} {pieces:>8} {joints:>8} {median:>6.3} ms {p99:>6.3} ms");
}
