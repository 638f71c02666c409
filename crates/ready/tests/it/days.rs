//! The stated chances against simulated worlds: what came, how many of each mark there were, and how far the build then
//! got. The worlds are drawn from the supplies by a generator of this file's own, and built by `how_far`, which knows
//! nothing of chances.

use jiff::civil::{Date, date};
use ready::{Build, HowFar, Supplies, how_far, stage_chances, supplies};
use tally::{About, How, WayStands};

use crate::jobs::{Job, LIST, ORDER, TODAY};

/// SplitMix64 (Steele, Lea and Flood 2014), from memory; any generator would do.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 up to 1.
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn happens(&mut self, chance: f64) -> bool {
        self.share() < chance
    }

    fn below(&mut self, end: i64) -> i64 {
        (self.next() % end.max(1) as u64) as i64
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as i64) as usize]
    }
}

/// One world: how many pieces of each mark are there on the morning of a day.
fn world(supplies: &Supplies, day: Date, dice: &mut Dice) -> Vec<i64> {
    let came: Vec<bool> = (supplies.coming.iter())
        .map(|coming| {
            // The day on which it comes, if it does; then whether that is early enough.
            let at = dice.share();
            let first = coming.here_by.iter().find(|(_, by)| at < *by);
            first.is_some_and(|(on, _)| *on <= day)
        })
        .collect();
    (supplies.marks.iter())
        .map(|supply| {
            let mut there = 0;
            for share in &supply.shares {
                let mut at = dice.share();
                let drawn = share.odds.iter().find(|(_, chance)| {
                    at -= chance;
                    at < 0.0
                });
                let drawn = drawn.or(share.odds.last()).map_or(0, |(n, _)| *n);
                if share.with.is_none_or(|with| came[with]) {
                    there += drawn;
                }
            }
            there.max(supply.built).max(0)
        })
        .collect()
}

/// A random job of a family: some marks counted, some short, damaged, weighed or looked at twice, two loads, promises.
fn any_job(dice: &mut Dice) -> Job {
    let (order, list) = match dice.below(4) {
        0 => (ORDER.to_owned(), Some(LIST)),
        _ => {
            let family = dice.of(&["gothic-24", "round-16", "sidewall-30"]);
            let length = dice.of(&["24 ft", "48 ft"]);
            let name = "A house of the tests";
            (
                format!("name = \"{name}\"\nfamily = \"{family}\"\nlength = \"{length}\"\n"),
                None,
            )
        }
    };
    let mut job = Job::of(&order);
    if let Some(list) = list {
        job.list(list);
        job.arrives("Load 1");
    }
    let due = dice.of(&[
        None,
        Some("2026-12-04"),
        Some("2026-12-08"),
        Some("2026-12-01"),
    ]);
    if let Some(due) = due {
        job.due("Load 2", Some(due));
    }
    if dice.happens(0.5) {
        job.expected("Load 2", Some("2026-12-07"), Some("2026-12-10"));
    }
    let difference = job.standing().difference.expect("an order");
    let uncounted = if list.is_some() {
        dice.of(&[0.02, 0.2])
    } else {
        0.0
    };
    for mark in &difference.marks {
        if dice.happens(uncounted) {
            continue;
        }
        let here = mark.needed - mark.coming;
        let off = match dice.below(14) {
            0 => -1,
            1 => -2,
            2 => 2,
            _ => 0,
        };
        let quantity = (here + off).max(0);
        let how = match dice.below(12) {
            0 if quantity >= 4 => How::Bundle {
                bundles: 1,
                of: quantity - 1,
                rest: 1,
                closed: true,
            },
            _ => How::Piece,
        };
        let first = job.counts_how(&mark.mark, quantity, how);
        match dice.below(14) {
            0 => job.counts_again(&mark.mark, (quantity - 1).max(0), first),
            1 => job.counts_again(&mark.mark, quantity, first),
            _ => {}
        }
        if dice.happens(0.04) && quantity > 2 {
            job.unfit(&mark.mark, 1);
        }
        if off < 0 {
            match dice.below(4) {
                0 => job.sends(About::Short, &mark.mark, -off, Some("2026-12-01"), None),
                1 => job.sends(About::Short, &mark.mark, -off, None, Some("Load 2")),
                2 => job.way(&mark.mark, "buy:shop", -off, WayStands::Meant),
                _ => {}
            }
        }
    }
    job
}

/// How often something was so that was said to be so likely.
#[derive(Default, Clone, Copy)]
struct Bin {
    worlds: f64,
    said: f64,
    variance: f64,
    seen: f64,
}

impl Bin {
    fn take(&mut self, said: f64, seen: bool) {
        self.worlds += 1.0;
        self.said += said;
        self.variance += said * (1.0 - said);
        self.seen += f64::from(u8::from(seen));
    }

