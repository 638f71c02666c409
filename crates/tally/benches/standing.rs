//! How long a job takes to stand anew after one more count. `cargo bench -p tally`.
//!
//! The demo's order, a list of 400 rows (the demo's, again and again under other sub-kits), and a log of 5 000
//! events, most of them counts, some of which take the place of others. By itself a mark takes six rows at the most,
//! so a person said what each row is. Goal: under 50 ms with what was known before.

use std::fmt::Write;
use std::time::Instant;

use tally::{Condition, Digest, Draft, Event, EventId, Known, Standing, State, What};
use uuid::Uuid;

const RUNS: usize = 41;
const EVENTS: u64 = 5_000;
const ROWS: usize = 400;

const ORDER: &str = include_str!("../../../demo/order.toml");
const DEMO_LIST: &str = include_str!("../../../demo/packing-list.csv");

fn main() {
    let csv = long_list();
    let read = list::read(csv.as_bytes(), "bench.csv").expect("the bench's own list");
    assert_eq!(read.rows.len(), ROWS);
    let keys: Vec<String> = (read.rows.iter()).map(|row| row.key.to_string()).collect();
    let log = log(Digest::of(csv.as_bytes()), &keys);
    assert_eq!(log.len() as u64, EVENTS);
    let (before, after) = (&log[..log.len() - 1], &log[..]);
    let fetch = |_: &Digest| Ok(csv.clone().into_bytes());

    println!("{:<58} {:>12}", "what", "median ms");
    row("fold 5 000 events", || State::fold(after).marks.len());
    row("a job with 400 rows and 5 000 events, all anew", || {
        let standing = Standing::of(after, fetch, &mut Known::default());
        standing.lists.len()
    });
    let mut known = Known::default();
    let stood = Standing::of(before, fetch, &mut known);
    let rows = stood.lists[0].rows.len();
    assert_eq!(rows, ROWS, "every row is read onto a mark");
    row("the same after one more count (< 50)", || {
        let standing = Standing::of(after, fetch, &mut known);
        standing.difference.map_or(0, |found| found.counted())
    });
}

/// The demo's rows, until there are enough.
fn long_list() -> String {
    let mut rows = DEMO_LIST
        .lines()
        .skip_while(|line| !line.starts_with("Line,"));
    let mut csv = rows.next().expect("the demo's list has a table").to_owned();
    csv.push('\n');
    let rows: Vec<&str> = rows
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
        .collect();
    for (place, row) in rows.iter().cycle().take(ROWS).enumerate() {
        if place % rows.len() == 0 {
            writeln!(csv, "SUB-KIT {},,,,,", place / rows.len() + 1).expect("a string takes all");
        }
        csv.push_str(row);
        csv.push('\n');
    }
    csv
}

fn log(list: Digest, keys: &[String]) -> Vec<Event> {
    let marks = ["P1", "B1", "R1", "S1", "C1", "C2", "X1", "X2", "N5", "N6"];
    let what = |seq: u64| match seq {
        1 => What::OrderSet {
            toml: ORDER.into(),
            family: None,
        },
        2 => What::ListAdded {
            digest: list,
            name: "bench.csv".into(),
            shipment: None,
        },
        3 => What::ShipmentArrived {
            shipment: "load 1".into(),
        },
        4.. if seq as usize - 4 < keys.len() => What::Overruled {
            list,
            row: keys[seq as usize - 4].clone(),
            mark: Some(marks[seq as usize % marks.len()].into()),
            words: None,
        },
        _ => {
            let mark = marks[seq as usize % marks.len()].to_owned();
            match seq % 50 {
                7 => What::Conditioned {
                    mark,
                    quantity: 1,
                    condition: Condition::Bent,
                    words: "kinked under the band".into(),
                },
                11 => What::Noted {
                    mark: Some(mark),
                    words: "lies behind the shed".into(),
                },
                n => What::Counted {
                    mark,
                    pile: Some(format!("pile {}", seq % 7)),
                    quantity: 3,
                    replaces: (n == 20).then(|| id(seq - 10)).into_iter().collect(),
                    how: tally::How::Piece,
                },
            }
        }
    };
    (1..=EVENTS)
        .map(|seq| {
            let draft = Draft {
                id: id(seq),
                device: "phone-1".into(),
                at: seq as i64,
                who: "Ines".into(),
                what: what(seq),
            };
            draft.numbered(seq).expect("within the limits")
        })
        .collect()
}

fn id(seq: u64) -> EventId {
    EventId(Uuid::from_u128(seq.into()))
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
    println!("{what:<58} {:>12.2}", times[RUNS / 2]);
}
