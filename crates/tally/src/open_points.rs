//! The points of a job: what the difference opens by itself, what people opened, and how far each has come.

use std::collections::BTreeMap;

use crate::difference::MarkDifference;
use crate::fold::State;
use crate::freight::Outcome;
use crate::points::{About, Answer, Point, PointSeen};
use crate::standing::Standing;
use crate::verdict::Verdict;

/// A point of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenPoint {
    /// Which.
    pub point: Point,
    /// What it is, in words that people read.
    pub says: String,
    /// Pieces that it is about, where it is about pieces.
    pub pieces: Option<i64>,
    /// What people said of it.
    pub seen: PointSeen,
    /// How far it has come.
    pub stage: PointStage,
}

/// How far a point has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PointStage {
    /// Nobody answered yet, or not for all of it.
    Open,
    /// What makes it good is on its way.
    Promised,
    /// Answered so that nothing more is to come; a person may close it.
    Answered,
    /// Nothing of it is left to be seen: a later count or an arrival made it good.
    MadeGood,
    /// Closed by a person.
    Closed,
}

impl PointStage {
    /// Whether it is still to be looked after.
    pub fn is_open(self) -> bool {
        matches!(self, Self::Open | Self::Promised | Self::Answered)
    }

    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Promised => "promised",
            Self::Answered => "answered",
            Self::MadeGood => "made good",
            Self::Closed => "closed",
        }
    }
}

impl Standing {
    /// Every point, the open ones first; within these in the order of kind and name.
    pub fn points(&self) -> Vec<OpenPoint> {
        let mut said: BTreeMap<Point, PointSeen> = self.state.affairs.points.clone();
        let mut points: Vec<OpenPoint> = (self.difference.iter())
            .flat_map(|difference| &difference.marks)
            .flat_map(of_mark)
            .chain(of_carrier(&self.state))
            .map(|found| {
                let seen = said.remove(&found.point).unwrap_or_default();
                let stage = stage(&found, &seen);
                OpenPoint {
                    seen,
                    stage,
                    ..found
                }
            })
            .collect();
        // What nothing shows any more, or what people opened themselves.
        points.extend(said.into_iter().map(|(point, seen)| {
            let by_hand = !matches!(
                point.about,
                About::Short | About::Over | About::Unfit | About::List
            );
            let stage = match (&seen.closed, by_hand) {
                (Some(_), _) => PointStage::Closed,
                (None, true) if seen.answers.is_empty() => PointStage::Open,
                (None, true) => PointStage::Answered,
                // A replacement on its way takes a shortage out of the difference.
                (None, false) if self.is_on_its_way(&seen) => PointStage::Promised,
                (None, false) if self.can_be_seen(&point) => PointStage::MadeGood,
                // Its count or its list was taken back: nobody knows.
                (None, false) => PointStage::Open,
            };
            OpenPoint {
                says: says_of(&point),
                pieces: None,
                stage,
                point,
                seen,
            }
        }));
        points.sort_by(|a, b| (!a.stage.is_open(), &a.point).cmp(&(!b.stage.is_open(), &b.point)));
        points
    }

    /// Whether there is anything that would show the point if it were there.
    fn can_be_seen(&self, point: &Point) -> bool {
        let mark = (self.difference.as_ref()).and_then(|difference| difference.mark(&point.of));
        mark.is_some_and(|mark| match point.about {
            About::List => mark.listed.is_some(),
            _ => mark.on_hand.is_counted(),
        })
    }

    fn is_on_its_way(&self, seen: &PointSeen) -> bool {
        let sends = seen
            .standing_answers()
            .iter()
            .filter_map(|seen| match &seen.answer {
                Answer::Sends { shipment, .. } => Some(shipment.as_deref()),
                _ => None,
            });
        sends
            .into_iter()
            .any(|shipment| shipment.is_none_or(|name| !self.state.is_here(name)))
    }
}

