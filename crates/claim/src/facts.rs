//! What is known of one shipment: its days, what was done, what was agreed.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

use crate::arrival::Arrival;
use crate::holidays::Holidays;
use crate::rule::{Act, Harm, Period, Start};

/// What is known of one shipment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Facts {
    /// The rule sets that hold, by their names.
    pub sets: BTreeSet<String>,
    /// What is wrong, as far as it is known. While this is empty, rules for seen and for hidden harm are told.
    pub harm: BTreeSet<Harm>,
    /// The days that are known.
    pub days: BTreeMap<Start, Date>,
    /// The moment of delivery, where more than its day is known. Its day goes before that in `days`.
    pub arrival: Option<Arrival>,
    /// What was done, each as often as it was.
    pub done: Vec<Done>,
    /// The days that are no business days, beside Saturdays and Sundays.
    pub holidays: Holidays,
    /// The public holidays of the place of delivery, for days without Sundays and holidays. With none every weekday is
    /// counted, which gives the earlier day.
    pub public_holidays: Holidays,
}

/// An act that was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// What was done.
    pub act: Act,
    /// When.
    pub day: Date,
}

/// A term that goes before what a rule says, or a day that somebody set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Agreed {
    /// The rule, by its whole name: `us-motor.claim`.
    pub rule: String,
    /// How long there is.
    pub term: Term,
    /// From what it runs, where that is not what the rule says.
    pub starts: Option<Start>,
    /// Whether it binds.
    pub binds: Binds,
    /// The words it was entered with: where it is written.
    pub words: String,
}

/// How long somebody said there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// Until this day.
    Day(Date),
    /// So long from the start.
    Period(Period),
}

/// Whether a term binds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binds {
    /// A contract says it: the bill of lading, a tariff, the sender's terms. It goes before the rule.
    Contract,
    /// A day that you set for yourself. It stands beside the rule.
    OwnTarget,
}

impl Default for Facts {
    /// Nothing known yet; business days leave out the federal holidays of the United States.
    fn default() -> Self {
        Self {
            sets: BTreeSet::new(),
            harm: BTreeSet::new(),
            days: BTreeMap::new(),
            arrival: None,
            done: Vec::new(),
            holidays: Holidays::us_federal(),
            public_holidays: Holidays::none(),
        }
    }
}

impl Facts {
    /// Returns the day of a start, if it is known.
    pub fn day(&self, start: Start) -> Option<Date> {
        match (&self.arrival, start) {
            (Some(arrival), Start::Delivery) => Some(arrival.day),
            _ => self.days.get(&start).copied(),
        }
    }
}
