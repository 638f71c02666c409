//! How long the plan round what is short takes, by the number of short marks. `cargo bench -p ready --bench ways`. With a
//! folder named, its programmes are written there for `peer/run`.
//!
//! A straight-wall house of several hundred pieces; of so many of its marks some are missing, and some others are spare.
//! Goal: under a second with ten short marks.

use std::path::Path;
use std::time::Instant;

use ready::Situation;
use ready::programme::Programme;

#[path = "../tests/it/ways_case.rs"]
#[allow(dead_code)]
mod ways_case;

use ways_case::{Case, STRAIGHT};

/// So many cases of each size.
const CASES: u64 = 20;

fn main() {
    let house = Case::of(STRAIGHT);
    let (pieces, marks) = (house.ordered.parts.pieces(), house.build.marks.len());
    println!(
        "a house of {pieces} pieces, {marks} marks; milliseconds for ways, plan, runner-up and how far both get"
    );
    println!(
        "{:>12} {:>8} {:>9} {:>9} {:>9} {:>9} {:>9}",
        "short marks", "ways", "columns", "rows", "median", "worst", "proven"
    );
    let mut all = Vec::new();
    for short in [1, 3, 10, 20] {
        all.extend(row(short));
    }
    let folder = std::env::args()
        .nth(1)
        .filter(|asked| !asked.starts_with("--"));
    if let Some(folder) = folder {
        write(Path::new(&folder), &all).expect("the folder can be written to");
    }
}

/// One line of the table, and its programmes.
fn row(short: usize) -> Vec<Programme> {
    let (mut times, mut ways, mut proven, mut all) = (Vec::new(), 0, 0, Vec::new());
    for seed in 0..CASES {
        let case = case(short, seed);
        let start = Instant::now();
        let help = case.help();
        times.push(start.elapsed().as_secs_f64() * 1e3);
        ways += help
            .shorts
            .iter()
            .map(|short| short.ways.len())
            .sum::<usize>();
        proven += usize::from(help.plan.is_some_and(|plan| plan.proven));
        all.extend(ready::ways::programmes(&Situation {
            ordered: &case.ordered,
            state: &case.state,
            build: &case.build,
            supplies: &case.supplies,
            stages: &case.stages,
            stock: &case.stock,
            today: case.today,
            day: case.day,
        }));
    }
    times.sort_by(f64::total_cmp);
    let most = |of: &dyn Fn(&Programme) -> usize| all.iter().map(of).max().unwrap_or(0);
    println!(
        "{short:>12} {:>8} {:>9} {:>9} {:>9.1} {:>9.1} {:>9}",
        ways / CASES as usize,
        most(&|p| p.columns.len()),
        most(&|p| p.rows.len()),
        times[times.len() / 2],
        times[times.len() - 1],
        format!("{proven}/{CASES}"),
    );
    all
}

/// So many marks are short, and a few others are over.
fn case(short: usize, seed: u64) -> Case {
    // A generator of our own, so that the cases are the same each time.
    let mut state = seed * 7_919 + short as u64;
    let mut below = |n: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % n
    };
    let mut case = Case::of(STRAIGHT);
    let needs: Vec<(String, i64)> = case.needs().into_iter().filter(|(_, n)| *n > 0).collect();
    let mut order: Vec<usize> = (0..needs.len()).collect();
    for at in (1..order.len()).rev() {
        order.swap(at, below(at + 1));
    }
    for (place, at) in order.into_iter().enumerate() {
        let (mark, needed) = &needs[at];
        if place < short {
            case = case.more(mark, -(1 + below(5) as i64).min(*needed));
        } else if below(3) == 0 {
            case = case.more(mark, 1 + below(4) as i64);
        }
    }
    case
}

/// Writes each programme, and what ours makes of it.
fn write(folder: &Path, programmes: &[Programme]) -> std::io::Result<()> {
    let mut ours = String::from("programme,columns,cost,ms\n");
    for (place, programme) in programmes.iter().enumerate() {
        let name = format!("{place:03}.lp");
        let start = Instant::now();
        // Where a runner-up cannot be, both say so.
        let Ok(chosen) = programme.solve() else {
            continue;
        };
        let ms = start.elapsed().as_secs_f64() * 1e3;
        assert!(chosen.proven, "{name}");
        let columns = programme.columns.len();
        ours += &format!("{name},{columns},{},{ms:.4}\n", chosen.cost);
        std::fs::write(folder.join(name), programme.lp())?;
    }
    std::fs::write(folder.join("ours.csv"), ours)
}
