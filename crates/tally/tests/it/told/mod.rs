//! Five hundred simulated deliveries, and what was said of them. Run with `--no-capture` to see the tables.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use self::score::{Claims, Hidden};
use crate::deliveries::delivery::Delivery;
use crate::deliveries::houses::{House, houses};
use crate::deliveries::planted::{CARELESS_SENDER, EVEN, HURRIED_CREW, KINDS, Kind, Plan, Setting};
use crate::deliveries::random::Draws;

pub mod peer;
mod score;

const RUNS: u64 = 500;

/// Of one kind, or of all: how many were planted and can be seen, and how they were told.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    planted: usize,
    seen: usize,
    best: usize,
    top_two: usize,
    number: usize,
}

/// What came out of a set of runs.
#[derive(Default)]
struct Outcome {
    runs: usize,
    kinds: BTreeMap<Kind, Tally>,
    whole: usize,
    whole_in_two: usize,
    nothing_made_up: usize,
    made_up: BTreeMap<String, usize>,
    proven: usize,
    ours: Claims,
    naive: Claims,
    owed: i64,
    hidden: [usize; 5],
    silent: Vec<String>,
    put_right: usize,
    rows: usize,
    explaining: Duration,
    slowest: Duration,
    misses: BTreeMap<Kind, Vec<String>>,
}

impl Outcome {
    /// So many deliveries, in two halves at a time.
    fn of(setting: &Setting, runs: u64, halves: &mut [Vec<House>; 2]) -> Self {
        let outcome = Mutex::new(Self::default());
        let half = |first: u64, houses: &mut [House]| {
            for run in (first..runs).step_by(2) {
                let place = (run / 2) as usize % houses.len();
                Self::one(&outcome, &mut houses[place], setting, run);
            }
        };
        let [one, other] = halves;
        std::thread::scope(|scope| {
            scope.spawn(|| half(1, other));
            half(0, one);
        });
        let mut outcome = outcome.into_inner().expect("no run failed");
        outcome.silent.sort();
        outcome
    }

    fn one(outcome: &Mutex<Self>, house: &mut House, setting: &Setting, run: u64) {
        let mut draws = Draws::new(run);
        let plan = Plan::draw(setting, &mut draws);
        let delivery = Delivery::draw(house, plan, &mut draws);
        let standing = delivery.standing(house);
        let started = Instant::now();
        let said = standing.explanation().expect("there is an order").clone();
        let took = started.elapsed();

        let truth = &delivery.truth;
        let naive = peer::claims(&standing);
        let difference = standing.difference.as_ref().expect("there is an order");
        let mut out = outcome.lock().expect("no run failed");
        out.runs += 1;
        out.proven += usize::from(said.proven);
        out.put_right += truth.put_right;
        out.rows += standing
            .lists
            .iter()
            .map(|list| list.matched.len())
            .sum::<usize>();
        out.explaining += took;
        out.slowest = out.slowest.max(took);
        let (mut whole, mut whole_in_two) = (true, true);
        for planted in &truth.planted {
            let seen = score::seen(planted, &standing);
            let tally = out.kinds.entry(planted.kind).or_default();
            tally.planted += 1;
            if seen.is_empty() {
                continue;
            }
            let told = score::told(planted, &seen, &said);
            tally.seen += 1;
            tally.best += usize::from(told.best);
            tally.top_two += usize::from(told.top_two);
            tally.number += usize::from(told.number);
            whole &= told.best;
            whole_in_two &= told.top_two;
            if !told.best {
                let words: Vec<String> = (said.matters.iter())
                    .filter(|matter| seen.iter().any(|mark| matter.marks.contains(mark)))
                    .map(|matter| {
                        let words = |story: &tally::Story| -> String {
                            let causes = story.causes.iter().map(|cause| cause.in_words());
                            causes.collect::<Vec<_>>().join(" + ")
                        };
                        let other = matter.other.as_ref().map_or("-".into(), words);
                        format!("[{}] or ×{:.1} [{other}]", words(&matter.best), matter.odds)
                    })
                    .collect();
                let verdicts: Vec<String> = (seen.iter().filter_map(|mark| difference.mark(mark)))
                    .map(|mark| {
                        format!(
                            "{} needed {} supplied {} listed {:?} counted {}",
                            mark.mark,
                            mark.needed,
                            mark.supplied,
                            mark.listed,
                            mark.on_hand.counted
                        )
                    })
                    .collect();
                out.misses.entry(planted.kind).or_default().push(format!(
                    "run {run} {planted:?}\n      {}\n      said {}",
                    verdicts.join("; "),
                    words.join(" | ")
                ));
            }
        }
        let made_up: Vec<String> = score::made_up(&said, truth)
            .map(|cause| format!("{:?}", cause.kind))
            .collect();
        out.whole += usize::from(whole);
        out.whole_in_two += usize::from(whole_in_two);
        out.nothing_made_up += usize::from(whole && made_up.is_empty());
        for kind in made_up {
            *out.made_up.entry(kind).or_default() += 1;
        }
        for mark in &difference.marks {
            let owed = truth.owed(&mark.mark);
            if mark.on_hand.is_counted() {
                out.owed += owed;
                out.ours.add(said.short(&mark.mark), owed);
                out.naive
                    .add(naive.get(&mark.mark).copied().unwrap_or(0), owed);
            }
            if owed == 0 {
                continue;
            }
            let hidden = score::hidden(mark, truth, &said);
            out.hidden[hidden as usize] += 1;
            if hidden == Hidden::Silently {
                let line = format!("run {run}: {} owes {owed}: {:?}", mark.mark, truth.planted);
                out.silent.push(line);
            }
        }
    }

