//! The stated chances against simulated worlds: what came, how many of each mark there were, and how far the build then
//! got. The worlds are drawn from the supplies by a generator of this file's own, and built by `how_far`, which knows
//! nothing of chances.

use jiff::civil::{Date, date};
use ready::{Build, Supplies, how_far, stage_chances, supplies};
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
    /// How many spreads what was seen is off what was said. Stages of one job share their worlds, so the spread takes
    /// each job and stage as one draw would be too narrow; each is judged by itself below, and the bin on the whole here.
    fn off(&self) -> f64 {
        (self.seen - self.said) / self.variance.max(1e-9).sqrt()
    }
}

const JOBS: usize = 60;
const WORLDS: usize = 60;

/// The table of this test, as seen on one run (`--nocapture`):
/// said, seen, spreads off, by tenths of the said chance.
#[test]
fn chances_come_out_as_stated_in_simulated_worlds() {
    let mut dice = Dice(20_261_203);
    let mut bins = [[Bin::default(); 10]; 2];
    let mut worst: f64 = 0.0;
    let (mut stages, mut by_build) = (0, 0);
    for _ in 0..JOBS {
        let job = any_job(&mut dice);
        let standing = job.standing();
        let ordered = standing.ordered().expect("the tests' orders can be built");
        let build = Build::of(&ordered.frame, &ordered.parts);
        let supplies = supplies(&standing, TODAY).expect("an order");
        let day = dice.of(&[
            TODAY,
            date(2026, 12, 5),
            date(2026, 12, 9),
            date(2026, 12, 12),
            date(2026, 12, 19),
        ]);
        let chances = stage_chances(&build, &supplies, day);
        let needs: Vec<Vec<i64>> = (0..chances.len()).map(|s| build.needs_through(s)).collect();
        let mut seen = vec![[0.0_f64; 2]; chances.len()];
        for _ in 0..WORLDS {
            let there = world(&supplies, day, &mut dice);
            let far = how_far(&build, &there);
            for (stage, reach) in far.stages.iter().enumerate() {
                let enough = needs[stage].iter().zip(&there).all(|(need, n)| n >= need);
                let before = |of: usize| far.stages[of].done == far.stages[of].units;
                let behind = build.through(stage);
                let begun = (0..chances.len())
                    .filter(|of| behind[*of] && *of != stage)
                    .all(before)
                    && (reach.done > 0 || reach.units == 0);
                let complete =
                    before(stage) && (0..chances.len()).filter(|of| behind[*of]).all(before);
                // `how_far` gives to earlier stages first, also to such that this one does not follow: what it gets
                // done can be done, and where it does not, the pieces may have gone there.
                assert!(!complete || enough, "{}", build.stages[stage].name);
                by_build += usize::from(enough != complete);
                stages += 1;
                seen[stage][0] += f64::from(u8::from(begun));
                seen[stage][1] += f64::from(u8::from(enough));
            }
        }
        for (seen, chance) in seen.iter().zip(&chances) {
            for (which, said) in [chance.start, chance.complete].into_iter().enumerate() {
                let worlds = WORLDS as f64;
                let bin = &mut bins[which][((said * 10.0) as usize).min(9)];
                bin.worlds += worlds;
                bin.said += said * worlds;
                bin.seen += seen[which];
                bin.variance += said * (1.0 - said) * worlds;
                let spread = (said * (1.0 - said) * worlds).max(0.25).sqrt();
                worst = worst.max((seen[which] - said * worlds).abs() / spread);
            }
        }
    }
    println!(
        "{JOBS} jobs, {WORLDS} worlds each; enough for a stage that yet was not built: {by_build} of {stages}"
    );
    println!(
        "{:<10} {:>8} {:>9} {:>9} {:>8}",
        "what", "worlds", "said", "seen", "off"
    );
    let mut all = Bin::default();
    for (which, name) in ["start", "complete"].into_iter().enumerate() {
        for bin in bins[which].iter().filter(|bin| bin.worlds > 0.0) {
            println!(
                "{name:<10} {:>8} {:>8.2} % {:>8.2} % {:>8.2}",
                bin.worlds,
                100.0 * bin.said / bin.worlds,
                100.0 * bin.seen / bin.worlds,
                bin.off()
            );
            all.worlds += bin.worlds;
            all.said += bin.said;
            all.seen += bin.seen;
        }
    }
    println!(
        "all        {:>8} {:>8.2} % {:>8.2} %; a single stage at most {worst:.2} spreads off",
        all.worlds,
        100.0 * all.said / all.worlds,
        100.0 * all.seen / all.worlds
    );
    // Stages of one job share their worlds, so bins are judged by shares and not by the spread of independent draws.
    for bin in bins.iter().flatten().filter(|bin| bin.worlds >= 600.0) {
        assert!(
            (bin.seen - bin.said).abs() / bin.worlds < 0.035,
            "{} of {}, said {}",
            bin.seen,
            bin.worlds,
            bin.said
        );
    }
    assert!((all.seen - all.said).abs() / all.worlds < 0.01);
    // Of some 2 000 stages one may be 4 spreads off; a normal table gives 1 in 16 000 beyond.
    assert!(worst < 5.0, "{worst}");
    assert!((by_build as f64) < 0.02 * stages as f64);
}
