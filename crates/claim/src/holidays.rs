//! Days that are no business days.

use std::collections::BTreeMap;

use jiff::civil::{Date, Weekday, date};

/// A list of holidays: worked out, given, or both.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Holidays {
    us_federal: bool,
    more: BTreeMap<Date, String>,
    not: Vec<Date>,
}

/// A holiday on the day it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Holiday {
    /// The day on which it is kept.
    pub kept: Date,
    /// The day on which it falls.
    pub falls: Date,
    /// What it is called.
    pub name: String,
}

impl Holidays {
    /// Returns no holidays at all.
    pub fn none() -> Self {
        Self::default()
    }

    /// Returns the federal holidays of the United States, on the days on which they are kept.
    ///
    /// 5 U.S.C. 6103(a) (second-hand): eleven of them. One that falls on a Saturday is kept the Friday before
    /// (6103(b), second-hand), one that falls on a Sunday the Monday after (Executive Order 11582, from memory). Left
    /// out (from memory): Inauguration Day, which is one around Washington only, and days closed by a single order.
    pub fn us_federal() -> Self {
        Self {
            us_federal: true,
            ..Self::default()
        }
    }

    /// Returns exactly these days, for instance a carrier's own list.
    pub fn listed(days: impl IntoIterator<Item = (Date, String)>) -> Self {
        Self {
            more: days.into_iter().collect(),
            ..Self::default()
        }
    }

    /// Returns the list with a day more.
    #[must_use]
    pub fn with(mut self, day: Date, name: &str) -> Self {
        self.not.retain(|d| *d != day);
        self.more.insert(day, name.into());
        self
    }

    /// Returns the list without a day.
    #[must_use]
    pub fn without(mut self, day: Date) -> Self {
        self.more.remove(&day);
        self.not.push(day);
        self
    }

    /// Whether no day is one.
    pub fn is_empty(&self) -> bool {
        !self.us_federal && self.more.is_empty()
    }

    /// Returns what is kept on a day, if anything is.
    pub fn on(&self, day: Date) -> Option<String> {
        if self.not.contains(&day) {
            return None;
        }
        if let Some(name) = self.more.get(&day) {
            return Some(name.clone());
        }
        if !self.us_federal {
            return None;
        }
        // New Year's Day may be kept in the year before.
        [day.year(), day.year().saturating_add(1)]
            .into_iter()
            .flat_map(us_federal_of)
            .find(|h| h.kept == day)
            .map(|h| h.name)
    }
}

/// Returns the federal holidays of the United States that fall in a year, in order.
pub fn us_federal_of(year: i16) -> Vec<Holiday> {
    if !(1..9999).contains(&year) {
        return Vec::new();
    }
    let fixed = |month, day, name: &str| (Some(date(year, month, day)), name.to_owned());
    let nth = |month, nth, weekday, name: &str| {
        let day = date(year, month, 1).nth_weekday_of_month(nth, weekday).ok();
        (day, name.to_owned())
    };
    [
        fixed(1, 1, "New Year's Day"),
        nth(1, 3, Weekday::Monday, "Martin Luther King Jr. Day"),
        nth(2, 3, Weekday::Monday, "Washington's Birthday"),
        nth(5, -1, Weekday::Monday, "Memorial Day"),
        fixed(6, 19, "Juneteenth National Independence Day"),
        fixed(7, 4, "Independence Day"),
        nth(9, 1, Weekday::Monday, "Labor Day"),
        nth(10, 2, Weekday::Monday, "Columbus Day"),
        fixed(11, 11, "Veterans Day"),
        nth(11, 4, Weekday::Thursday, "Thanksgiving Day"),
        fixed(12, 25, "Christmas Day"),
    ]
    .into_iter()
    .filter_map(|(falls, name)| {
        let falls = falls?;
        let kept = kept_on(falls)?;
        Some(Holiday { kept, falls, name })
    })
    .collect()
}

fn kept_on(falls: Date) -> Option<Date> {
    match falls.weekday() {
        Weekday::Saturday => falls.yesterday().ok(),
        Weekday::Sunday => falls.tomorrow().ok(),
        _ => Some(falls),
    }
}
