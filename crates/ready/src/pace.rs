//! How a crew's own record changes what the stages are said to take.
//!
//! A stage that is done, with all its minutes said, takes what it took. Those minutes against the middle of our range are
//! the crew's pace; the other stages take the middle of theirs times that pace, and the more stages were recorded the
//! narrower it is: with n of them the range is as wide as its (1 + n)th root in proportion. The middle is the one between
//! the ends in proportion, as a crew is so many times as quick.

use tally::Plans;

use crate::work::{PaceRests, StageWork};

/// A crew is not believed to be more than so many times as quick or slow as the middle of our range.
const MOST_PACE: f64 = 4.0;

/// Takes in what the crew recorded.
pub(crate) fn go_by_what_was_recorded(works: &mut [StageWork], plans: &Plans) {
    let recorded = |work: &StageWork| -> Option<f64> {
        let seen = plans.worked.get(&work.name)?;
        (seen.done && seen.whole && seen.person_minutes > 0).then_some(seen.person_minutes as f64)
    };
    let (mut stages, mut took, mut said) = (0, 0.0, 0.0);
    for work in works.iter() {
        if let (Some(minutes), Some(middle)) = (recorded(work), middle(work)) {
            stages += 1;
            took += minutes;
            said += middle;
        }
    }
    let pace = (stages > 0).then(|| (took / said).clamp(1.0 / MOST_PACE, MOST_PACE));
    for work in works {
        match (recorded(work), pace, middle(work), work.person_minutes) {
            (Some(minutes), ..) => {
                work.person_minutes = Some([minutes; 2]);
                work.rests = PaceRests::Recorded;
            }
            (None, Some(pace), Some(middle), Some([quick, slow])) => {
                let apart = (slow / quick).powf(0.5 / f64::from(1 + stages));
                work.person_minutes = Some([middle * pace / apart, middle * pace * apart]);
                work.rests = PaceRests::CrewsPace;
            }
            _ => {}
        }
    }
}

/// The middle of a stage's range, in proportion; nothing of what is not known or takes no time.
fn middle(work: &StageWork) -> Option<f64> {
    let [quick, slow] = work.person_minutes?;
    (quick > 0.0).then(|| (quick * slow).sqrt())
}
