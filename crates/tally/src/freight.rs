//! How a shipment travels and how it was handed over: what the carrier's paper says, and what was seen and written at
//! the truck.

use serde::{Deserialize, Serialize};

use crate::rules::{self, MAX_QUANTITY, MAX_WORDS, Refusal, range, within};

/// What the carrier's papers say of a shipment; the last word stands, whole. Texts may be empty: not said yet.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Freight {
    /// The shipment.
    pub shipment: String,
    /// Which rules hold, by the name of their file in `claim`, such as `us-motor`; empty: not said.
    pub rules: String,
    /// The carrier that delivers.
    pub carrier: String,
    /// The number of the bill of lading.
    pub bill: String,
    /// The carrier's own number for the freight.
    pub carrier_number: String,
    /// The day of the bill of lading (`YYYY-MM-DD`).
    pub billed_on: Option<String>,
    /// Handling units on the freight bill: pallets, crates, loose bundles. Not the parts inside.
    pub units: Option<i64>,
    /// What they are, such as "2 crates, 3 bundles".
    pub units_are: String,
}

/// How a shipment was handed over; the last word stands, whole.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Delivery {
    /// The shipment.
    pub shipment: String,
    /// The day at the site (`YYYY-MM-DD`).
    pub on: String,
    /// The time at the site (`HH:MM`, 24 hours), where known.
    pub time: Option<String>,
    /// Handling units that were counted off the truck.
    pub units: Option<i64>,
    /// What was done with it.
    pub outcome: Outcome,
    /// The words that were written on the delivery receipt.
    pub receipt_note: String,
    /// Whether the driver signed them; nothing: not said.
    pub driver_signed: Option<bool>,
    /// Seals by number and state, where there were any.
    pub seals: String,
}

/// What was done at the truck.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Taken, and the receipt signed without a word.
    SignedClear,
    /// Taken, with what was wrong written on the receipt.
    Noted,
    /// Some units were taken, others sent back.
    RefusedInPart,
    /// Nothing was taken.
    Refused,
    /// What a newer build knows.
    #[serde(other)]
    Other,
}

impl Outcome {
    /// What people read.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::SignedClear => "taken, receipt signed clear",
            Self::Noted => "taken, with a note on the receipt",
            Self::RefusedInPart => "refused in part",
            Self::Refused => "refused",
            Self::Other => "handed over in another way",
        }
    }
}

impl Freight {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("shipment", &self.shipment)?;
        for (field, text) in [
            ("rules", &self.rules),
            ("carrier", &self.carrier),
            ("bill", &self.bill),
            ("carrier_number", &self.carrier_number),
            ("units_are", &self.units_are),
        ] {
            rules::empty_or_name(field, text)?;
        }
        rules::optional_day("billed_on", self.billed_on.as_deref())?;
        units(self.units)
    }
}

impl Delivery {
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        rules::name("shipment", &self.shipment)?;
        rules::day("on", &self.on)?;
        if let Some(time) = &self.time {
            rules::time("time", time)?;
        }
        units(self.units)?;
        within("receipt_note", self.receipt_note.chars().count(), MAX_WORDS)?;
        within("seals", self.seals.chars().count(), MAX_WORDS)
    }
}

fn units(units: Option<i64>) -> Result<(), Refusal> {
    units.map_or(Ok(()), |n| range("units", n.into(), 0, MAX_QUANTITY.into()))
}
