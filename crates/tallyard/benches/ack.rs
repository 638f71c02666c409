//! What an acknowledged count costs: over HTTP on loopback with a kept connection, against the raw cost of one
//! SQLite commit with `synchronous=FULL` on the same disk. Taken in turn, so that both see the same disk.
//!
//! The goal is a ratio under 2: most of an acknowledgement is the disk, which nobody can go without.

#![allow(
    clippy::unwrap_used,
    reason = "a bench that meets an error is to stop there"
)]

#[path = "../tests/it/yard.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod yard;

use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use rusqlite::Connection;
use yard::{Running, id};

const RUNS: u64 = 2_000;
const WARMUP: u64 = 100;

fn main() {
    let place = tempfile::TempDir::new().unwrap();
    let job = place.path().join("demo.tallyard");
    let program = env!("CARGO_BIN_EXE_tallyard");
    let laid = Command::new(program)
        .args(["demo", "--lay"])
        .arg(&job)
        .status()
        .unwrap();
    assert!(laid.success());
    let yard = Running::open(program, &job);
    let phone = yard.joined("Ada");
    let before = yard.log().len() as u64;
    let raw = raw_log(&place.path().join("raw.db"));

    let (mut over_http, mut on_disk) = (Vec::new(), Vec::new());
    for n in 0..WARMUP + RUNS {
        let form_id = id(n);
        let begun = Instant::now();
        let answer = phone.post("/count/P1", &[("id", &form_id), ("quantity", "1")]);
        let counted = begun.elapsed();
        assert_eq!(answer.status, 303);

        let begun = Instant::now();
        let inserted = raw.execute(
            "insert into event (id, wire) values (?1, ?2)",
            (&form_id, WIRE),
        );
        let committed = begun.elapsed();
        assert_eq!(inserted.unwrap(), 1);
        if n >= WARMUP {
            over_http.push(counted);
            on_disk.push(committed);
        }
    }
    assert_eq!(yard.log().len() as u64, before + WARMUP + RUNS);

    println!("{RUNS} of each in turn, on {}", place.path().display());
    println!("{:<34} {:>10} {:>10}", "", "median", "99 %");
    let http = row("acknowledged count over HTTP", &mut over_http);
    let disk = row("one SQLite FULL commit", &mut on_disk);
    println!(
        "{:<34} {:>10.2} {:>10.2}   goal: under 2",
        "ratio",
        http.0 / disk.0,
        http.1 / disk.1
    );
}

/// As many bytes as the log keeps of one count.
const WIRE: &str = r#"{"v":1,"id":"00000000-0000-7000-8000-000000000000","device":"00000000-0000-7000-8000-000000000000","seq":1000,"at":1764064800000,"who":"Ada","kind":"counted","body":{"mark":"P1","pile":null,"quantity":1,"replaces":[]}}"#;

/// A log as plain as can be: write-ahead, and each insert its own transaction that waits for the disk.
fn raw_log(path: &Path) -> Connection {
    let connection = Connection::open(path).unwrap();
    connection
        .execute_batch(
            "pragma journal_mode=wal; pragma synchronous=full;
             create table event (row integer primary key, id text unique not null, wire text not null)",
        )
        .unwrap();
    connection
}

/// Prints median and 99th percentile, and returns them in seconds.
fn row(what: &str, times: &mut [Duration]) -> (f64, f64) {
    times.sort_unstable();
    let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize].as_secs_f64();
    let (median, high) = (at(0.5), at(0.99));
    println!("{what:<34} {:>7.0} µs {:>7.0} µs", median * 1e6, high * 1e6);
    (median, high)
}
