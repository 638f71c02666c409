//! Counting days. The day from which a period runs is never counted; the last day is the period's last.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

use crate::holidays::Holidays;
use crate::rule::Unit;

/// The longest period that is counted: a century, in each unit.
pub const MOST: u32 = 36_525;

/// Where counting came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// The last day.
    pub last: Date,
    /// Holidays that were passed over and would have been counted otherwise, with their names.
    pub holidays: Vec<(Date, String)>,
}

/// A day that lies outside the calendar.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{amount} {} from {start} is past the end of the calendar", unit.words(*amount))]
pub struct OutOfReach {
    /// The day from which was counted.
    pub start: Date,
    /// How many.
    pub amount: u32,
    /// Of what.
    pub unit: Unit,
}

/// Returns the last day of a period that runs from a day.
///
/// Hours are counted as whole days, of which the last is not counted whole: 48 hours from some hour of Monday are
/// over at some hour of Wednesday, so the last day that is surely in time is Tuesday. With the moment at hand, count
/// from that instead.
pub fn last_day(
    start: Date,
    amount: u32,
    unit: Unit,
    holidays: &Holidays,
) -> Result<Counted, OutOfReach> {
    let out = || OutOfReach {
        start,
        amount,
        unit,
    };
    if amount > MOST {
        return Err(out());
    }
    let counted = |last: Result<Date, jiff::Error>| {
        last.map(|last| Counted {
            last,
            holidays: Vec::new(),
        })
        .map_err(|_| out())
    };
    let number = i64::from(amount);
    match unit {
        Unit::Hours => counted(start.checked_add((number / 24 - 1).max(0).days())),
        Unit::CalendarDays => counted(start.checked_add(number.days())),
        // jiff takes the last day of a shorter month, and never rolls on into the next.
        Unit::Months => counted(start.checked_add(number.months())),
        Unit::Years if amount > 9_999 => Err(out()),
        Unit::Years => counted(start.checked_add(number.years())),
        Unit::BusinessDays => {
            let weekend = [Weekday::Saturday, Weekday::Sunday];
            step(start, amount, &weekend, holidays).ok_or_else(out)
        }
        Unit::DaysWithoutSundaysAndHolidays => {
            step(start, amount, &[Weekday::Sunday], holidays).ok_or_else(out)
        }
    }
}

/// Returns the last business day that is not after a day.
pub fn business_day_before(day: Date, holidays: &Holidays) -> Date {
    let mut on = day;
    while matches!(on.weekday(), Weekday::Saturday | Weekday::Sunday) || holidays.on(on).is_some() {
        let Ok(before) = on.yesterday() else {
            return day;
        };
        on = before;
    }
    on
}

fn step(start: Date, amount: u32, never: &[Weekday], holidays: &Holidays) -> Option<Counted> {
    let mut last = start;
    let mut passed = Vec::new();
    let mut left = amount;
    while left > 0 {
        last = last.tomorrow().ok()?;
        if never.contains(&last.weekday()) {
            continue;
        }
        match holidays.on(last) {
            Some(name) => passed.push((last, name)),
            None => left -= 1,
        }
    }
    Some(Counted {
        last,
        holidays: passed,
    })
}
