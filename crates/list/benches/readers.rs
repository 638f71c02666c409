//! How long each kind of file takes, and how long general-purpose libraries take over the same file in the same run.
//!
//! `cargo bench -p list --bench readers`; the peers need a Python with `readers/requirements.txt`, named by
//! `TALLYARD_PYTHON`: `benches/readers/run` makes one. Goals: 400 rows of XLSX read and matched in under 60 ms, 40 pages
//! of PDF and 100 000 rows of CSV each in under a second, the latter within 300 MB. Times are those of a processor, not of
//! the clock, for both.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

use list::{match_rows, read};

#[path = "readers/files.rs"]
mod files;
mod order;

const SOURCES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/readers");

fn main() {
    if let Ok(path) = env::var("LIST_READERS_PEAK_OF") {
        return peak_of(Path::new(&path));
    }
    let folder = env::temp_dir().join(format!("list-readers-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder of one's own");
    files::write(&folder);
    let peer = peer(&folder);
    let theirs = peer
        .as_deref()
        .map(|python| theirs(python, &folder))
        .unwrap_or_default();
    println!(
        "{:<12} {:>9} {:>7} {:>10} {:>10} {:>8} {:>10}",
        "file", "KiB", "rows", "ours ms", "peer ms", "ratio", "peak MiB"
    );
    for (name, runs) in FILES {
        line(&folder.join(name), name, *runs, theirs.get(*name).copied());
    }
    let parts = order::parts();
    let xlsx = fs::read(folder.join("list.xlsx")).expect("just written");
    let matched = median(41, || {
        let list = read(&xlsx, "list.xlsx").expect("the bench's own list");
        match_rows(&list, &parts, &BTreeMap::new()).len()
    });
    println!(
        "400 rows of XLSX read and matched to 100 parts: {:.1} ms (goal 60)",
        matched.0 * 1e3
    );
    fs::remove_dir_all(&folder).expect("its own folder");
}

/// The files and how often each is read.
const FILES: &[(&str, usize)] = &[
    ("list.csv", 41),
    ("list.xlsx", 41),
    ("list.ods", 41),
    ("list.xls", 41),
    ("list.html", 41),
    ("list.eml", 41),
    ("ubl.xml", 41),
    ("x12.txt", 41),
    ("alto.xml", 41),
    ("ruled.pdf", 5),
    ("plain.pdf", 5),
    ("long.csv", 5),
];

fn line(path: &Path, name: &str, runs: usize, theirs: Option<f64>) {
    let Ok(bytes) = fs::read(path) else {
        println!("{name:<12} not made: it needs the peers' Python");
        return;
    };
    if let Err(error) = read(&bytes, name) {
        println!("{name:<12} {error}");
        return;
    }
    let (seconds, rows) = median(runs, || {
        read(&bytes, name).map_or(0, |list| list.rows.len())
    });
    let (ms, kib) = (seconds * 1e3, bytes.len() / 1024);
    let (peer, ratio) = theirs.map_or(("-".to_owned(), "-".to_owned()), |theirs| {
        (
            format!("{:.1}", theirs * 1e3),
            format!("{:.1}", theirs / seconds),
        )
    });
    let peak = peak_apart(path);
    println!("{name:<12} {kib:>9} {rows:>7} {ms:>10.2} {peer:>10} {ratio:>8} {peak:>10}");
}

/// Seconds of a processor that this thread has had: what else the machine does is nobody's time here, nor the peers'.
fn busy() -> f64 {
    let said =
        fs::read_to_string("/proc/thread-self/schedstat").expect("the kernel's account of time");
    let nanoseconds = said.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    nanoseconds.expect("the kernel's account of time") / 1e9
}

/// Runs a thing many times; the median in seconds, and what it last returned.
fn median(runs: usize, mut run: impl FnMut() -> usize) -> (f64, usize) {
    let mut last = 0;
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let start = busy();
            last = std::hint::black_box(run());
            busy() - start
        })
        .collect();
    times.sort_by(f64::total_cmp);
    (times[runs / 2], last)
}

/// Reads a file in a process of its own, which says its peak memory in MiB.
fn peak_apart(path: &Path) -> String {
    let program = env::current_exe().expect("this bench");
    let output = Command::new(program)
        .env("LIST_READERS_PEAK_OF", path)
        .output()
        .expect("this bench again");
    String::from_utf8_lossy(&output.stdout).trim().to_owned()
}

fn peak_of(path: &Path) {
    let bytes = fs::read(path).expect("a file to read");
    std::hint::black_box(read(&bytes, "peak").map_or(0, |list| list.rows.len()));
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kib = peak.and_then(|kib| kib.trim().split(' ').next()?.parse::<u64>().ok());
    println!("{}", kib.unwrap_or(0) / 1024);
}

/// A Python with the libraries, after it made its files; nothing, said why, when there is none.
fn peer(folder: &Path) -> Option<PathBuf> {
    let python = env::var_os("TALLYARD_PYTHON").map(PathBuf::from);
    let Some(python) = python else {
        println!("without peers: run crates/list/benches/readers/run");
        return None;
    };
    let made = Command::new(&python)
        .arg(format!("{SOURCES}/make.py"))
        .arg(folder)
        .status();
    if made.is_ok_and(|status| status.success()) {
        return Some(python);
    }
    println!(
        "without peers: {} lacks a library of {SOURCES}/requirements.txt",
        python.display()
    );
    None
}

/// Seconds of each file.
fn theirs(python: &Path, folder: &Path) -> BTreeMap<String, f64> {
    let output = Command::new(python)
        .arg(format!("{SOURCES}/peer.py"))
        .arg(folder)
        .output();
    let Ok(output) = output else {
        return BTreeMap::new();
    };
    if !output.status.success() {
        eprintln!("{}", String::from_utf8_lossy(&output.stderr));
    }
    let printed = String::from_utf8_lossy(&output.stdout).into_owned();
    let entry = |line: &str| {
        let mut words = line.split(' ');
        Some((words.next()?.to_owned(), words.next()?.parse().ok()?))
    };
    printed.lines().filter_map(entry).collect()
}
