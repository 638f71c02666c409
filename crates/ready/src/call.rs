//! The answer for whoever calls the crew: go, go as far as, or wait; what it rests on, and what would change it.
//!
//! *Go*: all that the crew can do in its hours at a quick pace has its pieces with a chance of [`SURE_ENOUGH`]. *Go as far
//! as*: pieces end before the hours do, but what has them with that chance is at least [`WORTH_COMING`] of the day's work.
//! Else *wait*. A chance is that of the pieces alone; weather, tools and hands are no part of it.

use jiff::civil::Date;

use crate::assumed::{SURE_ENOUGH, WORTH_COMING};
use crate::build::{Gap, LEAVE_OUT};
use crate::call_rests::{Doubt, count_first, rests_on, would_change};
use crate::call_words::{chance_in_words, hours_in_words, reach_in_words, why_short};
use crate::coming::day_in_words;
use crate::day_work::{Crew, DayWork, Site};
use crate::how_far::HowFar;
use crate::likely::Likely;
use crate::memo::Memo;
use crate::supply::Supplies;

/// What the answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CallIs {
    /// All that the crew can do in its hours has its pieces.
    Go,
    /// A good part of it has.
    GoAsFar,
    /// Too little has, or there is nothing to do.
    Wait,
}

impl CallIs {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::GoAsFar => "go as far as",
            Self::Wait => "wait",
        }
    }
}

/// The answer for a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Go, go as far as, or wait.
    pub is: CallIs,
    /// One sentence, such as "Go as far as bow 14 (bows up)."
    pub says: String,
    /// Why, a sentence each.
    pub why: Vec<String>,
    /// The chance that the pieces for what it says are there; of a wait, for the whole day's work.
    pub chance: f64,
    /// The same in words, such as "almost sure, 97 %".
    pub chance_says: String,
    /// What it rests on, such as "B1: 26 listed, not counted".
    pub rests_on: Vec<String>,
    /// Of a part of the day: how far the pieces go that it counts on. It may leave out other bows than what is likeliest
    /// there would.
    pub far: Option<HowFar>,
    /// What would change it, the most first.
    pub would_change: Vec<String>,
}

/// What a day's answer is made of.
pub(crate) struct Asked<'a> {
    pub site: &'a Site<'a>,
    pub supplies: &'a Supplies,
    pub likely: &'a Likely,
    pub crew: Crew,
    pub day: Date,
    pub today: Date,
}

