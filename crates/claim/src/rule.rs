//! One rule: who must do what by when, what missing it costs, and where that is written.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Rules that hold together, and when they do: one file of `rules/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleSet {
    /// The short name by which a shipment says that the set holds. It never changes: logs hold it.
    pub id: String,
    /// What the set is, in plain words.
    pub title: String,
    /// When it holds, in plain words.
    pub holds: String,
    /// The rules, in the order of the file.
    pub rules: Vec<Rule>,
    /// What the same sources say beside days.
    pub notes: Vec<Note>,
}

/// What a source says that has no day of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// In plain words of our own.
    pub says: String,
    /// Where that is written.
    pub source: String,
    /// How surely it is known.
    pub sure: Sure,
}

/// One act that somebody must do within a time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// The set's name, a dot, the rule's own: `us-motor.claim`. It never changes: agreed terms and calendars hold it.
    pub id: String,
    /// What is to be done, in plain words.
    pub title: String,
    /// What is done; every rule with the same act is met by doing it once.
    pub act: Act,
    /// Other acts that meet this rule too: a claim that is paid need not be acknowledged.
    pub also_met_by: Vec<Act>,
    /// Who must do it.
    pub by: Party,
    /// Who must be told. A notice to one is no notice to the other.
    pub to: Party,
    /// For which harm; empty for any.
    pub harm: Vec<Harm>,
    /// How long there is.
    pub period: Period,
    /// From what the period runs.
    pub starts: Start,
    /// After how many days each the act falls due again, until it is met.
    pub repeats_every: Option<u32>,
    /// The law that lets no carrier set a shorter period; empty if none does.
    pub floor: String,
    /// The terms of one carrier that was seen, not known to be those of yours.
    pub sample: bool,
    /// What the act must contain or keep to.
    pub asks: Vec<String>,
    /// What missing it costs.
    pub missing_it: String,
    /// How hard the limit is.
    pub force: Force,
    /// Whose rule it is.
    pub basis: Basis,
    /// Where it is written.
    pub source: String,
    /// How surely the rule is known: its period above all.
    pub sure: Sure,
    /// What of it is known less surely, in words; empty if nothing is.
    pub less_sure: String,
    /// What to hold it against before leaning on it; empty where it was seen.
    pub check: String,
}

/// How long there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Period {
    /// A number of something, and days on top ("2 years and 1 day").
    Of {
        /// How many.
        amount: u32,
        /// Of what.
        unit: Unit,
        /// Calendar days on top.
        and_days: u32,
    },
    /// At the start itself: while the driver is there.
    AtTheStart,
    /// A reasonable time. It is no number, and never shown as a date.
    Reasonable,
}

/// What is counted. The day from which a period runs is never counted itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Unit {
    /// Hours of the clock.
    #[serde(rename = "hours")]
    Hours,
    /// Every day.
    #[serde(rename = "calendar days")]
    CalendarDays,
    /// Days but for Saturdays, Sundays and the holidays of the carrier's list.
    #[serde(rename = "business days")]
    BusinessDays,
    /// Days but for Sundays and public holidays; Saturdays are counted.
    #[serde(rename = "days without Sundays and holidays")]
    DaysWithoutSundaysAndHolidays,
    /// Months, to the same day or the last day of a shorter month.
    #[serde(rename = "months")]
    Months,
    /// Years, likewise.
    #[serde(rename = "years")]
    Years,
}

/// From what a period runs. Its names and those of [`Act`] never change: logs may hold them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Start {
    /// The goods were handed over and signed for.
    #[serde(rename = "delivery")]
    Delivery,
    /// The harm was found.
    #[serde(rename = "found")]
    Found,
    /// The date of the bill of lading.
    #[serde(rename = "bill of lading")]
    BillOfLading,
    /// The carrier took the goods over.
    #[serde(rename = "taken over")]
    TakenOver,
    /// The day until which delivery was agreed.
    #[serde(rename = "agreed delivery")]
    AgreedDelivery,
    /// The day by which a reasonable time for delivery was over; somebody has to judge that.
    #[serde(rename = "should have come")]
    ShouldHaveCome,
    /// The goods were put at the receiver's disposal.
    #[serde(rename = "at disposal")]
    AtDisposal,
    /// The carrier was asked to inspect.
    #[serde(rename = "inspection asked")]
    InspectionAsked,
    /// The carrier received the claim.
    #[serde(rename = "claim received")]
    ClaimReceived,
    /// The carrier refused the claim, or a part of it, in writing.
    #[serde(rename = "claim refused")]
    ClaimRefused,
}

