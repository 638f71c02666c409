//! What a crew would do on a day: the units that its hours reach, and what of them has its pieces.

use std::collections::BTreeMap;

use crate::assumed::SURE_ENOUGH;
use crate::build::Build;
use crate::chance::StageNeeds;
use crate::day_reach::day_reach;
use crate::how_far::HowFar;
use crate::likely::Likely;
use crate::memo::Memo;
use crate::work::StageWork;

/// What does not change from one day to another.
pub(crate) struct Site<'a> {
    /// The build.
    pub build: &'a Build,
    /// What each stage takes.
    pub works: &'a [StageWork],
    /// What each stage needs.
    pub needs: &'a [StageNeeds],
    /// What the whole build needs, by mark.
    pub whole: &'a [i64],
}

/// A crew: people, and the minutes that each works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Crew {
    pub people: i64,
    pub minutes: i64,
}

/// What a crew does by the evening, unit by unit; what is behind it is not among it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct DayWork {
    /// Whether each unit is done, at the quick pace.
    pub units: Vec<bool>,
    /// By mark: what these and all that is behind them need.
    pub needs: Vec<i64>,
    /// Minutes of one person that they take, at the middle of the range.
    pub minutes: f64,
}

impl Site<'_> {
    /// Whether the hours of any stage that is left are known.
    pub fn knows_hours(&self) -> bool {
        (self.works.iter())
            .any(|work| !work.done && work.minutes_left().is_some_and(|m| m[1] > 0.0))
    }

    /// Whether nothing is left to be done.
    pub fn is_done(&self) -> bool {
        let done = |stage: usize| self.works.get(stage).is_some_and(|work| work.done);
        let mut units = self.build.units.iter();
        units.all(|unit| done(unit.stage))
    }

    /// How many units are left.
    pub fn left(&self) -> usize {
        let done = |stage: usize| self.works.get(stage).is_some_and(|work| work.done);
        let units = self.build.units.iter();
        units.filter(|unit| !done(unit.stage)).count()
    }

    /// The stages that are not done and follow none that is not.
    pub fn next_stages(&self) -> Vec<usize> {
        let done = |stage: &usize| self.works[*stage].done || self.works[*stage].is_nothing();
        let stages = (0..self.build.stages.len()).filter(|stage| !done(stage));
        stages
            .filter(|stage| self.build.stages[*stage].follows.iter().all(done))
            .collect()
    }

    /// What a crew does with parts for so much; nothing: with parts for all. Where no hours are known, all that has parts.
    pub fn reach(&self, far: Option<&HowFar>, crew: Crew) -> DayWork {
        let people = usize::try_from(crew.people).unwrap_or(0);
        let hours = self.knows_hours().then(|| {
            let minutes = crew.minutes.max(0) as f64;
            day_reach(self.build, self.works, far, people, minutes)
        });
        let mut units = vec![false; self.build.units.len()];
        let mut shares = vec![0.0; self.build.stages.len()];
        for (stage, of_stage_done) in shares.iter_mut().enumerate() {
            if self.works.get(stage).is_some_and(|work| work.done) {
                continue;
            }
            let of_stage: Vec<usize> = self.build.units_of(stage).collect();
            let has_parts = |unit: &&usize| far.is_none_or(|far| far.done[**unit]);
            let share = (hours.as_ref()).map_or(1.0, |hours| hours.stages[stage].quick.share);
            *of_stage_done = share;
            // What is begun has its pieces laid out.
            let reached = (share * of_stage.len() as f64 - 1e-6).ceil().max(0.0) as usize;
            for unit in of_stage.iter().filter(has_parts).take(reached) {
                units[*unit] = true;
            }
        }
        self.work(units, &shares)
    }

    fn work(&self, units: Vec<bool>, shares: &[f64]) -> DayWork {
        let behind = |stage: usize| self.works.get(stage).is_some_and(|work| work.done);
        let done: Vec<bool> = (self.build.units.iter().zip(&units))
            .map(|(unit, now)| *now || behind(unit.stage))
            .collect();
        let mut counts = vec![(0.0, 0.0); self.build.stages.len()];
        for (unit, now) in self.build.units.iter().zip(&units) {
            counts[unit.stage].0 += 1.0;
            counts[unit.stage].1 += f64::from(u8::from(*now));
        }
        let minutes = (counts.iter().zip(shares).zip(self.works))
            .map(|(((all, now), share), work)| {
                // Where no hours are known, every unit is as good as another.
                let [quick, slow] = match self.knows_hours() {
                    true => work.person_minutes.unwrap_or_default(),
                    false => [*all; 2],
                };
                // Setting out, such as it is, has no units.
                let share = if *all > 0.0 { now / all } else { *share };
                (quick + slow) / 2.0 * share
            })
            .sum();
        DayWork {
            needs: self.build.used(&done),
            units,
            minutes,
        }
    }

    /// The most of a day's work for which the pieces are there with a chance that is enough for a call; with how far they
    /// go. Pieces are told apart by how sure they are, mark by mark, until all together are sure enough. Nothing where that
    /// leaves less than so many minutes.
    pub fn sure_reach(
        &self,
        likely: &Likely,
        crew: Crew,
        least: f64,
        memo: &mut Memo,
    ) -> Option<(DayWork, HowFar)> {
        let amounts = SURENESS
            .iter()
            .map(|sure| likely.with_chance(self.whole, *sure));
        // What is surer is fewer, so once it is too little it stays so.
        let enough = amounts.take_while(|amounts| self.minutes_at_most(amounts) >= least);
        let mut enough: Vec<Vec<i64>> = enough.collect();
        enough.dedup();
        enough.iter().find_map(|amounts| {
            let far = memo.how_far(self.build, amounts);
            let work = self.reach(Some(&far), crew);
            let sure = !work.is_empty() && likely.at_least(&work.needs) >= SURE_ENOUGH;
            (sure && work.minutes >= least).then_some((work, far))
        })
    }

    /// More minutes of work than this have no pieces, however they are given: no stage gets more units than any one of
    /// its marks allows.
    fn minutes_at_most(&self, amounts: &[i64]) -> f64 {
        let knows = self.knows_hours();
        (0..self.build.stages.len())
            .map(|stage| {
                let (mut units, mut by_mark) = (0_i64, BTreeMap::<usize, (i64, i64)>::new());
                for unit in self.build.units_of(stage) {
                    units += 1;
                    for (mark, need) in &self.build.units[unit].needs {
                        let of_mark = by_mark.entry(*mark).or_insert((0, *need));
                        *of_mark = (of_mark.0 + 1, of_mark.1.min(*need));
                    }
                }
                // Units that share a piece may need none of their own.
                let shared = |mark: &usize| self.build.shared.iter().any(|s| s.mark == *mark);
                let most = (by_mark.iter().filter(|(mark, _)| !shared(mark)))
                    .map(|(mark, (with, least))| units - with + amounts[*mark] / (*least).max(1))
                    .fold(units, i64::min);
                let all = match (knows, self.works.get(stage).and_then(|w| w.person_minutes)) {
                    (true, Some([quick, slow])) => (quick + slow) / 2.0,
                    (true, None) => 0.0,
                    (false, _) => units as f64,
                };
                match units {
                    0 => all,
                    _ => all * most as f64 / units as f64,
                }
            })
            .sum()
    }
}

/// How sure the number of each mark is taken to be, one after the other.
const SURENESS: [f64; 8] = [0.5, 0.9, 0.95, 0.98, 0.99, 0.995, 0.999, 0.999_9];

impl DayWork {
    /// Whether nothing is done.
    pub fn is_empty(&self) -> bool {
        !self.units.contains(&true) && self.minutes <= 0.0
    }
}
