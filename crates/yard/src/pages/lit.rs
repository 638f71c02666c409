//! The house as a picture with something lit: a stage, what can be built, or what cannot yet.

use std::collections::BTreeSet;

use axum::extract::{Query, State};
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;
use frame::{Lit, View};
use ready::{HowFar, Readiness};
use serde::Deserialize;
use tally::Digest;

use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// What of the build is lit.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Shows {
    /// What can be built.
    #[default]
    Can,
    /// What cannot yet.
    Cannot,
}

#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Asked {
    stage: String,
    shows: Option<Shows>,
}

/// The pieces of the frame that can be built, or that cannot.
pub(crate) fn pieces(readiness: &Readiness, far: &HowFar, shows: Shows) -> BTreeSet<usize> {
    let wanted = shows == Shows::Can;
    (readiness.build.units.iter().zip(&far.done))
        .filter(|(_, done)| **done == wanted)
        .flat_map(|(unit, _)| unit.pieces.iter().copied())
        .collect()
}

/// Where that picture is found. The address changes with what is lit, so that a page that is brought up to date shows
/// the new one.
pub(crate) fn address_of(readiness: &Readiness, far: &HowFar, shows: Shows) -> String {
    let lit = format!("{:?}", pieces(readiness, far, shows));
    let name = match shows {
        Shows::Can => "can",
        Shows::Cannot => "cannot",
    };
    let of = Digest::of(lit.as_bytes()).to_string();
    format!("/lit?shows={name}&of={}", &of[..12])
}

pub(crate) async fn drawing(State(yard): State<Yard>, Query(asked): Query<Asked>) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let none = || Failure::new(StatusCode::NOT_FOUND, "There is no such drawing.");
    let frame = &standing.ordered().ok_or_else(none)?.frame;
    let draw = |lit: Lit<'_>| {
        tokio::task::block_in_place(|| frame::isometric_lit(frame, View::ALL[0], lit))
    };
    let svg = match asked.shows {
        Some(shows) => {
            let outlook = yard.outlook(&standing);
            let readiness = outlook.readiness.as_ref().ok_or_else(none)?;
            let far = readiness.far(outlook.today);
            draw(Lit::Pieces(&pieces(readiness, far, shows)))
        }
        None if frame.stages.contains(&asked.stage) => draw(Lit::Stage(&asked.stage)),
        None => return Err(none()),
    };
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response())
}
