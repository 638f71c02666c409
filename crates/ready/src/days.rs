//! Days on which a crew could build, each with how far the build gets, how likely, and the answer for it.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, Weekday};
use tally::{CrewDay, State};

use crate::assumed::{MOST_CREW_DAYS, MOST_OTHER_DAYS};
use crate::call::{Asked, Call};
use crate::chance::{StageChance, chances};
use crate::coming::read_day;
use crate::day_work::{Crew, Site};
use crate::how_far::HowFar;
use crate::likely::Likely;
use crate::memo::Memo;
use crate::supply::Supplies;

/// A day on which a crew could build.
#[derive(Clone, Debug, PartialEq)]
pub struct DayOutlook {
    /// The day.
    pub day: Date,
    /// People, as planned, or as on the next day that was planned.
    pub people: i64,
    /// Minutes that each works.
    pub minutes: i64,
    /// Whether a person planned a crew for it.
    pub planned: bool,
    /// Whether they were told to come.
    pub called: bool,
    /// How far the build gets with what is more likely than not there.
    pub far: HowFar,
    /// How likely each stage of the build has its pieces.
    pub chances: Vec<StageChance>,
    /// The answer for it.
    pub call: Call,
}

impl DayOutlook {
    /// How far the build gets with the pieces that the answer counts on, else with what is likeliest there. The answer may
    /// count on fewer and leave out other bows; whoever shows both shows the same bows.
    pub fn counts_on(&self) -> &HowFar {
        self.call.far.as_ref().unwrap_or(&self.far)
    }
}

/// A crew where nobody planned one: ours, so that a day without a crew can be answered for.
const SOME_CREW: Crew = Crew {
    people: 4,
    minutes: 8 * 60,
};

/// A day that is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Candidate {
    pub day: Date,
    pub crew: Crew,
    pub planned: bool,
    pub called: bool,
}

/// The days that are looked at: those with a crew, today, the days on which something may first be counted on, and the
/// next two Saturdays.
pub(crate) fn candidates(state: &State, supplies: &Supplies, today: Date) -> Vec<Candidate> {
    let planned: BTreeMap<Date, &CrewDay> = (state.plans.days.values())
        .filter_map(|day| Some((read_day(&day.day)?, day)))
        .filter(|(day, _)| *day >= today)
        .take(MOST_CREW_DAYS)
        .collect();
    let crew = |day: &CrewDay| Crew {
        people: day.people,
        minutes: day.minutes,
    };
    let mut days: Vec<Candidate> = (planned.iter())
        .map(|(day, planned)| Candidate {
            day: *day,
            crew: crew(planned),
            planned: true,
            called: planned.called,
        })
        .collect();
    let mut others: BTreeSet<Date> = supplies.coming.iter().filter_map(counted_on).collect();
    others.retain(|day| *day > today);
    let others = others.into_iter().take(MOST_OTHER_DAYS);
    let others: BTreeSet<Date> = (others.chain(saturdays(today)))
        .chain([today])
        .filter(|day| !planned.contains_key(day))
        .collect();
    days.extend(others.into_iter().map(|day| {
        let next = planned.range(day..).next().or(planned.iter().next_back());
        Candidate {
            day,
            crew: next.map_or(SOME_CREW, |(_, planned)| crew(planned)),
            planned: false,
            called: false,
        }
    }));
    days.sort_by_key(|candidate| candidate.day);
    days
}

/// The first morning on which something is more likely here than not.
fn counted_on(coming: &crate::supply::Coming) -> Option<Date> {
    let first = coming.here_by.iter().find(|(_, chance)| *chance > 0.5);
    first.map(|(day, _)| *day).filter(|day| *day > Date::MIN)
}

/// The next two Saturdays after a day: ours, the days on which people have time.
fn saturdays(today: Date) -> impl Iterator<Item = Date> {
    let days = std::iter::successors(today.tomorrow().ok(), |day| day.tomorrow().ok());
    days.filter(|day| day.weekday() == Weekday::Saturday)
        .take(2)
}

/// What is to be said of a day.
pub(crate) fn outlook(
    candidate: Candidate,
    site: &Site,
    supplies: &Supplies,
    today: Date,
    memo: &mut Memo,
) -> DayOutlook {
    let likely = Likely::by(supplies, candidate.day, &[]);
    let asked = Asked {
        site,
        supplies,
        likely: &likely,
        crew: candidate.crew,
        day: candidate.day,
        today,
    };
    let call = asked.call(memo);
    let behind = |stage: usize| site.works.get(stage).is_some_and(|work| work.done);
    let mut chances = chances(site.needs, &likely);
    for (stage, chance) in chances.iter_mut().enumerate() {
        if behind(stage) {
            *chance = StageChance {
                start: 1.0,
                complete: 1.0,
            };
        }
    }
    DayOutlook {
        day: candidate.day,
        people: candidate.crew.people,
        minutes: candidate.crew.minutes,
        planned: candidate.planned,
        called: candidate.called,
        far: memo.how_far(site.build, &supplies.by(candidate.day)),
        chances,
        call,
    }
}
