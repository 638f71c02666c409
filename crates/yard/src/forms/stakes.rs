//! What was measured between the corner stakes.

use axum::extract::State;
use axum::{Extension, Form};
use measure::System;
use ready::corners::{CORNERS, PAIRS};
use serde::Deserialize;
use tally::{EventId, StakeReading, StakesRead, What};

use super::{append, refused};
use crate::access::Holder;
use crate::address;
use crate::pages::stakes_asked::{Asked, length};
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

/// The six lengths in the order of [`PAIRS`], and by how much the ground rises along each.
#[derive(Deserialize)]
pub(crate) struct Stakes {
    id: EventId,
    #[serde(default)]
    l0: String,
    #[serde(default)]
    l1: String,
    #[serde(default)]
    l2: String,
    #[serde(default)]
    l3: String,
    #[serde(default)]
    l4: String,
    #[serde(default)]
    l5: String,
    #[serde(default)]
    r0: String,
    #[serde(default)]
    r1: String,
    #[serde(default)]
    r2: String,
    #[serde(default)]
    r3: String,
    #[serde(default)]
    r4: String,
    #[serde(default)]
    r5: String,
    #[serde(flatten)]
    asked: Asked,
}

/// Keeps the readings; what was read before is no longer told.
pub(crate) async fn keep(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Stakes>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let system = (standing.ordered()).map_or(System::FeetInch, |ordered| ordered.frame.system);
    let typed = [
        (&form.l0, &form.r0),
        (&form.l1, &form.r1),
        (&form.l2, &form.r2),
        (&form.l3, &form.r3),
        (&form.l4, &form.r4),
        (&form.l5, &form.r5),
    ];
    let mut readings = Vec::new();
    for ([from, to], (read, rise)) in PAIRS.into_iter().zip(typed) {
        let [from, to] = [from, to].map(|corner| CORNERS[corner]);
        let what = format!("From {} to {}", from.in_words(), to.in_words());
        let Some(read) = length(&what, read, system)? else {
            continue;
        };
        // No two corners of a house are nearer than an arm's length.
        if read.to_metres() < 0.5 {
            return Err(Failure::refused(format!(
                "{what}: {} is no length between two corners of a house.",
                read.tape(system)
            )));
        }
        let rise = length(&format!("{what}, the rise"), rise, system)?;
        readings.push(StakeReading {
            from,
            to,
            length: read.as_nanometres(),
            rise: rise.map(measure::Length::as_nanometres),
        });
    }
    if readings.is_empty() {
        return Err(Failure::refused(
            "Nothing was measured yet. Write at least five lengths between the stakes, better all six.",
        ));
    }
    let what = tally::say(What::StakesRead(StakesRead { readings })).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see(&address::stakes(&form.asked.fields())))
}