/// What a mark's verdicts open. What nobody counted yet opens nothing: it is to be counted.
fn of_mark(mark: &MarkDifference) -> Vec<OpenPoint> {
    let mut points: Vec<OpenPoint> = Vec::new();
    for verdict in &mark.verdicts {
        let (about, pieces) = match verdict {
            Verdict::Short(n) => (About::Short, Some(*n)),
            Verdict::ShortBetween { least, .. } => (About::Short, Some(*least)),
            Verdict::Over(n) => (About::Over, Some(*n)),
            Verdict::Unfit(n) => (About::Unfit, Some(*n)),
            Verdict::ListShort(n) | Verdict::ListOver(n) => (About::List, Some(*n)),
            Verdict::ListUnclear(_) => (About::List, None),
            _ => continue,
        };
        points.push(new(
            Point::of(about, &mark.mark),
            format!("{}: {}", mark.mark, verdict.in_words()),
            pieces,
        ));
    }
    points
}

/// What was handed over otherwise than whole and clear opens a point with the carrier.
fn of_carrier(state: &State) -> Vec<OpenPoint> {
    (state.affairs.deliveries.values())
        .filter_map(|delivery| {
            let billed = (state.affairs.freight.get(&delivery.shipment)).and_then(|f| f.units);
            let missing = match (billed, delivery.units) {
                (Some(billed), Some(taken)) if billed > taken => Some(billed - taken),
                _ => None,
            };
            let clear = matches!(delivery.outcome, Outcome::SignedClear);
            if clear && missing.is_none() && delivery.receipt_note.is_empty() {
                return None;
            }
            let missing = match missing {
                Some(1) => ", 1 handling unit not delivered".into(),
                Some(n) => format!(", {n} handling units not delivered"),
                None => String::new(),
            };
            Some(new(
                Point::of(About::Carrier, &delivery.shipment),
                format!(
                    "{}: {}{missing}",
                    delivery.shipment,
                    delivery.outcome.in_words()
                ),
                None,
            ))
        })
        .collect()
}

fn new(point: Point, says: String, pieces: Option<i64>) -> OpenPoint {
    OpenPoint {
        point,
        says,
        pieces,
        seen: PointSeen::default(),
        stage: PointStage::Open,
    }
}

/// How far a point has come that the difference still shows.
fn stage(found: &OpenPoint, seen: &PointSeen) -> PointStage {
    if let Some(closed) = &seen.closed {
        let grew = (found.pieces.zip(closed.pieces)).is_some_and(|(now, then)| now > then);
        return match grew {
            true => PointStage::Open,
            false => PointStage::Closed,
        };
    }
    let (mut sent, mut settled, mut ends) = (0_i64, 0_i64, false);
    for answer in seen.standing_answers() {
        match &answer.answer {
            // What was refused and is sent all the same is waited for.
            Answer::Sends { quantity, .. } => {
                sent = sent.saturating_add(*quantity);
                ends = false;
            }
            Answer::Credits { quantity, .. } => settled = settled.saturating_add(*quantity),
            Answer::Refuses | Answer::Keep | Answer::Return => ends = true,
            Answer::Asks | Answer::Other => {}
        }
    }
    match found.pieces {
        _ if ends => PointStage::Answered,
        Some(pieces) if settled >= pieces => PointStage::Answered,
        // A shortage that is still shown is what was not promised.
        Some(_) if found.point.about == About::Short => PointStage::Open,
        Some(pieces) if sent > 0 && sent + settled >= pieces => PointStage::Promised,
        _ => PointStage::Open,
    }
}

fn says_of(point: &Point) -> String {
    match point.about {
        About::Short => format!("{}: was short", point.of),
        About::Over => format!("{}: was over", point.of),
        About::Unfit => format!("{}: was not fit for use", point.of),
        About::List => format!("{}: the list was wrong", point.of),
        About::Carrier => format!("{}: with the carrier", point.of),
        About::Other | About::Unknown => point.of.clone(),
    }
}
