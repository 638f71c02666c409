//! The ground as people measured it, and piles that they put somewhere.

use axum::extract::State;
use axum::{Extension, Form};
use measure::System;
use serde::Deserialize;
use tally::{EventId, Ground, HouseSpot, Patch, PileSpot, Spot, What};

use super::{append, filled, refused};
use crate::access::Holder;
use crate::ground_text::{self, AISLE, REACH, TRUCK_BED, millimetres};
use crate::reply::{Failure, Reply, see};
use crate::serve::Yard;

/// The ground by its text, or, where that is empty, by the measures of a rectangle.
#[derive(Deserialize)]
pub(crate) struct Said {
    id: EventId,
    #[serde(default)]
    text: String,
    #[serde(flatten)]
    rectangle: Rectangle,
}

/// Every length from the left and the front edge of the ground, as somebody sees it who stands before it.
#[derive(Deserialize, Default)]
#[serde(default)]
pub(crate) struct Rectangle {
    across: String,
    deep: String,
    house_left: String,
    house_front: String,
    /// "back" or "right".
    house_runs: String,
    drop_left: String,
    drop_front: String,
    gate_left: String,
    gate_wide: String,
    truck_left: String,
    truck_front: String,
    truck_wide: String,
    truck_deep: String,
    covered_left: String,
    covered_front: String,
    covered_wide: String,
    covered_deep: String,
    covered_words: String,
    aisle: String,
    truck_bed: String,
    reach: String,
}

pub(crate) async fn set(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Said>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let frame = standing.ordered().map(|ordered| &ordered.frame);
    let system = frame.map_or(System::FeetInch, |frame| frame.system);
    let not_read = |why: String| Failure::refused(format!("The ground was not read. {why}."));
    let ground = match filled(&form.text) {
        Some(text) => ground_text::read(text, system).map_err(not_read)?,
        None => {
            let frame = frame.ok_or_else(|| {
                Failure::refused("A ground is for a house. Say what was bought first.")
            })?;
            let width = (frame.width.to_metres() * 1_000.0).round() as i64;
            form.rectangle.ground(width, system).map_err(not_read)?
        }
    };
    let what = tally::say(What::GroundSet(ground.clone())).map_err(refused)?;
    if let Some(frame) = frame {
        ready::ground::Site::of(&ground, frame)
            .map_err(|trouble| Failure::refused(format!("{}.", capital(&trouble.to_string()))))?;
    }
    append(&yard, holder, form.id, what)?;
    Ok(see("/laydown"))
}

fn capital(words: &str) -> String {
    frame::capitalised(words)
}

impl Rectangle {
    /// The ground; `width` is the house's, in millimetres.
    fn ground(&self, width: i64, system: System) -> Result<Ground, String> {
        let length = |what: &str, text: &str| match filled(text) {
            Some(text) => millimetres(what, text, system),
            None => Err(format!("{what} was left empty")),
        };
        let or = |what: &str, text: &str, else_: i64| match filled(text) {
            Some(text) => millimetres(what, text, system),
            None => Ok(else_),
        };
        let across = length("How wide the ground is", &self.across)?;
        let deep = length("How deep the ground is", &self.deep)?;
        let left = length("The house from the left", &self.house_left)?;
        let front = length("The house from the front", &self.house_front)?;
        // The corner nearest to the left and the front is given; the house is known by the middle of its front.
        let house = match self.house_runs.as_str() {
            "right" => HouseSpot {
                front: Spot {
                    x: left,
                    y: front + width / 2,
                },
                towards: 0,
            },
            _ => HouseSpot {
                front: Spot {
                    x: left + width / 2,
                    y: front,
                },
                towards: 9_000,
            },
        };
        let gates = match filled(&self.gate_wide) {
            None => Vec::new(),
            Some(wide) => {
                let from = or("The gate from the left", &self.gate_left, 0)?;
                let to = from + millimetres("How wide the gate is", wide, system)?;
                vec![[Spot { x: from, y: 0 }, Spot { x: to, y: 0 }]]
            }
        };
        let patch = |name: &str, [left, front, wide, deep]: [&str; 4], words: &str| {
            let (Some(wide), Some(deep)) = (filled(wide), filled(deep)) else {
                return Ok::<_, String>(Vec::new());
            };
            let x = or(&format!("{name} from the left"), left, 0)?;
            let y = or(&format!("{name} from the front"), front, 0)?;
            let to_x = x + millimetres(&format!("How wide {name} is"), wide, system)?;
            let to_y = y + millimetres(&format!("How deep {name} is"), deep, system)?;
            Ok(vec![Patch {
                outline: rectangle(x, y, to_x, to_y),
                words: words.trim().to_owned(),
            }])
        };
        Ok(Ground {
            outline: rectangle(0, 0, across, deep),
            house,
            drop: Spot {
                x: length("The drop from the left", &self.drop_left)?,
                y: length("The drop from the front", &self.drop_front)?,
            },
            gates,
            truck: patch(
                "the truck's area",
                [
                    &self.truck_left,
                    &self.truck_front,
                    &self.truck_wide,
                    &self.truck_deep,
                ],
                "",
            )?,
            obstacles: Vec::new(),
            covered: patch(
                "the covered place",
                [
                    &self.covered_left,
                    &self.covered_front,
                    &self.covered_wide,
                    &self.covered_deep,
                ],
                &self.covered_words,
            )?,
            shade: Vec::new(),
            slopes: Vec::new(),
            aisle: or("The way between piles", &self.aisle, AISLE)?,
            truck_bed: or("The truck's bed", &self.truck_bed, TRUCK_BED)?,
            reach: or("The reach", &self.reach, REACH)?,
        })
    }
}

fn rectangle(x: i64, y: i64, to_x: i64, to_y: i64) -> Vec<Spot> {
    [(x, y), (to_x, y), (to_x, to_y), (x, to_y)]
        .map(|(x, y)| Spot { x, y })
        .to_vec()
}

/// A pile that somebody puts somewhere, in whole millimetres and hundredths of a degree; without a place the plan chooses.
#[derive(Deserialize)]
pub(crate) struct Put {
    id: EventId,
    pile: String,
    #[serde(default)]
    x: Option<i64>,
    #[serde(default)]
    y: Option<i64>,
    #[serde(default)]
    turn: Option<i64>,
}

pub(crate) async fn put(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Form(form): Form<Put>,
) -> Reply {
    let spot = PileSpot {
        pile: form.pile.trim().to_owned(),
        at: form.x.zip(form.y).map(|(x, y)| Spot { x, y }),
        turn: form.turn.unwrap_or(0),
    };
    let what = tally::say(What::PilePut(spot)).map_err(refused)?;
    append(&yard, holder, form.id, what)?;
    Ok(see("/laydown"))
}
