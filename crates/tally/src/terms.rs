//! What was agreed, what was done about it, and what things cost: facts that dates and claims rest on.

use serde::{Deserialize, Serialize};

use crate::event::EventId;
use crate::money::Money;
use crate::rules::{self, MAX_WORDS, Refusal, range, within};

/// A person's own terms for a rule: they go before what the rule says. The last word stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Agreed {
    /// The rule, by its id in `claim`.
    pub rule: String,
    /// The shipment; nothing: every one.
    pub shipment: Option<String>,
    /// By when, or nothing: the rule's own period holds again.
    pub by: Option<By>,
    /// What the period starts at, by its name in `claim`; nothing: what the rule's own starts at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts: Option<String>,
    /// Where that stands, such as "bill of lading, section 3"; may be empty.
    pub words: String,
}

/// By when something is to be done.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// On this day at the latest (`YYYY-MM-DD`).
    Day(String),
    /// So many hours from when the rule's period starts.
    Hours(i64),
    /// So many calendar days.
    Days(i64),
    /// So many business days.
    BusinessDays(i64),
    /// So many months.
    Months(i64),
    /// So many years.
    Years(i64),
}

/// Something that a rule asks for was done.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Done {
    /// The rule, by its id in `claim`, or another name of what was done.
    pub rule: String,
    /// The shipment; nothing: every one.
    pub shipment: Option<String>,
    /// The day (`YYYY-MM-DD`).
    pub on: String,
    /// How, such as "by e-mail to the claims desk"; may be empty.
    pub words: String,
}

/// A day on which nobody works, or works after all: it corrects a list of holidays. The last word on a day stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct DayOff {
    /// Whose list.
    pub list: DaysOff,
    /// The day (`YYYY-MM-DD`).
    pub day: String,
    /// Whether nobody works.
    pub off: bool,
    /// What it is called, such as "Easter Monday"; may be empty.
    pub words: String,
}

/// A list of days off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DaysOff {
    /// The carrier's, by which business days are counted.
    Business,
    /// The public holidays where the goods were delivered.
    Public,
    /// What a newer build knows.
    #[serde(other)]
    Other,
}

/// What a paper says that nothing else in the log holds, such as who writes it. The last word stands; empty words take it
/// back.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Written {
    /// What is said, by a name of the papers' own, such as `from-name`.
    pub field: String,
    /// The shipment; nothing: for every one.
    pub shipment: Option<String>,
    /// In the person's words; may have several lines.
    pub words: String,
}

/// What something costs; the last word stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Priced {
    /// The mark, of which this is the price of one piece; nothing: a cost of another kind.
    pub mark: Option<String>,
    /// What the cost is for, such as "freight for the replacement"; may be empty for a mark.
    pub words: String,
    /// The sum, or nothing: not known again.
    pub each: Option<Money>,
}

/// Something done, as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Act {
    /// The event.
    pub event: EventId,
    /// Who did it.
    pub who: String,
    /// What.
    pub done: Done,
}

/// The most hours, days or months that terms can say.
const MOST_PERIODS: i64 = 100_000;

impl Agreed {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("rule", &self.rule)?;
        rules::optional("shipment", &self.shipment)?;
        rules::optional("starts", &self.starts)?;
        within("words", self.words.chars().count(), MAX_WORDS)?;
        match &self.by {
            None => Ok(()),
            Some(By::Day(day)) => rules::day("by", day),
            Some(
                By::Hours(n) | By::Days(n) | By::BusinessDays(n) | By::Months(n) | By::Years(n),
            ) => range("by", (*n).into(), 0, MOST_PERIODS.into()),
        }
    }
}

impl Done {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("rule", &self.rule)?;
        rules::optional("shipment", &self.shipment)?;
        rules::day("on", &self.on)?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl DayOff {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::day("day", &self.day)?;
        rules::empty_or_name("words", &self.words)
    }
}

impl Written {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("field", &self.field)?;
        rules::optional("shipment", &self.shipment)?;
        within("words", self.words.chars().count(), MAX_WORDS)
    }
}

impl Priced {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::optional("mark", &self.mark)?;
        match self.mark {
            Some(_) => rules::empty_or_name("words", &self.words)?,
            None => rules::name("words", &self.words)?,
        }
        self.each.map_or(Ok(()), |each| each.check("each"))
    }
}