/// What is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Act {
    /// What is seen is written on the delivery receipt.
    #[serde(rename = "note on the receipt")]
    NoteOnReceipt,
    /// The carrier is told of harm that could not be seen at delivery, and asked to inspect.
    #[serde(rename = "notice of hidden harm")]
    NoticeOfHiddenHarm,
    /// The carrier is told that the goods came late.
    #[serde(rename = "notice of delay")]
    NoticeOfDelay,
    /// The carrier looks at the harm.
    #[serde(rename = "inspection")]
    Inspection,
    /// The claim is filed with the carrier.
    #[serde(rename = "claim")]
    Claim,
    /// The carrier says that it has the claim.
    #[serde(rename = "acknowledgement")]
    Acknowledgement,
    /// The carrier pays, declines or makes a firm offer.
    #[serde(rename = "decision")]
    Decision,
    /// The carrier says how the claim stands.
    #[serde(rename = "status letter")]
    StatusLetter,
    /// The claim is brought before a court.
    #[serde(rename = "suit")]
    Suit,
    /// The goods are delivered.
    #[serde(rename = "delivery")]
    Delivery,
    /// The goods are looked at and counted.
    #[serde(rename = "examination")]
    Examination,
    /// The sender is told what is wrong.
    #[serde(rename = "notice to the sender")]
    NoticeToSender,
    /// The sender is told that goods are not taken.
    #[serde(rename = "rejection")]
    Rejection,
    /// The sender is told that goods once taken are given back.
    #[serde(rename = "revocation")]
    Revocation,
}

/// Who acts, or is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Party {
    /// Whoever the goods came to.
    #[serde(rename = "receiver")]
    Receiver,
    /// Whoever carried them.
    #[serde(rename = "carrier")]
    Carrier,
    /// Whoever sold and sent them.
    #[serde(rename = "sender")]
    Sender,
}

/// Which harm a rule is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Harm {
    /// Loss or damage that can be seen at delivery.
    #[serde(rename = "seen")]
    Seen,
    /// Loss or damage that cannot.
    #[serde(rename = "hidden")]
    Hidden,
    /// The goods came late.
    #[serde(rename = "late")]
    Late,
    /// The goods did not come.
    #[serde(rename = "not delivered")]
    NotDelivered,
}

/// How hard a limit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Force {
    /// After it the right is gone.
    #[serde(rename = "hard limit")]
    HardLimit,
    /// After it the receiver has to prove what was taken for granted before.
    #[serde(rename = "shifts the evidence")]
    ShiftsEvidence,
    /// A duty of the other side: after it, ask.
    #[serde(rename = "time to ask")]
    TimeToAsk,
}

/// Whose rule it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Basis {
    /// A statute, a regulation or a convention.
    #[serde(rename = "law")]
    Law,
    /// The carrier's bill of lading or tariff, or one that it takes part in.
    #[serde(rename = "carrier's terms")]
    CarrierTerms,
    /// What is commonly done.
    #[serde(rename = "custom")]
    Custom,
}

/// How surely something is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Sure {
    /// Seen in the primary text or in a reprint of it, word for word.
    #[serde(rename = "seen")]
    Seen,
    /// Seen only in what others say of it.
    #[serde(rename = "second-hand")]
    SecondHand,
    /// From memory, held against nothing.
    #[serde(rename = "memory")]
    Memory,
}

impl RuleSet {
    /// Whether the set is about a sale: it asks nothing of a carrier, and has nobody tell one. All others are about
    /// carriage.
    pub fn is_sale(&self) -> bool {
        let carrier = |rule: &Rule| rule.by == Party::Carrier || rule.to == Party::Carrier;
        !self.rules.iter().any(carrier)
    }
}

impl fmt::Display for Period {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Period::Of {
                amount,
                unit,
                and_days,
            } => {
                write!(f, "{amount} {}", unit.words(amount))?;
                match and_days {
                    0 => Ok(()),
                    1 => f.write_str(" and 1 day"),
                    days => write!(f, " and {days} days"),
                }
            }
            Period::AtTheStart => f.write_str("at once, there and then"),
            Period::Reasonable => f.write_str("a reasonable time"),
        }
    }
}

