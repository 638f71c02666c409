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

#[allow(dead_code, reason = "tests use more of it")]
#[path = "../tests/it/sample_job.rs"]
mod sample_job;

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
    let mut short = sample_job::Job::counted(sample_card::GOTHIC, &[("B1", 4), ("N5", 12)]);
    short.calls();
    short.affairs();
    short.grounds();
    let mut whole = sample_job::Job::counted(THIRTY_BY_96, &[]);
    whole.calls();
    whole.grounds();
    let bare = sample_job::Job::counted(sample_card::ROUND, &[]);
    let largest = sample_day::of_order(sample_card::SIDEWALL);
    for (name, day, print) in [
        ("day-letter", sample_day::day(), &letter),
        ("day-a4", go, &a4),
        ("day-empty", wait, &letter),
        ("day-largest", largest, &a4),
        ("job-short", short.folder(), &letter),
        ("job-whole", whole.folder(), &a4),
        ("job-bare", bare.folder(), &letter),
    ] {
        let start = std::time::Instant::now();
        let bytes = build_day(&day, print)?;
        println!("{name}: {} kB, {:.1?}", bytes.len() / 1000, start.elapsed());
        std::fs::write(format!("{folder}/{name}.pdf"), bytes)?;
    }
    Ok(())
}

/// A straight-wall house of 30 by 96 ft.
const THIRTY_BY_96: &str = r#"
name = "Upper field"
family = "sidewall-30"
length = "96 ft"
bow_spacing = "4 ft"
"#;
