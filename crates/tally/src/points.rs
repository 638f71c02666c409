//! Open points: what is still to be made good or answered, who sees to it, and when next; and the sender's answers.

use serde::{Deserialize, Serialize};

use crate::event::EventId;
use crate::money::Money;
use crate::rules::{self, MAX_QUANTITY, MAX_WORDS, Refusal, range, within};

/// What a point is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum About {
    /// Too few of a mark.
    Short,
    /// Too many of a mark.
    Over,
    /// Pieces of a mark that cannot be built with.
    Unfit,
    /// What the list says of a mark is wrong.
    List,
    /// The carrier and a shipment.
    Carrier,
    /// Anything else, in a person's words.
    Other,
    /// What a newer build knows.
    #[serde(other)]
    Unknown,
}

/// Which point: what it is about, and the mark, shipment or words it is about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Point {
    /// What it is about.
    pub about: About,
    /// The mark, the shipment, or the words.
    pub of: String,
}

/// A person sees to a point. The last word stands; it opens a point that nothing else opens.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PointKept {
    /// The point.
    pub point: Point,
    /// Who sees to it; may be empty.
    pub owner: String,
    /// The day on which it is looked at next (`YYYY-MM-DD`).
    pub next: Option<String>,
    /// What is to be done; may be empty.
    pub words: String,
}

/// What the sender or the carrier answered to a point. Answers add up.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Answered {
    /// The point.
    pub point: Point,
    /// The answer.
    pub answer: Answer,
    /// In their words, or who said so; may be empty.
    pub words: String,
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "is")]
pub enum Answer {
    /// They send so many pieces.
    Sends {
        /// Pieces.
        quantity: i64,
        /// The day they are sent on (`YYYY-MM-DD`), where said.
        on: Option<String>,
        /// The shipment they come in, where it has a name.
        shipment: Option<String>,
    },
    /// They pay or credit so many pieces.
    Credits {
        /// Pieces; 0 for a sum that is for no pieces.
        quantity: i64,
        /// The sum, where said.
        sum: Option<Money>,
    },
    /// They refuse.
    Refuses,
    /// What is over may be kept.
    Keep,
    /// What is over or wrong is to go back.
    Return,
    /// They ask for something first.
    Asks,
    /// What a newer build knows.
    #[serde(other)]
    Other,
}

/// A point is closed by a person, who says why.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PointClosed {
    /// The point.
    pub point: Point,
    /// Pieces that it was about then; where more come to be, it is open again. Nothing: not about pieces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pieces: Option<i64>,
    /// Why; may be empty.
    pub words: String,
}

/// The job is closed by a person; points that are open then stay open and are shown.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct JobClosed {
    /// In the person's words; may be empty.
    pub words: String,
}

/// What people said of a point, as it stands.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PointSeen {
    /// Who sees to it; empty when nobody was named.
    pub owner: String,
    /// When it is looked at next.
    pub next: Option<String>,
    /// What is to be done.
    pub words: String,
    /// The answers, in the order of the log.
    pub answers: Vec<AnswerSeen>,
    /// Closed by a person.
    pub closed: Option<ClosedSeen>,
}

/// An answer, as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerSeen {
    /// The event.
    pub event: EventId,
    /// When it was written down, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who wrote it down.
    pub who: String,
    /// The answer.
    pub answer: Answer,
    /// In their words.
    pub words: String,
}

/// That something was closed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClosedSeen {
    /// The event.
    pub event: EventId,
    /// When, in milliseconds since 1970-01-01 UTC.
    pub at: i64,
    /// Who closed it.
    pub who: String,
    /// Pieces that a point was about then.
    pub pieces: Option<i64>,
    /// Why.
    pub words: String,
}

impl About {
    /// Whether such a point is about a mark.
    pub fn is_of_a_mark(self) -> bool {
        matches!(self, Self::Short | Self::Over | Self::Unfit | Self::List)
    }
}

impl PointSeen {
    /// The answers that stand: a refusal takes back what was answered before.
    pub fn standing_answers(&self) -> &[AnswerSeen] {
        let refused = (self.answers.iter()).rposition(|seen| seen.answer == Answer::Refuses);
        &self.answers[refused.unwrap_or(0)..]
    }
}

impl Point {
    /// A point about a mark, a shipment, or in words.
    pub fn of(about: About, of: &str) -> Self {
        let of = of.to_owned();
        Self { about, of }
    }

    fn check(&self) -> Result<(), Refusal> {
        rules::title("point", &self.of)
    }
}

impl PointKept {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        self.point.check()?;
        rules::empty_or_name("owner", &self.owner)?;
        rules::optional_day("next", self.next.as_deref())?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl Answered {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        self.point.check()?;
        within("words", self.words.chars().count(), MAX_WORDS)?;
        match &self.answer {
            Answer::Sends {
                quantity,
                on,
                shipment,
            } => {
                range("quantity", (*quantity).into(), 1, MAX_QUANTITY.into())?;
                rules::optional_day("on", on.as_deref())?;
                rules::optional("shipment", shipment)
            }
            Answer::Credits { quantity, sum } => {
                range("quantity", (*quantity).into(), 0, MAX_QUANTITY.into())?;
                sum.map_or(Ok(()), |sum| sum.check("sum"))
            }
            _ => Ok(()),
        }
    }
}

impl PointClosed {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        self.point.check()?;
        self.pieces.map_or(Ok(()), |pieces| {
            range("pieces", pieces.into(), 0, MAX_QUANTITY.into())
        })?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}
