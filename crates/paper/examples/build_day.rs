//! Writes sample build-day folders into a folder, to be looked at:
//! `cargo run -p paper --example build_day -- /tmp/papers`.

#[allow(dead_code, reason = "other papers are written by another example")]
#[path = "../tests/it/sample.rs"]
mod sample;
#[allow(dead_code, reason = "other papers are written by another example")]
#[path = "../tests/it/sample_card.rs"]
mod sample_card;
#[path = "../tests/it/sample_day.rs"]
mod sample_day;

use paper::{BuildDay, CallSign, Print, Sheet, build_day};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("give a folder to write to")?;
    std::fs::create_dir_all(&folder)?;
    let letter = sample::print();
    let a4 = Print {
        sheet: Sheet::A4,
        ..sample::print()
    };
    let mut go = sample_day::day();
    go.call.sign = CallSign::Go;
    go.call.words = "Go".into();
    let mut wait = BuildDay::default();
    wait.call.words = "Wait".into();
    let largest = sample_day::of_order(sample_card::SIDEWALL);
    for (name, day, print) in [
        ("day-letter", sample_day::day(), &letter),
        ("day-a4", go, &a4),
        ("day-empty", wait, &letter),
        ("day-largest", largest, &a4),
    ] {
        let start = std::time::Instant::now();
        let bytes = build_day(&day, print)?;
        println!("{name}: {} kB, {:.1?}", bytes.len() / 1000, start.elapsed());
        std::fs::write(format!("{folder}/{name}.pdf"), bytes)?;
    }
    Ok(())
}