impl Unit {
    /// Returns the unit's name, as many of them.
    pub fn words(self, amount: u32) -> &'static str {
        match (self, amount) {
            (Unit::Hours, 1) => "hour",
            (Unit::Hours, _) => "hours",
            (Unit::CalendarDays, 1) => "calendar day",
            (Unit::CalendarDays, _) => "calendar days",
            (Unit::BusinessDays, 1) => "business day",
            (Unit::BusinessDays, _) => "business days",
            (Unit::DaysWithoutSundaysAndHolidays, 1) => {
                "day, Sundays and public holidays not counted"
            }
            (Unit::DaysWithoutSundaysAndHolidays, _) => {
                "days, Sundays and public holidays not counted"
            }
            (Unit::Months, 1) => "month",
            (Unit::Months, _) => "months",
            (Unit::Years, 1) => "year",
            (Unit::Years, _) => "years",
        }
    }
}

impl Start {
    /// Returns every start there is.
    pub const ALL: [Self; 10] = [
        Self::Delivery,
        Self::Found,
        Self::BillOfLading,
        Self::TakenOver,
        Self::AgreedDelivery,
        Self::ShouldHaveCome,
        Self::AtDisposal,
        Self::InspectionAsked,
        Self::ClaimReceived,
        Self::ClaimRefused,
    ];

    /// Whether it is a step that comes of itself later, not a day that somebody left out.
    pub fn comes_later(self) -> bool {
        matches!(
            self,
            Start::InspectionAsked | Start::ClaimReceived | Start::ClaimRefused
        )
    }

    /// Returns which day it is, to stand after "from" or "say first:".
    pub fn words(self) -> &'static str {
        match self {
            Start::Delivery => "the day of delivery",
            Start::Found => "the day on which the harm was found",
            Start::BillOfLading => "the date of the bill of lading",
            Start::TakenOver => "the day on which the carrier took the goods over",
            Start::AgreedDelivery => "the day until which delivery was agreed",
            Start::ShouldHaveCome => "the day by which the goods should have come",
            Start::AtDisposal => "the day on which the goods were put at your disposal",
            Start::InspectionAsked => "the day on which the carrier was asked to inspect",
            Start::ClaimReceived => "the day on which the carrier received the claim",
            Start::ClaimRefused => "the day on which the carrier refused the claim in writing",
        }
    }
}

impl Act {
    /// Returns the act's name.
    pub fn words(self) -> &'static str {
        match self {
            Act::NoteOnReceipt => "note on the receipt",
            Act::NoticeOfHiddenHarm => "notice of hidden harm",
            Act::NoticeOfDelay => "notice of delay",
            Act::Inspection => "inspection",
            Act::Claim => "claim",
            Act::Acknowledgement => "acknowledgement",
            Act::Decision => "decision",
            Act::StatusLetter => "status letter",
            Act::Suit => "suit",
            Act::Delivery => "delivery",
            Act::Examination => "examination",
            Act::NoticeToSender => "notice to the sender",
            Act::Rejection => "rejection",
            Act::Revocation => "revocation",
        }
    }
}

impl Party {
    /// Returns who it is, to stand after "to".
    pub fn words(self) -> &'static str {
        match self {
            Party::Receiver => "you",
            Party::Carrier => "the carrier",
            Party::Sender => "the sender",
        }
    }
}

impl Force {
    /// Returns the force in a few words.
    pub fn words(self) -> &'static str {
        match self {
            Force::HardLimit => "hard limit",
            Force::ShiftsEvidence => "after it, you must prove more",
            Force::TimeToAsk => "after it, ask them",
        }
    }
}

impl Basis {
    /// Returns whose rule it is.
    pub fn words(self) -> &'static str {
        match self {
            Basis::Law => "law",
            Basis::CarrierTerms => "carrier's terms",
            Basis::Custom => "custom",
        }
    }
}

impl Sure {
    /// Returns how surely it is known.
    pub fn words(self) -> &'static str {
        match self {
            Sure::Seen => "seen in the text",
            Sure::SecondHand => "second-hand",
            Sure::Memory => "from memory",
        }
    }
}
