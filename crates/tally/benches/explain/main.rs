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
/// So many deliveries of each size, for how hard one is depends on what meets in it.
const DELIVERIES: u64 = 5;
/// So many events more in each.
const RUNS: usize = 41;

fn main() {
    let mut house = big::house(PARTS);
    println!(
        "{:<22} {:>8} {:>10} {:>11} {:>10} {:>14} {:>10} {:>18}",
        "a kit of 400 parts",
        "matters",
        "first, ms",
        "median, ms",
        "worst, ms",
        "on processor",
        "worst, ms",
        "with standing, ms"
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
        let chosen = programme.solve().expect("there is always a story");
        let ms = start.elapsed().as_secs_f64() * 1e3;
        assert!(chosen.proven, "{name}");
        let columns = programme.columns.len();
        ours += &format!("{name},{columns},{},{ms:.4}\n", chosen.cost);
        std::fs::write(folder.join(name), lp::written(programme))?;
    }
    std::fs::write(folder.join("ours.csv"), ours)
}

/// A delivery in which so many marks differ.
fn delivery(house: &mut House, differences: usize, seed: u64) -> Delivery {
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
        let delivery = Delivery::draw(house, plan, &mut Draws::new(seed));
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
    let (mut first, mut marks, mut matters) = (Vec::new(), Vec::new(), Vec::new());
    let (mut alone, mut with_standing, mut worked) = (Vec::new(), Vec::new(), Vec::new());
    let mut programmes = Vec::new();
    for seed in 7..7 + DELIVERIES {
        let mut delivery = delivery(house, differences, seed);
        let standing = delivery.standing(house);
        let start = Instant::now();
        matters.push(said(&standing).matters.len());
        first.push(milliseconds(start));
        let odd = odd(&standing);
        marks.push(odd.len());
        programmes.extend(tally::programmes(&standing));
        for run in 0..RUNS {
            one_more(&mut delivery.events, &odd[run % odd.len()]);
            let start = Instant::now();
            let standing = delivery.standing(house);
            let stood = milliseconds(start);
            let before = on_processor();
            std::hint::black_box(said(&standing));
            let after = on_processor();
            worked.extend(after.zip(before).map(|(after, before)| after - before));
            alone.push(milliseconds(start) - stood);
            with_standing.push(milliseconds(start));
        }
    }
    for times in [&mut first, &mut alone, &mut with_standing, &mut worked] {
        times.sort_by(f64::total_cmp);
    }
    let median = |times: &[f64]| times.get(times.len() / 2).copied().unwrap_or(f64::NAN);
    let worst = |times: &[f64]| times.last().copied().unwrap_or(f64::NAN);
    let span = |of: &[usize]| {
        let ends = [of.iter().min(), of.iter().max()];
        ends.map(|end| end.map_or_else(String::new, usize::to_string))
            .join("-")
    };
    println!(
        "{:<22} {:>8} {:>10.2} {:>11.2} {:>10.2} {:>14.2} {:>10.2} {:>18.2}",
        format!("{} marks differ", span(&marks)),
        span(&matters),
        worst(&first),
        median(&alone),
        worst(&alone),
        median(&worked),
        worst(&worked),
        median(&with_standing),
    );
    programmes
}

fn milliseconds(since: Instant) -> f64 {
    since.elapsed().as_secs_f64() * 1e3
}

fn said(standing: &Standing) -> &Explanation {
    standing.explanation().expect("there is an order")
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
