//! Twenty phones count at once: 50 counts a second together for a minute, over HTTP on loopback, each acknowledged
//! only when it is on disk. How long an acknowledgement takes is counted from the moment the count was due, so that a
//! yard that falls behind shows. Afterwards every count is looked for in the job file.

#![allow(
    clippy::unwrap_used,
    reason = "a bench that meets an error is to stop there"
)]

#[path = "../tests/it/load.rs"]
mod load;
#[path = "../tests/it/yard.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod yard;

use std::process::Command;
use std::time::Duration;

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
    let load = load::run(program, &job, Duration::from_secs(60));
    println!("{load}, on {}", place.path().display());
}
