//! Whether something can be built, asked of the build itself.

use crate::build::{Build, Gap};

/// Whether there are pieces for all that is done, and each done unit comes after what it follows, or spans a bow that is
/// left out between two that stand.
pub(super) fn can_be(build: &Build, there: &[i64], done: &[bool], left_out: &[usize]) -> bool {
    let enough = (build.used(done).iter().zip(there)).all(|(used, there)| used <= there);
    let is_left_out = |unit: usize| match build.units[unit].gap {
        Gap::Bow(bow) => left_out.contains(&bow),
        _ => false,
    };
    let in_order = build
        .units
        .iter()
        .zip(done)
        .filter(|(_, done)| **done)
        .all(|(unit, _)| {
            let mut open = unit.after.clone();
            while let Some(before) = open.pop() {
                if done[before] {
                    continue;
                }
                if unit.gap != Gap::Spans || !is_left_out(before) {
                    return false;
                }
                open.extend(&build.units[before].after);
            }
            true
        });
    enough && in_order && left_out.iter().all(|bow| build.may_leave.contains(bow))
}

/// What is done when each unit in turn takes what it needs: it can be built, though more might be.
pub(super) fn first_come(build: &Build, there: &[i64]) -> Vec<bool> {
    let mut done = vec![false; build.units.len()];
    for (index, unit) in build.units.iter().enumerate() {
        if unit.after.iter().all(|before| done[*before]) {
            done[index] = true;
            done[index] = (build.used(&done).iter().zip(there)).all(|(used, there)| used <= there);
        }
    }
    done
}
