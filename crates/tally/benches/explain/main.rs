//! How long the explanation takes after one more event, by the number of differences. `cargo bench -p tally --bench
//! explain`. With a folder named, its programmes are written there for `peer/run`.
//!
//! A kit of 400 parts. Its delivery comes from the tests' simulator, with errors planted at as many places as it takes
//! for so many marks to differ. Goal: under 50 ms with 40 differences.

use std::path::Path;
use std::time::Instant;

use tally::programme::Programme;
use tally::{Draft, Event, EventId, Explanation, How, Standing, What};
use uuid::Uuid;

#[path = "../../tests/it/deliveries/mod.rs"]
#[allow(dead_code)]
mod deliveries;

mod big;
mod lp;

use deliveries::delivery::Delivery;
use deliveries::houses::House;
use deliveries::planted::{Kind, Plan};
use deliveries::random::Draws;

const PARTS: usize = 400;
const RUNS: usize = 41;

fn main() {
    let mut house = big::house(PARTS);
    println!(
        "{:<30} {:>8} {:>11} {:>11} {:>11} {:>18} {:>14}",
        "a kit of 400 parts",
        "matters",
        "first, ms",
        "median, ms",
        "worst, ms",
        "with standing, ms",
        "on processor"
    );
    let mut all = Vec::new();
    for differences in [5, 10, 20, 40] {
        all.extend(row(&mut house, differences));
    }
    let folder = std::env::args()
        .nth(1)
        .filter(|asked| !asked.starts_with("--"));
    if let Some(folder) = folder {
        write(Path::new(&folder), &all).expect("the folder can be written to");
    }
}

/// Writes each programme, and what ours makes of it.
fn write(folder: &Path, programmes: &[Programme]) -> std::io::Result<()> {
    let mut ours = String::from("programme,columns,cost,ms\n");
    for (place, programme) in programmes.iter().enumerate() {
        let name = format!("{place:03}.lp");
        let start = Instant::now();
        let chosen = programme.solve(&[]).expect("there is always a story");
        let ms = start.elapsed().as_secs_f64() * 1e3;
        assert!(chosen.proven, "{name}");
        let columns = programme.columns.len();
        ours += &format!("{name},{columns},{},{ms:.4}\n", chosen.cost);
        std::fs::write(folder.join(name), lp::written(programme))?;
    }
    std::fs::write(folder.join("ours.csv"), ours)
}

/// A delivery in which so many marks differ.
fn delivery(house: &mut House, differences: usize) -> Delivery {
    let kinds = [
        Kind::Short,
        Kind::CountedAsLookAlike,
        Kind::Extra,
        Kind::RowMisread,
        Kind::SentLookAlike,
        Kind::BundleAsOne,
        Kind::RowForTwoUses,
        Kind::DamagedAside,
        Kind::CountedTwice,
    ];
    for errors in 1.. {
        let plan = Plan::of(kinds.iter().copied().cycle().take(errors).collect());
        let delivery = Delivery::draw(house, plan, &mut Draws::new(7));
        if odd(&delivery.standing(house)).len() >= differences {
            return delivery;
        }
    }
    unreachable!("there are errors enough")
}

/// Marks whose numbers are off.
fn odd(standing: &Standing) -> Vec<String> {
    let difference = standing.difference.as_ref().expect("there is an order");
    let odd = difference.marks.iter().filter(|mark| {
        let listed = (mark.listed).is_none_or(|n| (mark.needed..=mark.supplied).contains(&n));
        mark.short() > 0 || mark.over() > 0 || !listed
    });
    odd.map(|mark| mark.mark.clone()).collect()
}

/// Prints how long it takes with so many differences, and returns the programmes that it came down to.
fn row(house: &mut House, differences: usize) -> Vec<Programme> {
    let mut delivery = delivery(house, differences);
    let start = Instant::now();
    let standing = delivery.standing(house);
    let matters = said(&standing).matters.len();
    let first = start.elapsed().as_secs_f64() * 1e3;
    let marks = odd(&standing);
    let programmes = tally::programmes(&standing);
    let (mut alone, mut with_standing, mut worked) = (Vec::new(), Vec::new(), Vec::new());
    for run in 0..RUNS {
        one_more(&mut delivery.events, &marks[run % marks.len()]);
        let start = Instant::now();
        let standing = delivery.standing(house);
        let stood = start.elapsed();
        let before = on_processor();
        std::hint::black_box(said(&standing));
        worked.extend(
            on_processor()
                .zip(before)
                .map(|(after, before)| after - before),
        );
        alone.push((start.elapsed() - stood).as_secs_f64() * 1e3);
        with_standing.push(start.elapsed().as_secs_f64() * 1e3);
    }
    alone.sort_by(f64::total_cmp);
    with_standing.sort_by(f64::total_cmp);
    worked.sort_by(f64::total_cmp);
    println!(
        "{:<30} {matters:>8} {first:>11.2} {:>11.2} {:>11.2} {:>18.2} {:>14.2}",
        format!("{} marks differ", marks.len()),
        alone[RUNS / 2],
        alone[RUNS - 1],
        with_standing[RUNS / 2],
        worked.get(RUNS / 2).copied().unwrap_or(f64::NAN)
    );
    programmes
}

fn said(standing: &Standing) -> &Explanation {
    standing.explanation().expect("there is an order")
}

/// Milliseconds that this thread has had a processor for, where the system says it: other work on the machine does not
/// count.
fn on_processor() -> Option<f64> {
    let said = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = said.split(' ').next()?.parse().ok()?;
    Some(nanoseconds / 1e6)
}

/// Somebody finds one more piece of a mark that is being argued about.
fn one_more(events: &mut Vec<Event>, mark: &str) {
    let seq = events.len() as u64 + 1;
    let draft = Draft {
        id: EventId(Uuid::from_u128(seq.into())),
        device: "phone of Ines".into(),
        at: seq as i64,
        who: "Ines".into(),
        what: What::Counted {
            mark: mark.into(),
            pile: None,
            quantity: 1,
            replaces: Vec::new(),
            how: How::Piece,
        },
    };
    events.push(draft.numbered(seq).expect("within the limits"));
}
