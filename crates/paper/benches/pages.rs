//! How long a paper takes once the typesetter is warm, and the first one, which sets it up.

#[path = "../tests/it/sample.rs"]
mod sample;
#[allow(dead_code, reason = "tests use more of it")]
#[path = "../tests/it/sample_card.rs"]
mod sample_card;
#[path = "../tests/it/sample_day.rs"]
mod sample_day;

use std::time::{Duration, Instant};

use paper::{OsdPaper, Print, build_day, osd, tally_sheet};

const RUNS: u32 = 21;

fn main() {
    let print = sample::print();
    let first = Instant::now();
    osd(&sample::paper(), &print).expect("the sample is sound");
    println!(
        "{:<34}{:>10.1} ms",
        "first paper, with set-up",
        ms(first.elapsed())
    );

    measure("OS&D, sample", |run| {
        osd(&changed(sample::paper(), run), &print_of(run)).expect("the sample is sound")
    });
    let mut long = sample::paper();
    long.short = (0..200)
        .map(|n| {
            sample::row(
                &format!("M{n}"),
                "Tube, swaged, 10 ft 6 in",
                [9, 9, 7, 7],
                2,
            )
        })
        .collect();
    measure("OS&D, 200 rows short", |run| {
        osd(&changed(long.clone(), run), &print_of(run)).expect("the sample is sound")
    });
    for (name, order) in [
        ("build-day folder, demo", sample_card::GOTHIC),
        ("build-day folder, largest house", sample_card::SIDEWALL),
    ] {
        let day = sample_day::of_order(order);
        measure(name, |run| {
            let mut day = day.clone();
            day.job = format!("Job {run}");
            build_day(&day, &print_of(run)).expect("the sample is sound")
        });
    }
    measure("tally sheet, sample, blind", |run| {
        let mut sheet = sample::tally();
        sheet.job = format!("Job {run}");
        tally_sheet(&sheet, &print_of(run)).expect("the sample is sound")
    });
}

/// Another paper each time, as the typesetter remembers what it has set.
fn changed(mut paper: OsdPaper, run: u32) -> OsdPaper {
    paper.job = format!("Job {run}");
    let rows = paper.short.iter_mut().chain(&mut paper.damaged);
    rows.for_each(|row| row.description.push_str(&format!(", lot {run}")));
    paper
}

fn print_of(run: u32) -> Print {
    Print {
        id: format!("bench-{run}"),
        ..sample::print()
    }
}

fn measure(name: &str, make: impl Fn(u32) -> Vec<u8>) {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|run| {
            let start = Instant::now();
            let bytes = make(run);
            assert!(!bytes.is_empty());
            start.elapsed()
        })
        .collect();
    times.sort();
    println!(
        "{name:<34}{:>10.1} ms (median of {RUNS})",
        ms(times[times.len() / 2])
    );
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}
