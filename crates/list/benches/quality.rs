//! How well rows are matched: the labelled lists, ours and a general-purpose peer's, in one run.
//! `cargo bench -p list --bench quality`; `-- --sealed` for the sealed rows instead of the open ones; `--wrong`
//! prints what was matched wrongly, and what was called sure among it.

use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Instant;

use frame::PartsList;

#[path = "../tests/labelled/mod.rs"]
#[allow(dead_code)]
mod labelled;
use labelled::{Labelled, Outcome, SURE, calibration, figures};

fn main() {
    let asked = |what: &str| std::env::args().any(|argument| argument == what);
    let files: &[&str] = if asked("--sealed") {
        &labelled::SEALED
    } else {
        &labelled::OPEN
    };
    let lists: Vec<Labelled> = files
        .iter()
        .filter(|file| labelled::folder().join(file).exists())
        .flat_map(|file| labelled::lists(file))
        .collect();
    let orders = labelled::orders(&lists);

    let began = Instant::now();
    let all: Vec<Outcome> = lists
        .iter()
        .flat_map(|list| labelled::outcomes(list, &orders[&list.order]))
        .collect();
    let took = began.elapsed().as_secs_f64() * 1e3;

    by_writer(&all, asked("--sealed"));
    stated_and_seen(&all);
    println!(
        "\n{} rows of {} lists read and matched in {took:.1} ms, {:.1} µs a row",
        all.len(),
        lists.len(),
        took * 1e3 / all.len() as f64
    );
    if asked("--wrong") && !asked("--sealed") {
        wrong(&all);
    }
    peer(&lists, &orders, took, figures(&all).right);
}

/// Of sealed rows only the whole is told: what one writer's rows show is already a look at them.
fn by_writer(all: &[Outcome], sealed: bool) {
    let writers: std::collections::BTreeSet<&str> = all.iter().map(|o| o.writer.as_str()).collect();
    println!(
        "{:<24} {:>5} {:>7} {:>9} {:>7} {:>7} {:>9} {:>6} {:>7} {:>7}",
        "writer",
        "rows",
        "right",
        "precision",
        "recall",
        "sure",
        "of these",
        "wrong",
        "ECE",
        "Brier"
    );
    let line = |name: &str, of: &dyn Fn(&Outcome) -> bool| {
        let f = figures(all.iter().filter(|o| of(o)));
        println!(
            "{name:<24} {:>5} {:>7.4} {:>9.4} {:>7.4} {:>7.3} {:>9.4} {:>6} {:>7.4} {:>7.4}",
            f.rows,
            f.right,
            f.precision,
            f.recall,
            f.sure,
            f.right_of_sure,
            f.sure_and_wrong,
            f.calibration_error,
            f.brier
        );
    };
    for writer in writers.into_iter().filter(|_| !sealed) {
        line(writer, &|o| o.writer == writer);
    }
    line("by rule", &|o| o.writer.starts_with("rule:"));
    line("by hand", &|o| o.writer.starts_with("hand:"));
    line("all", &|_| true);
    println!("(sure: a doubt of at most {SURE})");
}

fn stated_and_seen(all: &[Outcome]) {
    println!(
        "\n{:<18} {:>5} {:>8} {:>8}",
        "stated doubt", "rows", "stated", "seen"
    );
    for bin in calibration(all) {
        println!(
            "{:>7.3} to {:<7.3} {:>5} {:>8.4} {:>8.4}",
            bin.from, bin.to, bin.rows, bin.stated, bin.seen
        );
    }
}

fn wrong(all: &[Outcome]) {
    println!();
    for o in all.iter().filter(|o| !o.right()) {
        let sure = if o.doubt <= SURE { "SURE " } else { "" };
        println!(
            "{sure}{} {}: {} -> {:?}, is {:?}, doubt {:.3}",
            o.list, o.writer, o.says, o.found, o.truth, o.doubt
        );
        let Some(matched) = &o.matched else {
            println!("    was set aside");
            continue;
        };
        println!("    others {:?}", matched.runners_up);
        for reason in &matched.reasons {
            println!("    {:+.1} {}", reason.weight, reason.words);
        }
    }
}

/// RapidFuzz on the same rows. Its words come from `peer/rapidfuzz_match.py`, run with `TALLYARD_PYTHON` or python3.
fn peer(lists: &[Labelled], orders: &BTreeMap<String, PartsList>, took: f64, right: f64) {
    let python = std::env::var("TALLYARD_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("benches/peer/rapidfuzz_match.py");
    println!("\npeer: RapidFuzz token_set_ratio (benches/peer/README.md), by {python}");
    let input = as_lines(lists, orders);
    let spawned = Command::new(&python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let Ok(mut child) = spawned else {
        println!("skipped: {python} is not there; set TALLYARD_PYTHON");
        return;
    };
    if let Some(mut stdin) = child.stdin.take() {
        let _ = stdin.write_all(input.as_bytes());
    }
    let Ok(done) = child.wait_with_output() else {
        println!("skipped: {python} could not be waited for");
        return;
    };
    let said = String::from_utf8_lossy(&done.stdout);
    if !done.status.success() {
        println!("skipped: it wants the packages of benches/peer/requirements.txt");
        return;
    }
    println!("{:<44} {:>7} {:>11} {:>9}", "", "right", "ms", "of ours");
    println!(
        "{:<44} {right:>7.4} {took:>11.1} {:>9}",
        "ours, reading and all", 1
    );
    for line in said.lines() {
        let mut cells = line.split('\t');
        if let (Some(name), Some(right), Some(ms)) = (cells.next(), cells.next(), cells.next()) {
            let (right, ms): (f64, f64) = (right.parse().unwrap_or(0.0), ms.parse().unwrap_or(0.0));
            println!("{name:<44} {right:>7.4} {ms:>11.1} {:>9.2}", ms / took);
        }
    }
}

/// One JSON-free line for each part and row, cells between tabs, as the peer's script reads them.
fn as_lines(lists: &[Labelled], orders: &BTreeMap<String, PartsList>) -> String {
    let mut text = String::new();
    let clean = |cell: &str| cell.replace(['\t', '\n'], " ");
    for (name, parts) in orders {
        for line in &parts.lines {
            let part = &line.part;
            text += &format!(
                "part\t{name}\t{}\t{}\n",
                part.mark,
                clean(&part.description)
            );
        }
    }
    for list in lists {
        let mut rows = csv::Reader::from_reader(list.csv.as_bytes());
        for (row, mark) in rows.records().flatten().zip(&list.marks) {
            let (code, says) = (clean(&row[0]), clean(&row[1]));
            text += &format!("row\t{}\t{}\t{code}\t{says}\t{mark}\n", list.id, list.order);
        }
    }
    text
}