    /// By how many spreads of as many independent draws what was seen is off what was said.
    fn off(&self) -> f64 {
        (self.seen - self.said) / self.variance.max(0.25).sqrt()
    }
}

const JOBS: usize = 100;
const WORLDS: usize = 30;

/// The table is printed with `--nocapture`. Stages of one world share its pieces, so of each world one stage is judged that
/// is neither as good as sure nor as good as impossible, and one of the others: draws are then independent. That a stage
/// can be done is said of it and what it follows, so these alone are built: `how_far` would give to others before it.
#[test]
fn chances_come_out_as_stated_in_simulated_worlds() {
    let mut dice = Dice(20_261_203);
    let mut bins = [[Bin::default(); 12]; 2];
    for _ in 0..JOBS {
        let job = any_job(&mut dice);
        let standing = job.standing();
        let ordered = standing.ordered().expect("the tests' orders can be built");
        let build = Build::of(&ordered.frame, &ordered.parts);
        let alone: Vec<Build> = (0..build.stages.len()).map(|s| alone(&build, s)).collect();
        let supplies = supplies(&standing, TODAY).expect("an order");
        let day = dice.of(&[
            TODAY,
            date(2026, 12, 5),
            date(2026, 12, 9),
            date(2026, 12, 12),
            date(2026, 12, 19),
        ]);
        let chances = stage_chances(&build, &supplies, day);
        let open = |stage: &usize| (0.01..0.99).contains(&chances[*stage].complete);
        let (open, plain): (Vec<usize>, Vec<usize>) = (0..chances.len()).partition(open);
        for _ in 0..WORLDS {
            // Of what no stage but this one's own may use there is none.
            let there = world(&supplies, day, &mut dice);
            let there: Vec<i64> = there.into_iter().chain([0]).collect();
            for of in [&open, &plain].into_iter().filter(|of| !of.is_empty()) {
                let stage = dice.of(of);
                let far = how_far(&alone[stage], &there);
                let seen = built(&build, &far, stage);
                let said = [chances[stage].start, chances[stage].complete];
                for (which, said) in said.into_iter().enumerate() {
                    bins[which][bin(said)].take(said, seen[which]);
                }
            }
        }
    }
    println!("{JOBS} jobs, {WORLDS} worlds each");
    println!("what       worlds      said      seen  spreads off");
    for (which, name) in ["start", "complete"].into_iter().enumerate() {
        for bin in bins[which].iter().filter(|bin| bin.worlds > 0.0) {
            println!(
                "{name:<9} {:>7} {:>7.2} % {:>7.2} % {:>8.2}",
                bin.worlds,
                100.0 * bin.said / bin.worlds,
                100.0 * bin.seen / bin.worlds,
                bin.off()
            );
        }
        let all = bins[which].iter().fold(Bin::default(), |all, bin| Bin {
            worlds: all.worlds + bin.worlds,
            said: all.said + bin.said,
            variance: all.variance + bin.variance,
            seen: all.seen + bin.seen,
        });
        println!(
            "{name:<9} {:>7} {:>7.2} % {:>7.2} % {:>8.2}  all",
            all.worlds,
            100.0 * all.said / all.worlds,
            100.0 * all.seen / all.worlds,
            all.off()
        );
        assert!(
            all.worlds > 4_000.0 && all.off().abs() < 4.0,
            "{name}: {}",
            all.off()
        );
    }
    // Of 24 bins one is 4 spreads off in some 700 runs; the dice are the same every time.
    for bin in bins.iter().flatten() {
        assert!(
            bin.off().abs() < 4.0,
            "{} of {}, said {}",
            bin.seen,
            bin.worlds,
            bin.said
        );
    }
}

/// Twelve bins: ten of a tenth each, and what is below 1 % and over 99 % apart.
fn bin(said: f64) -> usize {
    match said {
        p if p < 0.01 => 0,
        p if p > 0.99 => 11,
        p => 1 + ((p * 10.0) as usize).min(9),
    }
}

/// The build with nothing in it but a stage and what it follows: all else needs a piece of which there is none.
fn alone(build: &Build, stage: usize) -> Build {
    let mut alone = build.clone();
    let through = build.through(stage);
    let none = alone.marks.len();
    alone.marks.push("none".into());
    for unit in alone.units.iter_mut().filter(|unit| !through[unit.stage]) {
        unit.needs.push((none, 1));
    }
    alone
}

/// Whether a stage was begun, all that it follows being done; and whether it was done with all that.
fn built(build: &Build, far: &HowFar, stage: usize) -> [bool; 2] {
    let through = build.through(stage);
    let done = |of: usize| far.stages[of].done == far.stages[of].units;
    let before = (0..through.len())
        .filter(|of| through[*of] && *of != stage)
        .all(done);
    let reach = &far.stages[stage];
    [
        before && (reach.done > 0 || reach.units == 0),
        before && done(stage),
    ]
}
