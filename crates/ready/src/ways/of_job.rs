//! What would help a job: for the day that its answer is for, and the stages that the crew reaches on it.

use jiff::civil::Date;
use tally::Standing;

use super::{Help, Situation, Stock, what_helps};
use crate::day_reach::day_reach;
use crate::days::DayOutlook;
use crate::readiness::Readiness;

/// What would help a job as it stands; nothing without an order that can be used.
///
/// Asked for are the stages that the crew of the called day (else of the earliest planned one) begins at its quick pace, if
/// it had all parts. Without such a day, or where no hours are known, the whole build is asked for.
pub fn what_would_help(
    standing: &Standing,
    readiness: &Readiness,
    stock: &Stock,
    today: Date,
) -> Option<Help> {
    let day = readiness.day(today).filter(|day| day.planned || day.called);
    let stages = day.map_or_else(Vec::new, |day| stages_begun(readiness, day));
    let mut help = what_helps(&Situation {
        ordered: standing.ordered()?,
        state: &standing.state,
        build: &readiness.build,
        supplies: &readiness.supplies,
        stages: &stages,
        stock,
        today,
        day: day.map(|day| day.day),
    });
    if readiness.supplies.nothing_known() {
        // Everything may be there: it is counted before anything is bought or asked for.
        help.plan = None;
        help.runner_up = None;
        help.stuck.clear();
        help.questions.clear();
    }
    Some(help)
}

/// The stages that are begun by that evening, those that were done before with them.
fn stages_begun(readiness: &Readiness, day: &DayOutlook) -> Vec<usize> {
    let people = usize::try_from(day.people).unwrap_or(0);
    let minutes = day.minutes.max(0) as f64;
    let reach = day_reach(&readiness.build, &readiness.works, None, people, minutes);
    (reach.stages.iter())
        .filter(|of| !of.nothing && of.quick.share > 0.0)
        .map(|of| of.stage)
        .collect()
}
