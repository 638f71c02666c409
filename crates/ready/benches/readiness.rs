//! How long the answer takes after each count. `cargo bench -p ready --bench readiness`.
//!
//! Houses of our families, each with a packing list made of its own parts list, are counted mark by mark, as a crew does:
//! every seventh mark one short, every eleventh by closed bundle; a second load comes later, and three days have a crew. After each count the whole answer is made anew, as a page
//! would. Goal: under 20 ms for a kit of 400 pieces. The explanation of what is missing is made by `tally` once a standing
//! and used by other pages too; it is shown apart.

use std::time::Instant;

use frame::{Family, Order, PartsList, expand};
use jiff::civil::date;
use ready::Readiness;
use tally::{CrewDay, Digest, Draft, Event, How, Known, Standing, What};

const DEMO: &str = include_str!("../../../demo/order.toml");
const LARGEST: &str = include_str!("../../frame/benches/largest.toml");
const DEMO_LIST: &str = include_str!("../../../demo/packing-list.csv");

fn main() {
    println!(
        "{:<34} {:>6} {:>6} {:>6} | {:>8} {:>8} | {:>8} {:>8} | {:>8} {:>8} | {:>8} {:>8}",
        "house",
        "pieces",
        "marks",
        "counts",
        "ready",
        "worst",
        "on cpu",
        "worst",
        "explain",
        "worst",
        "supplies",
        "worst"
    );
    for (name, order) in [
        ("the demo, 24 x 48 ft", DEMO.to_owned()),
        ("gothic, 24 x 24 ft", house("gothic-24", "24 ft")),
        ("round, 16 x 24 ft", house("round-16", "24 ft")),
        ("side walls, 30 x 96 ft", house("sidewall-30", "96 ft")),
        ("the largest, 30 x 192 ft", LARGEST.to_owned()),
    ] {
        let list = match name {
            "the demo, 24 x 48 ft" => DEMO_LIST.to_owned(),
            _ => listed(&order),
        };
        measure(name, &order, &list);
    }
    println!(
        "milliseconds; median and worst over the counts; on cpu: what the thread had of a processor"
    );
}

fn house(family: &str, length: &str) -> String {
    format!("name = \"a house\"\nfamily = \"{family}\"\nlength = \"{length}\"\n")
}

/// A packing list of just what is needed, written from the parts list.
fn listed(order: &str) -> String {
    let order = Order::read(order).expect("it is an order");
    let family = Family::named(&order.family).expect("it comes with the program");
    let frame = expand(&order, &family).expect("it can be built");
    let mut csv = String::from("Code,Qty,Unit,Description\n");
    for line in &PartsList::of(&frame).lines {
        let says = line.part.description.replace('"', "\"\"");
        csv += &format!("{},{},ea,\"{says}\"\n", line.part.mark.0, line.supplied);
    }
    csv
}

fn measure(name: &str, order: &str, list: &str) {
    let mut job = Job::default();
    job.says(What::OrderSet {
        toml: order.into(),
        family: None,
    });
    job.says(What::ListAdded {
        digest: Digest::of(list.as_bytes()),
        name: "list.csv".into(),
        shipment: None,
    });
    job.says(What::ShipmentArrived {
        shipment: "Load 1".into(),
    });
    job.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: Some("2026-12-08".into()),
    });
    for day in ["2026-12-05", "2026-12-12", "2026-12-19"] {
        job.says(What::CrewDay(CrewDay {
            day: day.into(),
            people: 8,
            minutes: 480,
            called: false,
            words: String::new(),
        }));
    }
    let mut known = Known::default();
    let fetch = |_: &Digest| Ok(list.as_bytes().to_vec());
    let first = Standing::of(&job.events, fetch, &mut known);
    let ordered = first.ordered().expect("our own orders can be built");
    let marks: Vec<(String, i64)> = (ordered.parts.lines.iter())
        .map(|line| (line.part.mark.0.clone(), line.quantity))
        .collect();
    let pieces: i64 = marks.iter().map(|(_, n)| n).sum();
    let (mut ready, mut explain, mut supplies) = (Vec::new(), Vec::new(), Vec::new());
    let mut worked = Vec::new();
    let today = date(2026, 12, 3);
    for (place, (mark, needed)) in marks.iter().enumerate() {
        let quantity = (needed - i64::from(place % 7 == 3)).max(0);
        let how = match place % 11 {
            5 => How::Bundle {
                bundles: 1,
                of: quantity,
                rest: 0,
                closed: true,
            },
            _ => How::Piece,
        };
        job.says(What::Counted {
            mark: mark.clone(),
            pile: None,
            quantity,
            replaces: Vec::new(),
            how,
        });
        let standing = Standing::of(&job.events, fetch, &mut known);
        // It is kept with the standing: the first time is the only one.
        explain.push(milliseconds(|| standing.explanation().is_some()));
        supplies.push(quickest(|| ready::supplies(&standing, today).is_some()));
        let answer = || Readiness::of(&standing, today).is_some();
        ready.push(quickest(answer));
        let before = on_processor();
        std::hint::black_box(answer());
        worked.extend(
            on_processor()
                .zip(before)
                .map(|(after, before)| after - before),
        );
    }
    let [ready, worked, explain, supplies] =
        [ready, worked, explain, supplies].map(middle_and_worst);
    println!(
        "{name:<34} {pieces:>6} {:>6} {:>6} | {:>8.2} {:>8.2} | {:>8.2} {:>8.2} | {:>8.2} {:>8.2} | {:>8.2} {:>8.2}",
        marks.len(),
        marks.len(),
        ready[0],
        ready[1],
        worked[0],
        worked[1],
        explain[0],
        explain[1],
        supplies[0],
        supplies[1]
    );
}

#[derive(Default)]
struct Job {
    events: Vec<Event>,
}

impl Job {
    fn says(&mut self, what: What) {
        let seq = self.events.len() as u64 + 1;
        let draft = Draft {
            id: format!("{seq:032x}").parse().expect("an id"),
            device: "phone-1".into(),
            at: seq as i64,
            who: "Ines".into(),
            what,
        };
        self.events
            .push(draft.numbered(seq).expect("within the limits"));
    }
}

/// The quickest of three: what else runs on the machine is not measured.
fn quickest(run: impl Fn() -> bool) -> f64 {
    let times = (0..3).map(|_| milliseconds(&run));
    times.fold(f64::INFINITY, f64::min)
}

fn milliseconds(run: impl FnOnce() -> bool) -> f64 {
    let start = Instant::now();
    std::hint::black_box(run());
    start.elapsed().as_secs_f64() * 1e3
}

fn middle_and_worst(mut times: Vec<f64>) -> [f64; 2] {
    times.sort_by(f64::total_cmp);
    let at = |at: usize| times.get(at).copied().unwrap_or(f64::NAN);
    [at(times.len() / 2), at(times.len().saturating_sub(1))]
}

/// Milliseconds that this thread has had a processor for, where the system says it.
fn on_processor() -> Option<f64> {
    // The system adds it up when the thread gives way.
    std::thread::yield_now();
    let said = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = said.split(' ').next()?.parse().ok()?;
    Some(nanoseconds / 1e6)
}
