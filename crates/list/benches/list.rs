//! How long a list takes: read, and matched to the parts of an order. `cargo bench -p list`.
//!
//! The list has 400 rows in several hands over 100 parts; the parts are tubes, bolts, channel and fittings in sizes
//! that resemble each other. Goal: a 400-row list read and matched in under 50 ms.

use std::collections::BTreeMap;
use std::time::Instant;

use list::{match_rows, read};

mod order;

use order::{csv, long, parts, rows, xlsx};

const RUNS: usize = 41;

fn main() {
    let parts = parts();
    let rows = rows(400);
    let csv = csv(&rows);
    let xlsx = xlsx(&rows);
    let list = read(csv.as_bytes(), "bench.csv").expect("the bench's own list");
    assert_eq!(list.rows.len(), 400);
    let long = long(100_000);

    println!("{:<52} {:>12}", "what", "median ms");
    row("read 400 rows of CSV", || {
        read(csv.as_bytes(), "bench.csv")
            .map(|list| list.rows.len())
            .unwrap_or(0)
    });
    row("read 400 rows of XLSX", || {
        read(&xlsx, "bench.xlsx")
            .map(|list| list.rows.len())
            .unwrap_or(0)
    });
    row("match 400 rows to 100 parts", || {
        match_rows(&list, &parts, &BTreeMap::new()).len()
    });
    row(
        "read and match 400 rows of XLSX to 100 parts (< 50)",
        || {
            let list = read(&xlsx, "bench.xlsx").expect("the bench's own list");
            match_rows(&list, &parts, &BTreeMap::new()).len()
        },
    );
    row("read 100 000 rows of CSV", || {
        read(long.as_bytes(), "long.csv")
            .map(|list| list.rows.len())
            .unwrap_or(0)
    });

    let right = match_rows(&list, &parts, &BTreeMap::new());
    let wrong: Vec<String> = right
        .iter()
        .zip(&rows)
        .filter(|(m, row)| m.mark.as_ref().map(|mark| mark.0.as_str()) != row.mark.as_deref())
        .map(|(m, row)| {
            format!(
                "  {} ({:?}) → {:?}, doubt {:.2}",
                row.description, row.mark, m.mark, m.doubt
            )
        })
        .collect();
    let count = 400 - wrong.len();
    println!("{count} of 400 rows have the mark that they were written from");
    wrong.iter().for_each(|line| println!("{line}"));
}

/// Runs a thing many times and prints the median.
fn row(what: &str, mut run: impl FnMut() -> usize) {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            std::hint::black_box(run());
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("{what:<52} {:>12.2}", times[RUNS / 2]);
}