    fn all(&self) -> Tally {
        self.kinds
            .values()
            .fold(Tally::default(), |sum, kind| Tally {
                planted: sum.planted + kind.planted,
                seen: sum.seen + kind.seen,
                best: sum.best + kind.best,
                top_two: sum.top_two + kind.top_two,
                number: sum.number + kind.number,
            })
    }

    fn print(&self, setting: &Setting) {
        let share = |n: usize, of: usize| 100.0 * n as f64 / of.max(1) as f64;
        println!("\n{} deliveries, {}", self.runs, setting.name);
        println!(
            "{:<22} {:>8} {:>6} {:>9} {:>9} {:>11}",
            "planted", "planted", "shown", "in best", "top two", "and number"
        );
        let line = |name: &str, of: &Tally| {
            println!(
                "{name:<22} {:>8} {:>6} {:>7.1} % {:>7.1} % {:>9.1} %",
                of.planted,
                of.seen,
                share(of.best, of.seen),
                share(of.top_two, of.seen),
                share(of.number, of.seen)
            );
        };
        for kind in KINDS {
            let of = self.kinds.get(&kind).copied().unwrap_or_default();
            line(&format!("{kind:?}"), &of);
        }
        line("all", &self.all());
        println!(
            "runs told whole: {:.1} % in the best stories ({:.1} % and nothing besides), {:.1} % in the top two",
            share(self.whole, self.runs),
            share(self.nothing_made_up, self.runs),
            share(self.whole_in_two, self.runs)
        );
        println!("proven optimum: {} of {}", self.proven, self.runs);
        println!("said and not planted: {:?}", self.made_up);
        for (name, claims) in [("ours", &self.ours), ("row by row", &self.naive)] {
            println!(
                "{name:<12} claims {} pieces of {} marks; not owed: {} pieces, {} marks; missed of {} owed: {} pieces, {} marks",
                claims.claimed,
                claims.marks,
                claims.false_pieces,
                claims.false_marks,
                self.owed,
                claims.missed_pieces,
                claims.missed_marks
            );
        }
        let [called, unseen, uncounted, checked, silent] = self.hidden;
        println!(
            "marks owed: {called} called short, {unseen} in no number, {uncounted} not counted yet, {checked} taken for something else with a check, {silent} silently"
        );
        println!(
            "rows put right by hand: {} of {}; explaining took {:.2} ms a run, {:.2} at the most",
            self.put_right,
            self.rows,
            self.explaining.as_secs_f64() * 1e3 / self.runs as f64,
            self.slowest.as_secs_f64() * 1e3
        );
        // `DELIVERIES_SHOW=3` shows three misses of each kind.
        let some = std::env::var("DELIVERIES_SHOW")
            .ok()
            .and_then(|n| n.parse().ok());
        for (kind, misses) in &self.misses {
            for miss in misses.iter().take(some.unwrap_or(0)) {
                println!("  missed {kind:?}: {miss}");
            }
        }
    }
}

#[test]
fn what_was_planted_is_told_and_no_shortage_is_hidden_silently() {
    // Every second run, with every second house, is another thread's.
    let mut halves = [Vec::new(), Vec::new()];
    for (place, house) in houses().into_iter().enumerate() {
        halves[place % 2].push(house);
    }
    for (setting, runs) in [
        (&EVEN, RUNS),
        (&HURRIED_CREW, RUNS / 5),
        (&CARELESS_SENDER, RUNS / 5),
    ] {
        let outcome = Outcome::of(setting, runs, &mut halves);
        outcome.print(setting);
        let name = setting.name;
        assert_eq!(outcome.silent, Vec::<String>::new(), "{name}");
        assert_eq!(outcome.proven, outcome.runs, "{name}");
        // The floors stand some points under what came out when they were set (see docs/explaining.md): a change that
        // costs so much is to be seen. Half of the bundles have no known size and half of what is damaged was never
        // written down, so nothing reaches all.
        let all = outcome.all();
        assert!(
            100 * all.best >= 58 * all.seen,
            "{name}: in the best story {all:?}"
        );
        assert!(
            100 * all.top_two >= 67 * all.seen,
            "{name}: in the top two {all:?}"
        );
        assert!(
            100 * outcome.whole >= 41 * outcome.runs,
            "{name}: {} whole",
            outcome.whole
        );
        let (ours, naive) = (outcome.ours, outcome.naive);
        assert!(
            6 * ours.false_pieces < naive.false_pieces,
            "{name}: {ours:?} and {naive:?}"
        );
        assert!(
            2 * ours.false_marks < naive.false_marks,
            "{name}: {ours:?} and {naive:?}"
        );
    }
}
