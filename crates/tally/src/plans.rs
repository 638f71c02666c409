//! What people plan: days with a crew, where things lie, ways round what is short, and what of the build is done.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::event::{Event, EventId, What};
use crate::ground::{Ground, PileSpot, StakesRead};
use crate::rules::{self, MAX_QUANTITY, MAX_WORDS, Refusal, range, within};
use crate::shipment::Spellings;

/// A day on which a crew could build. The last word on a day stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct CrewDay {
    /// The day (`YYYY-MM-DD`).
    pub day: String,
    /// How many people; 0 takes the day back.
    pub people: i64,
    /// How long each works, in minutes.
    pub minutes: i64,
    /// Whether they were told to come.
    pub called: bool,
    /// In the person's words; may be empty.
    pub words: String,
}

/// Between which days a shipment will come, as sender or carrier say. The last word stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Expected {
    /// The shipment.
    pub shipment: String,
    /// Not before this day (`YYYY-MM-DD`), where known.
    pub earliest: Option<String>,
    /// Not after this day, where known.
    pub latest: Option<String>,
    /// Who said so; may be empty.
    pub words: String,
}

/// How a way round a shortage stands. The last word on a mark and way stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct WaySaid {
    /// The mark that is short.
    pub mark: String,
    /// The way, by the key that `ready` gives it.
    pub way: String,
    /// Pieces that it makes good.
    pub quantity: i64,
    /// How it stands.
    pub stands: WayStands,
    /// Who said so, or on what terms; may be empty.
    pub words: String,
}

/// What was said of a way round a shortage, and since when it stands so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WaySeen {
    /// The last word.
    pub said: WaySaid,
    /// When it was first said to stand so, in milliseconds since 1970, by the clock of the device.
    pub at: i64,
}

/// How a way round a shortage stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WayStands {
    /// We mean to go it.
    Meant,
    /// The sender was asked.
    Asked,
    /// The sender allows it.
    Allowed,
    /// The sender refuses it.
    Refused,
    /// It was not gone after all.
    Dropped,
    /// What a newer build knows.
    #[serde(other)]
    Other,
}

/// Work on a stage of the build. What was worked adds up; the last word says whether it is done.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Worked {
    /// The stage, by its name in the family.
    pub stage: String,
    /// Minutes of all who worked together, where said.
    pub person_minutes: Option<i64>,
    /// Whether the stage is done.
    pub done: bool,
}

/// Tools that are here. The last word on a tool stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ToolsSeen {
    /// The tool, as the list of tools calls it.
    pub tool: String,
    /// How many.
    pub quantity: i64,
}

/// What was worked on a stage.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WorkSeen {
    /// Minutes of all together.
    pub person_minutes: i64,
    /// Whether the minutes of all the work were said.
    pub whole: bool,
    /// Whether it is done.
    pub done: bool,
    /// The event that spoke of it last.
    pub event: Option<EventId>,
}

/// What stands of plans.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plans {
    /// The ground.
    pub ground: Option<Ground>,
    /// Piles that a person put somewhere, by their names.
    pub spots: BTreeMap<String, PileSpot>,
    /// What was measured of the corner stakes.
    pub stakes: Option<StakesRead>,
    /// Days with a crew.
    pub days: BTreeMap<String, CrewDay>,
    /// Between which days shipments will come, by shipment as first spelled.
    pub expected: BTreeMap<String, Expected>,
    /// Ways round shortages, by mark and way.
    pub ways: BTreeMap<(String, String), WaySeen>,
    /// What was worked, by stage.
    pub worked: BTreeMap<String, WorkSeen>,
    /// Tools that are here.
    pub tools: BTreeMap<String, i64>,
}

impl Plans {
    /// Takes in what an event says of these; leaves every other event alone.
    pub(crate) fn evolve(&mut self, event: &Event, spellings: &mut Spellings) {
        match &event.what {
            What::GroundSet(ground) => self.ground = Some(ground.clone()),
            What::PilePut(spot) => {
                match spot.at {
                    Some(_) => self.spots.insert(spot.pile.clone(), spot.clone()),
                    None => self.spots.remove(&spot.pile),
                };
            }
            What::StakesRead(read) => self.stakes = Some(read.clone()),
            What::CrewDay(day) => {
                match day.people {
                    0 => self.days.remove(&day.day),
                    _ => self.days.insert(day.day.clone(), day.clone()),
                };
            }
            What::Expected(expected) => {
                let shipment = spellings.of(&expected.shipment);
                let expected = Expected {
                    shipment: shipment.clone(),
                    ..expected.clone()
                };
                self.expected.insert(shipment, expected);
            }
            What::WaySaid(way) => {
                let of = (way.mark.clone(), way.way.clone());
                let before = self
                    .ways
                    .get(&of)
                    .filter(|seen| seen.said.stands == way.stands);
                let at = before.map_or(event.at, |seen| seen.at.min(event.at));
                let said = way.clone();
                self.ways.insert(of, WaySeen { said, at });
            }
            What::Worked(worked) => {
                let new = !self.worked.contains_key(&worked.stage);
                let seen = self.worked.entry(worked.stage.clone()).or_default();
                seen.whole = (new || seen.whole) && worked.person_minutes.is_some();
                let minutes = worked.person_minutes.unwrap_or(0);
                seen.person_minutes = seen.person_minutes.saturating_add(minutes);
                seen.done = worked.done;
                seen.event = Some(event.id);
            }
            What::ToolsSeen(tools) => {
                self.tools.insert(tools.tool.clone(), tools.quantity);
            }
            _ => {}
        }
    }
}

/// The most people of a crew.
const MOST_PEOPLE: i64 = 1_000;
/// The most minutes that one person works in a day.
const MOST_MINUTES: i64 = 24 * 60;
/// The most minutes of work in one event.
const MOST_WORK: i64 = 10_000_000;

impl CrewDay {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::day("day", &self.day)?;
        range("people", self.people.into(), 0, MOST_PEOPLE.into())?;
        range("minutes", self.minutes.into(), 0, MOST_MINUTES.into())?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl Expected {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("shipment", &self.shipment)?;
        rules::optional_day("earliest", self.earliest.as_deref())?;
        rules::optional_day("latest", self.latest.as_deref())?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl WaySaid {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("mark", &self.mark)?;
        rules::name("way", &self.way)?;
        range("quantity", self.quantity.into(), 0, MAX_QUANTITY.into())?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl Worked {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("stage", &self.stage)?;
        let minutes = self.person_minutes.unwrap_or(0);
        range("person_minutes", minutes.into(), 0, MOST_WORK.into())
    }
}

impl ToolsSeen {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("tool", &self.tool)?;
        range("quantity", self.quantity.into(), 0, MAX_QUANTITY.into())
    }
}
