//! How long a plan of the ground takes and how far it is above its bound; against two ways of doing without one.
//! `cargo bench -p ready --bench laydown`.
//!
//! The demo's piles on a school garden, sixty piles (those of the three shipped families together) on a larger ground, then
//! the demo's piles on two hundred thrown grounds. Goals: sixty piles under 5 s; on the thrown grounds never more to carry
//! than either way without a plan.

use std::collections::BTreeMap;
use std::time::Instant;

use frame::{Family, Frame, Order, PartsList};
use ready::Build;
use ready::ground::{Laydown, Pile, Site, by_list_order, first_fit, lay_out, piles};
use tally::Ground;

#[path = "../tests/it/ground_given.rs"]
mod ground_given;
#[path = "../tests/it/ground_random.rs"]
mod ground_random;

const GROUNDS: u64 = 200;

fn main() {
    let (frame, list, build) = ground_given::demo();
    let demo = piles(&list, &frame, &build);
    println!(
        "{:<30} {:>5} {:>8} {:>9} {:>9} {:>7} {:>11} {:>11}",
        "", "piles", "seconds", "kg·m", "bound", "gap", "as it came", "by the list"
    );
    let garden = ground_given::garden();
    row("the demo, school garden", &garden, &frame, &demo);
    row("sixty piles, larger ground", &larger(), &frame, &sixty());
    thrown(&frame, &demo);
}

fn row(name: &str, ground: &Ground, frame: &Frame, piles: &[Pile]) {
    let site = Site::of(ground, frame).expect("a ground of ours");
    let started = Instant::now();
    let plan = lay_out(&site, piles, &BTreeMap::new(), 1);
    let seconds = started.elapsed().as_secs_f64();
    let others = [first_fit(&site, piles), by_list_order(&site, piles)];
    println!(
        "{name:<30} {:>5} {seconds:>8.2} {:>9.0} {:>9.0} {:>6.2}% {:>+10.0}% {:>+10.0}%  {} lie nowhere",
        piles.len(),
        plan.cost_kg_m,
        plan.bound_kg_m,
        plan.gap() * 100.0,
        above(&others[0], &plan),
        above(&others[1], &plan),
        plan.unplaced.len()
    );
}

/// How much more another plan carries, in a hundred.
fn above(other: &Laydown, plan: &Laydown) -> f64 {
    (other.cost_kg_m / plan.cost_kg_m - 1.0) * 100.0
}

fn thrown(frame: &Frame, piles: &[Pile]) {
    let mut margins: [Vec<f64>; 2] = Default::default();
    let (mut gaps, mut slowest, mut uneven) = (Vec::new(), 0.0f64, 0);
    for seed in 0..GROUNDS {
        let ground = ground_random::random_ground(seed, frame);
        let site = Site::of(&ground, frame).expect("a ground of ours");
        let started = Instant::now();
        let plan = lay_out(&site, piles, &BTreeMap::new(), seed);
        slowest = slowest.max(started.elapsed().as_secs_f64());
        gaps.push(plan.gap() * 100.0);
        let others = [first_fit(&site, piles), by_list_order(&site, piles)];
        for (margins, other) in margins.iter_mut().zip(others) {
            // One that leaves more lying nowhere, or in the open, is no plan to compare with.
            let left = |plan: &Laydown| (plan.unplaced.len(), plan.faults.len());
            match left(&other) > left(&plan) {
                true => uneven += 1,
                false => margins.push(above(&other, &plan)),
            }
        }
    }
    println!("\n{GROUNDS} thrown grounds, the demo's piles; slowest {slowest:.2} s");
    say("gap to the bound, %", &mut gaps);
    let [first, listed] = &mut margins;
    say("as it came carries more, %", first);
    say("by the list carries more, %", listed);
    println!("{uneven} other plans left more lying nowhere or in the open and are not counted");
}

fn say(name: &str, values: &mut [f64]) {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| values[((values.len() - 1) as f64 * share) as usize];
    println!(
        "{name:<30} least {:>6.2}  median {:>6.2}  most {:>6.2}  ({} grounds)",
        at(0.0),
        at(0.5),
        at(1.0),
        values.len()
    );
}

/// The piles of one house of each family, again and again under other names, until there are sixty.
fn sixty() -> Vec<Pile> {
    let orders = [
        include_str!("../../../demo/order.toml"),
        "name = \"round\"\nfamily = \"round-16\"\nlength = \"48 ft\"\n",
        "name = \"side\"\nfamily = \"sidewall-30\"\nlength = \"48 ft\"\n",
    ];
    let piles_of = |text: &&str| {
        let order = Order::read(text).expect("an order");
        let family = Family::named(&order.family).expect("a family");
        let frame = frame::expand(&order, &family).expect("a frame");
        let list = PartsList::of(&frame);
        piles(&list, &frame, &Build::of(&frame, &list))
    };
    let all: Vec<Pile> = orders.iter().flat_map(piles_of).collect();
    (all.iter().cycle().take(60).enumerate())
        .map(|(i, pile)| Pile {
            name: (i + 1).to_string(),
            ..pile.clone()
        })
        .collect()
}

/// Room for sixty piles.
fn larger() -> Ground {
    let mut ground = ground_given::garden();
    ground.outline = ground_given::rect(-6_000, 0, 34_000, 40_000);
    let roof = ground_given::rect(-5_000, 8_000, 4_000, 18_000);
    ground.covered = vec![ground_given::patch(roof, "shed roof")];
    ground
}
