//! The answer for whoever calls the crew: go, go as far as, or wait; what it rests on, and what would change it.
//!
//! *Go*: all that the crew can do in its hours at a quick pace has its pieces with a chance of [`SURE_ENOUGH`]. *Go as far
//! as*: pieces end before the hours do, but what has them with that chance is at least [`WORTH_COMING`] of the day's work.
//! Else *wait*. A chance is that of the pieces alone; weather, tools and hands are no part of it.

use jiff::civil::Date;

use crate::assumed::{SURE_ENOUGH, WORTH_COMING};
use crate::build::{Gap, LEAVE_OUT};
use crate::call_rests::{Doubt, count_first, rests_on, would_change};
use crate::call_words::{
    bows_in_words, chance_in_words, hours_in_words, later, reach_in_words, waiting, why_short,
};
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
    /// Too little has.
    Wait,
    /// Every stage is done.
    Built,
}

impl CallIs {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::GoAsFar => "go as far as",
            Self::Wait => "wait",
            Self::Built => "built",
        }
    }
}

/// The answer for a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Go, go as far as, wait, or built.
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
            let says = "Built: every stage is done, and nothing is left to build.";
            return Call {
                is: CallIs::Built,
                ..plain(1.0, says)
            };
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
            return self.go(&all, chance, memo);
        }
        let worth = WORTH_COMING * all.minutes;
        match (self.site).sure_reach(self.likely, self.crew, worth, memo) {
            Some((some, far)) => self.go_as_far(&all, chance, &some, &far, memo),
            None => self.wait(&all, chance, memo),
        }
    }

    fn go(&self, all: &DayWork, chance: f64, memo: &mut Memo) -> Call {
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
        let far = memo.how_far(self.site.build, &self.supplies.by(self.day));
        call.why.extend(later(self.site.build, &far));
        call.would_change = would_change(&self.doubt(&all.needs, chance));
        call
    }

    fn go_as_far(
        &self,
        all: &DayWork,
        whole: f64,
        some: &DayWork,
        far: &HowFar,
        memo: &mut Memo,
    ) -> Call {
        let chance = self.likely.at_least(&some.needs);
        let says = format!(
            "Go as far as {}.",
            self.as_far_as(all, some, &far.left_out).in_words()
        );
        let mut call = self.told(CallIs::GoAsFar, says, some, chance);
        // For a mere doubt about a count no bow is left out: what is likeliest there says which are.
        let likeliest = memo.how_far(self.site.build, &self.supplies.by(self.day));
        let told = match far.left_out.len() > likeliest.left_out.len() {
            true => &likeliest,
            false => far,
        };
        call.far = Some(told.clone());
        call.why
            .push(reach_in_words(self.site.build, some, "they come to"));
        let share = some.minutes / all.minutes * 100.0;
        call.why.push(format!(
            "Pieces end before the hours do: about {share:.0} % of the day's work has them. That all of it has: {}.",
            chance_in_words(whole)
        ));
        if !told.left_out.is_empty() {
            let it = match told.left_out.len() {
                1 => "it",
                _ => "them",
            };
            call.why.push(format!(
                "Leave out {} for now and set {it} in later. {LEAVE_OUT}",
                bows_in_words(&told.left_out)
            ));
        }
        let waiting = waiting(self.site.build, all, told);
        if !waiting.is_empty() {
            let bows = frame::capitalised(&bows_in_words(&waiting));
            let wait = if waiting.len() == 1 { "waits" } else { "wait" };
            call.why.push(format!("{bows} {wait} for parts."));
        }
        let doubt = self.doubt(&all.needs, whole);
        call.why.extend(why_short(&doubt));
        call.would_change = would_change(&doubt);
        call
    }

    fn wait(&self, all: &DayWork, chance: f64, memo: &mut Memo) -> Call {
        let doubt = self.doubt(&all.needs, chance);
        if self.supplies.nothing_known() {
            let says = "Wait: nothing is counted yet, so nobody can say what is there.";
            return Call {
                would_change: vec!["Count first, or read in the packing list".into()],
                ..plain(chance, says)
            };
        }
        let part = self.part(all, memo).and_then(|(some, far)| {
            let as_far = self.as_far_as(all, &some, &far.left_out);
            let part = self.doubt(&some.needs, self.likely.at_least(&some.needs));
            let first = count_first(&part)?;
            let then = format!("; then go as far as {}", as_far.in_words());
            let then_what = format!("go as far as {}", as_far.brief);
            Some((
                first.as_reason(&part, &then_what),
                first.in_words(&part, &then),
            ))
        });
        let whole = count_first(&doubt).map(|first| first.as_reason(&doubt, "go"));
        // What would turn the answer stands first, and is never a shortage that a part of the work does not meet.
        let counts = whole.or(part.as_ref().map(|(reason, _)| reason.clone()));
        let reasons = counts.or(doubt.shortest());
        let reasons = reasons.or(doubt.in_doubt().into_iter().next());
        let says = match reasons {
            Some(reason) => format!("Wait: {reason}."),
            None => format!(
                "Wait: that the pieces for a good half of the day's work are there is not sure enough ({}).",
                chance_in_words(chance)
            ),
        };
        let mut call = self.told(CallIs::Wait, says, all, chance);
        call.why.extend(why_short(&doubt));
        call.would_change = would_change(&doubt);
        if let Some((_, change)) = part {
            call.would_change.insert(0, change);
        }
        call
    }

    /// A good part of the day's work, as far as what is likely there goes: what a count may turn the answer to.
    fn part(&self, all: &DayWork, memo: &mut Memo) -> Option<(DayWork, HowFar)> {
        let far = memo.how_far(self.site.build, &self.supplies.by(self.day));
        let some = self.site.reach(Some(&far), self.crew);
        let is_part = some.minutes >= WORTH_COMING * all.minutes && some.units != all.units;
        is_part.then_some((some, far))
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
            build: self.site.build,
            supplies: self.supplies,
            likely: self.likely,
            needs,
            chance,
            day: self.day,
        }
    }

    /// Where the crew runs out of work: the last stage that is done whole, and the one after it of which the day sees
    /// some; with what stays open on the way there, but for the bows that are left out.
    fn as_far_as(&self, all: &DayWork, some: &DayWork, left_out: &[usize]) -> AsFar {
        let build = self.site.build;
        let missing = |unit: &usize| {
            let gap = build.units[*unit].gap;
            let behind = self.site.works[build.units[*unit].stage].done;
            let is_left_out = matches!(gap, Gap::Bow(bow) if left_out.contains(&bow));
            !some.units[*unit] && !behind && !is_left_out
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
            return AsFar {
                brief: first.map_or("nothing".into(), |first| {
                    format!("just before {}", name(*first))
                }),
                part: String::new(),
                rest: String::new(),
            };
        };
        let (done, of) = done_of(last);
        let first = build.units_of(last).filter(missing);
        let first = first.map(|unit| build.units[unit].bows[0]).min();
        let is_whole = |stage: &usize| {
            let mut units = build.units_of(*stage);
            done_of(*stage).1 > 0 && !units.any(|unit| missing(&unit))
        };
        let whole = (0..last).rfind(is_whole).map(name);
        let (brief, part) = match first {
            None => (name(last), String::new()),
            Some(bow) => {
                let part = match bow {
                    2.. if short.contains(&last) => format!("as far as bow {}", bow - 1),
                    _ => format!("{done} of {of}"),
                };
                let brief = match whole {
                    Some(whole) => format!("{whole} and part of {}", name(last)),
                    None => format!("part of {}", name(last)),
                };
                (brief, format!("{} {part}", build.stages[last].name))
            }
        };
        let mut open: Vec<String> = (short.iter().filter(|stage| **stage < last))
            .map(|stage| match done_of(*stage) {
                (0, _) => format!("without {}", name(*stage)),
                (done, of) => format!("with {done} of {of} of {}", name(*stage)),
            })
            .collect();
        // Where one shortage runs through stage after stage, the first says it.
        let after = open.len().saturating_sub(1);
        if after >= MOST_OPEN {
            open.truncate(1);
            open[0] += &format!(" and so less of {after} stages after it");
        }
        let mut rest: Vec<String> = Vec::new();
        if !open.is_empty() {
            rest.push(open.join(" and "));
        }
        if let Some(next) = short.iter().find(|stage| **stage > last) {
            rest.push(format!("and stop before {}", name(*next)));
        }
        AsFar {
            brief,
            part,
            rest: rest.join(", "),
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
                "Wait: “{}” takes {} at the least, and {} said to come.",
                self.site.build.stages[stage].name,
                people(i64::try_from(self.site.works[stage].people[0]).unwrap_or(i64::MAX)),
                match self.crew.people {
                    1 => "1 is".into(),
                    n => format!("{n} are"),
                }
            ),
            None => "Wait: nothing can be begun in these hours.".into(),
        }
    }
}

/// Of so many stages that stay open after the first, only their number is said.
const MOST_OPEN: usize = 2;

/// Where the crew runs out of work.
struct AsFar {
    /// "“ridge” and part of “purlins”".
    brief: String,
    /// "purlins as far as bow 6"; may be empty.
    part: String,
    /// "with 25 of 26 of “posts”, and stop before “film”"; may be empty.
    rest: String,
}

impl AsFar {
    fn in_words(&self) -> String {
        let mut says = self.brief.clone();
        for (before, words) in [(": ", &self.part), (", ", &self.rest)] {
            if !words.is_empty() {
                says = format!("{says}{before}{words}");
            }
        }
        says
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
