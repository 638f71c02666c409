//! Spares that did not come are no shortage: the house is built without them. What is called short is what the order
//! needs, and the spares are said apart.

use std::collections::BTreeMap;

use crate::explain::Story;
use crate::explain::cause::{Cause, CauseKind};
use crate::explain::facts::Facts;
use crate::explain::numbers::{Number, promise};

/// Of each mark, by how many pieces what should have come is more than what is needed.
pub(crate) fn of(facts: &Facts) -> BTreeMap<String, i64> {
    let needs = facts.ordered.needs().iter().enumerate();
    let each = needs.filter_map(|(place, needs)| {
        let mark = facts.mark(place);
        let promise = promise(mark, needs[0], &facts.standing.state);
        let number = Number::counted(mark, &promise, *needs)?;
        (number.spares > 0).then(|| (mark.mark.clone(), number.spares))
    });
    each.collect()
}

/// Says of what a story calls short how much of it is spares.
pub(crate) fn apart(story: &mut Story, spares: &BTreeMap<String, i64>) {
    let is_fewer =
        |cause: &Cause, mark: &str| cause.kind == CauseKind::FewerSpares && cause.mark == mark;
    for (mark, most) in spares {
        let is_short = |cause: &Cause| cause.kind == CauseKind::Short && cause.mark == *mark;
        if !story.causes.iter().any(is_short) {
            continue;
        }
        let asked = |cause: &Cause| is_short(cause) || is_fewer(cause, mark);
        let all = story.causes.iter().filter(|cause| asked(cause));
        let all: i64 = all.map(|cause| cause.quantity).sum();
        story.causes.retain(|cause| !asked(cause));
        story.causes.push(match all - most {
            ..=0 => Cause::of(CauseKind::FewerSpares, mark, all),
            short => Cause {
                spares: *most,
                ..Cause::of(CauseKind::Short, mark, short)
            },
        });
        story.causes.sort();
    }
}

/// Takes off what a cause says of spares.
pub(crate) fn said(cause: &Cause, spares: &mut BTreeMap<String, i64>) {
    if let Some(left) = spares.get_mut(&cause.mark) {
        *left -= match cause.kind {
            CauseKind::Short => cause.spares,
            CauseKind::FewerSpares => cause.quantity,
            _ => 0,
        };
        *left = (*left).max(0);
    }
}