impl Asked<'_> {
    /// The answer.
    pub fn call(&self, memo: &mut Memo) -> Call {
        if self.site.is_done() {
            return plain(1.0, "Wait: nothing is left to build, every stage is done.");
        }
        if self.day < self.today {
            let says = format!("Wait: {} is past.", day_in_words(self.day));
            return plain(0.0, &says);
        }
        let all = self.site.reach(None, self.crew);
        if all.is_empty() {
            return plain(0.0, &self.cannot_begin());
        }
        let chance = self.likely.at_least(&all.needs);
        if chance >= SURE_ENOUGH {
            return self.go(&all, chance);
        }
        let worth = WORTH_COMING * all.minutes;
        match (self.site).sure_reach(self.likely, self.crew, worth, memo) {
            Some((some, far)) => self.go_as_far(&all, chance, &some, &far),
            None => self.wait(&all, chance, memo),
        }
    }

    fn go(&self, all: &DayWork, chance: f64) -> Call {
        let (left, now) = (
            self.site.left(),
            all.units.iter().filter(|unit| **unit).count(),
        );
        let says = match left == now {
            true => "Go: the pieces for all that is left to build are there.".to_owned(),
            false => format!(
                "Go: the pieces for all that {} can do in {} are there.",
                people(self.crew.people),
                hours_in_words(self.crew.minutes)
            ),
        };
        let mut call = self.told(CallIs::Go, says, all, chance);
        call.why.push(reach_in_words(
            self.site.build,
            all,
            "at a quick pace they come to",
        ));
        call.would_change = would_change(&self.doubt(&all.needs, chance));
        call
    }

    fn go_as_far(&self, all: &DayWork, whole: f64, some: &DayWork, far: &HowFar) -> Call {
        let chance = self.likely.at_least(&some.needs);
        let says = format!("Go as far as {}.", self.as_far_as(all, some, &far.left_out));
        let mut call = self.told(CallIs::GoAsFar, says, some, chance);
        call.far = Some(far.clone());
        call.why
            .push(reach_in_words(self.site.build, some, "they come to"));
        let share = some.minutes / all.minutes * 100.0;
        call.why.push(format!(
            "Pieces end before the hours do: about {share:.0} % of the day's work has them. That all of it has: {}.",
            chance_in_words(whole)
        ));
        if !far.left_out.is_empty() {
            let bows: Vec<String> = far.left_out.iter().map(usize::to_string).collect();
            call.why.push(format!(
                "Leave out bow {} for now and set it in later. {LEAVE_OUT}",
                bows.join(" and bow ")
            ));
        }
        let doubt = self.doubt(&all.needs, whole);
        call.why.extend(why_short(&doubt));
        call.would_change = would_change(&doubt);
        call
    }

    fn wait(&self, all: &DayWork, chance: f64, memo: &mut Memo) -> Call {
        let doubt = self.doubt(&all.needs, chance);
        let counted = self.supplies.counted().iter().any(|n| *n > 0);
        let short = doubt.shortest();
        let says = match (counted, short) {
            (false, _) => "Wait: nothing is counted yet, so nobody can say what is there.".into(),
            (true, Some(short)) => format!("Wait: {short}."),
            (true, None) => format!(
                "Wait: that the pieces for a good half of the day's work are there is not sure enough ({}).",
                chance_in_words(chance)
            ),
        };
        let mut call = self.told(CallIs::Wait, says, all, chance);
        call.why.extend(why_short(&doubt));
        call.would_change = would_change(&doubt);
        if let Some(first) = self.count_for_part(all, memo) {
            call.would_change.insert(0, first);
        }
        call
    }

    /// What to count so that the crew may come for a good part of the day: as far as what is likely there goes.
    fn count_for_part(&self, all: &DayWork, memo: &mut Memo) -> Option<String> {
        let far = memo.how_far(self.site.build, &self.supplies.by(self.day));
        let some = self.site.reach(Some(&far), self.crew);
        if some.minutes < WORTH_COMING * all.minutes || some.units == all.units {
            return None;
        }
        let doubt = self.doubt(&some.needs, self.likely.at_least(&some.needs));
        let then = format!(
            "; then go as far as {}",
            self.as_far_as(all, &some, &far.left_out)
        );
        count_first(&doubt, &then)
    }

    fn told(&self, is: CallIs, says: String, work: &DayWork, chance: f64) -> Call {
        Call {
            is,
            says,
            why: Vec::new(),
            chance,
            chance_says: chance_in_words(chance),
            rests_on: rests_on(&self.doubt(&work.needs, chance)),
            far: None,
            would_change: Vec::new(),
        }
    }

    fn doubt<'a>(&'a self, needs: &'a [i64], chance: f64) -> Doubt<'a> {
        Doubt {
            supplies: self.supplies,
            likely: self.likely,
            needs,
            chance,
            day: self.day,
        }
    }

    /// Where the crew runs out of work: in the last stage of which the day sees something; with what stays open on the
    /// way there, but for the bows that are left out.
    fn as_far_as(&self, all: &DayWork, some: &DayWork, left_out: &[usize]) -> String {
        let build = self.site.build;
        let missing = |unit: &usize| {
            let gap = build.units[*unit].gap;
            !some.units[*unit] && !matches!(gap, Gap::Bow(bow) if left_out.contains(&bow))
        };
        let is_short = |stage: &usize| {
            let mut units = build.units_of(*stage);
            units.any(|unit| all.units[unit] && missing(&unit))
        };
        let short: Vec<usize> = (0..build.stages.len()).filter(is_short).collect();
        let name = |stage: usize| format!("“{}”", build.stages[stage].name);
        let done_of = |stage: usize| {
            let done = build.units_of(stage).filter(|unit| some.units[*unit]);
            (done.count(), build.units_of(stage).count())
        };
        let begun = |stage: &usize| done_of(*stage).0 > 0;
        let Some(last) = (0..build.stages.len()).rfind(begun) else {
            let first = short.first();
            return first.map_or("nothing".into(), |first| {
                format!("just before {}", name(*first))
            });
        };
        let (done, of) = done_of(last);
        let first = build.units_of(last).filter(missing);
        let first = first.map(|unit| build.units[unit].bows[0]).min();
        let mut says = match first {
            None => name(last),
            Some(bow @ 2..) if short.contains(&last) => {
                format!("bow {} ({})", bow - 1, build.stages[last].name)
            }
            Some(_) => format!("{done} of {of} of {}", name(last)),
        };
        let open = short.iter().filter(|stage| **stage < last);
        let open: Vec<String> = open
            .map(|stage| match done_of(*stage) {
                (0, _) => format!("without {}", name(*stage)),
                (done, of) => format!("with {done} of {of} of {}", name(*stage)),
            })
            .collect();
        if !open.is_empty() {
            says = format!("{says}, {}", open.join(" and "));
        }
        match short.iter().find(|stage| **stage > last) {
            Some(next) if first.is_none() => format!("{says}, and stop before {}", name(*next)),
            _ => says,
        }
    }

    /// Why nothing can be begun although something is left.
    fn cannot_begin(&self) -> String {
        if self.crew.people <= 0 || self.crew.minutes <= 0 {
            return "Wait: nobody is said to come on that day.".into();
        }
        let too_few = self.site.next_stages().into_iter().find(|stage| {
            let fewest = self.site.works[*stage].people[0];
            i64::try_from(fewest).is_ok_and(|fewest| fewest > self.crew.people)
        });
        match too_few {
            Some(stage) => format!(
                "Wait: “{}” takes {} at the least, and {} are said to come.",
                self.site.build.stages[stage].name,
                people(i64::try_from(self.site.works[stage].people[0]).unwrap_or(i64::MAX)),
                self.crew.people
            ),
            None => "Wait: nothing can be begun in these hours.".into(),
        }
    }
}

fn plain(chance: f64, says: &str) -> Call {
    Call {
        is: CallIs::Wait,
        says: says.into(),
        why: Vec::new(),
        chance,
        chance_says: String::new(),
        rests_on: Vec::new(),
        far: None,
        would_change: Vec::new(),
    }
}

fn people(number: i64) -> String {
    match number {
        1 => "1 person".into(),
        n => format!("{n} people"),
    }
}
