//! How long an order takes to become a frame and a parts list. `cargo bench -p frame`.
//!
//! Each figure is of many runs one after the other on one core; the goal for the demo order is 1 ms.

use std::time::{Duration, Instant};

use frame::{Family, Order, PartsList, expand};

const RUNS: usize = 1_000;

fn main() {
    let family = Family::named("gothic-24").expect("the family comes with the program");
    let demo = Order::read(include_str!("../../../demo/order.toml")).expect("the demo is an order");
    let mut largest = demo.clone();
    largest.length = "144 ft".into();
    let mut wrong = demo.clone();
    wrong.length = "47 ft".into();
    wrong.front.insert("wall".into(), "open".into());

    println!(
        "{:<44} {:>8} {:>8} {:>9} {:>9}",
        "", "pieces", "joints", "median", "p99"
    );
    for (name, order) in [("demo, 48 ft", &demo), ("largest, 144 ft", &largest)] {
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
        row(&format!("{name}: both"), counts, || {
            expand(order, &family)
                .map(|frame| PartsList::of(&frame).lines.len())
                .unwrap_or_default()
        });
    }
    row("two troubles: refusal and nearest orders", (0, 0), || {
        wrong
            .settle(&family)
            .map_err(|refusal| refusal.nearest.len())
            .err()
            .unwrap_or_default()
    });
    row("family file: read and check", (0, 0), || {
        Family::named("gothic-24")
            .map(|family| family.stages().count())
            .unwrap_or_default()
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
    println!("{name:<44} {pieces:>8} {joints:>8} {median:>6.3} ms {p99:>6.3} ms");
}
