//! How long the answer to "how far" takes after each of many counts. `cargo bench -p ready --bench how_far`. With a folder
//! named, the programmes that were solved are written there for `peer/run`.
//!
//! Marks are counted one after another; one in six is short by a little. Once all that is not counted yet is taken as
//! listed, and once as not there. Goal: under 20 ms after each count, for a kit of 400 parts.

use std::path::Path;
use std::time::Instant;

use frame::{Family, Order, PartsList, expand};
use ready::programme::Programme;
use ready::{Build, how_far, how_far_programmes};

const DEMO: &str = include_str!("../../../demo/order.toml");
const LARGEST: &str = include_str!("../../frame/benches/largest.toml");
/// So many times all marks are counted; once of a house of more than 500 units.
const ROUNDS: u64 = 3;
/// At most so many programmes of each row are written.
const WRITTEN: usize = 60;
/// Nodes in which ours looks for what is written.
const MOST_NODES: u64 = 200;

fn main() {
    println!(
        "{:<40} {:>6} {:>6} {:>7} {:>11} {:>10} {:>14} {:>10} {:>10} {:>9}",
        "house",
        "marks",
        "units",
        "counts",
        "median, ms",
        "worst, ms",
        "median on cpu",
        "worst",
        "programmes",
        "unproven"
    );
    let folder = std::env::args()
        .nth(1)
        .filter(|asked| !asked.starts_with("--"));
    let mut ours = String::from("programme,columns,cost,ms\n");
    for (name, order, parts) in [
        ("the demo's, 48 ft", DEMO, 0),
        ("the demo's, 400 parts", DEMO, 400),
        ("the largest, 192 ft", LARGEST, 0),
    ] {
        let build = split(house(order), parts);
        for (rest, listed) in [("rest listed", true), ("rest not there", false)] {
            let programmes = row(&format!("{name}, {rest}"), &build, listed);
            if let Some(folder) = &folder {
                write(Path::new(folder), &programmes, &mut ours)
                    .expect("the folder can be written to");
            }
        }
    }
}

fn house(order: &str) -> Build {
    let order = Order::read(order).expect("it is an order");
    let family = Family::named(&order.family).expect("it comes with the program");
    let frame = expand(&order, &family).expect("it can be built");
    Build::of(&frame, &PartsList::of(&frame))
}

/// The same house with so many marks: alike parts get marks of their own, by turns.
fn split(mut build: Build, marks: usize) -> Build {
    while build.marks.len() < marks {
        let most_used = (0..build.marks.len()).max_by_key(|mark| {
            build
                .units
                .iter()
                .filter(|u| u.needs.iter().any(|n| n.0 == *mark))
                .count()
        });
        let most_used = most_used.expect("there are marks");
        let new = build.marks.len();
        build.marks.push(format!("{} too", build.marks[most_used]));
        let mut shared = build
            .shared
            .iter()
            .filter(|shared| shared.mark == most_used);
        let needs = build
            .units
            .iter_mut()
            .enumerate()
            .filter_map(|(index, unit)| {
                // What is cut from one piece keeps one mark.
                let is_shared = shared.clone().any(|shared| shared.units.contains(&index));
                unit.needs
                    .iter_mut()
                    .find(|need| need.0 == most_used && !is_shared)
            });
        let mut changed = 0;
        for need in needs.skip(1).step_by(2) {
            need.0 = new;
            changed += 1;
        }
        let _ = shared.next();
        if changed == 0 {
            break;
        }
        for unit in &mut build.units {
            unit.needs.sort_unstable();
        }
    }
    build
}

/// Whole numbers below a limit, the same in every run.
struct Draws(u64);

impl Draws {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }
}

fn row(name: &str, build: &Build, listed: bool) -> Vec<(Programme, i64)> {
    let needed = build.needs();
    let mut draws = Draws(7);
    let (mut times, mut worked) = (Vec::new(), Vec::new());
    let (mut programmes, mut unproven) = (Vec::new(), 0);
    let rounds = if build.units.len() > 500 { 1 } else { ROUNDS };
    for _ in 0..rounds {
        let mut there: Vec<i64> = needed.iter().map(|n| if listed { *n } else { 0 }).collect();
        let mut uncounted: Vec<usize> = (0..needed.len()).collect();
        while !uncounted.is_empty() {
            let mark = uncounted.swap_remove(draws.below(uncounted.len() as u64) as usize);
            let short = match draws.below(6) {
                0 => 1 + draws.below(1 + needed[mark].max(1) as u64 / 8) as i64,
                _ => 0,
            };
            there[mark] = (needed[mark] - short).max(0);
            let (start, before) = (Instant::now(), on_processor());
            let far = how_far(build, &there);
            times.push(start.elapsed().as_secs_f64() * 1e3);
            worked.extend(
                on_processor()
                    .zip(before)
                    .map(|(after, before)| after - before),
            );
            unproven += usize::from(!far.proven);
            programmes.extend(how_far_programmes(build, &there));
        }
    }
    times.sort_by(f64::total_cmp);
    worked.sort_by(f64::total_cmp);
    let median = |times: &[f64]| times.get(times.len() / 2).copied().unwrap_or(f64::NAN);
    let worst = |times: &[f64]| times.last().copied().unwrap_or(f64::NAN);
    println!(
        "{name:<40} {:>6} {:>6} {:>7} {:>11.2} {:>10.2} {:>14.2} {:>10.2} {:>10} {unproven:>9}",
        build.marks.len(),
        build.units.len(),
        times.len(),
        median(&times),
        worst(&times),
        median(&worked),
        worst(&worked),
        programmes.len()
    );
    // Some of each row, from all of it.
    let every = programmes.len().div_ceil(WRITTEN).max(1);
    programmes.into_iter().step_by(every).collect()
}

/// Milliseconds that this thread has had a processor for, where the system says it: other work on the machine does not
/// count.
fn on_processor() -> Option<f64> {
    // The system adds it up when the thread gives way.
    std::thread::yield_now();
    let said = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = said.split(' ').next()?.parse().ok()?;
    Some(nanoseconds / 1e6)
}

/// Writes each programme with the least cost that was proven, and the time in which ours, with no guess to start from and
/// no more than [`MOST_NODES`] nodes, looks for it.
fn write(folder: &Path, programmes: &[(Programme, i64)], ours: &mut String) -> std::io::Result<()> {
    let before = ours.lines().count();
    for (place, (programme, cost)) in programmes.iter().enumerate() {
        let name = format!("{:04}.lp", before + place);
        let start = Instant::now();
        let _ = programme.solve_within(None, MOST_NODES);
        let ms = start.elapsed().as_secs_f64() * 1e3;
        let columns = programme.columns.len();
        *ours += &format!("{name},{columns},{cost},{ms:.4}\n");
        std::fs::write(folder.join(name), programme.lp())?;
    }
    std::fs::write(folder.join("ours.csv"), ours)
}
