//! Can the build start, and how far will it get: all together.

use jiff::civil::Date;
use tally::Standing;

use crate::build::Build;
use crate::call::Call;
use crate::chance::StageNeeds;
use crate::day_work::Site;
use crate::days::{DayOutlook, candidates, outlook};
use crate::how_far::HowFar;
use crate::memo::Memo;
use crate::of_standing::supplies;
use crate::supply::Supplies;
use crate::work::{StageWork, works};

/// Whether the build can start, how far it gets, on which day, and what that rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Readiness {
    /// The build.
    pub build: Build,
    /// What there is.
    pub supplies: Supplies,
    /// What each stage takes.
    pub works: Vec<StageWork>,
    /// How far the build gets with what is most likely here now.
    pub here: HowFar,
    /// How far it gets with only what somebody counted.
    pub counted: HowFar,
    /// Days on which a crew could build, the earliest first. Never empty.
    pub days: Vec<DayOutlook>,
    /// The answer: for the day that a crew was called for, else for the earliest that was planned, else for today.
    pub call: Option<Call>,
}

impl Readiness {
    /// Works it out as a job stands; nothing without an order that can be used.
    pub fn of(standing: &Standing, today: Date) -> Option<Self> {
        let ordered = standing.ordered()?;
        let supplies = supplies(standing, today)?;
        let build = Build::of(&ordered.frame, &ordered.parts);
        let plans = &standing.state.plans;
        let works = works(&build, &ordered.frame, &ordered.parts, plans);
        let needs = StageNeeds::all(&build);
        let whole = build.needs();
        let mut memo = Memo::of(whole.clone());
        let here = memo.how_far(&build, &supplies.here());
        let counted = memo.how_far(&build, &supplies.counted());
        let site = Site {
            build: &build,
            works: &works,
            needs: &needs,
            whole: &whole,
        };
        let days: Vec<DayOutlook> = (candidates(&standing.state, &supplies, today).into_iter())
            .map(|candidate| outlook(candidate, &site, &supplies, today, &mut memo))
            .collect();
        let call = answered_for(&days, today).map(|day| day.call.clone());
        Some(Self {
            build,
            supplies,
            works,
            here,
            counted,
            days,
            call,
        })
    }

    /// The day that a crew was called for, else the earliest that was planned; nothing where no day was.
    pub fn planned(&self) -> Option<&DayOutlook> {
        planned(&self.days)
    }

    /// The day that [`Readiness::call`] is for.
    pub fn day(&self, today: Date) -> Option<&DayOutlook> {
        answered_for(&self.days, today)
    }

    /// How far the build gets, as all who show it beside the answer say it ([`DayOutlook::counts_on`]).
    pub fn far(&self, today: Date) -> &HowFar {
        self.day(today).map_or(&self.here, DayOutlook::counts_on)
    }
}

/// The day that a crew was called for, else the earliest that was planned, else today.
fn answered_for(days: &[DayOutlook], today: Date) -> Option<&DayOutlook> {
    planned(days).or_else(|| days.iter().find(|day| day.day == today))
}

fn planned(days: &[DayOutlook]) -> Option<&DayOutlook> {
    (days.iter().find(|day| day.called)).or_else(|| days.iter().find(|day| day.planned))
}
