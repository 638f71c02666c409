//! When what is not here may come: business days, and how what was said spreads over them.

use std::collections::BTreeMap;

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use tally::{Affairs, DaysOff};

use crate::assumed::{BEYOND, BEYOND_COMES, LATE, MOST_SPREAD, OPEN_END, OVERDUE, TRANSIT, WITHIN};

/// The days on which a carrier drives: Monday to Friday, as corrected by what people said of days off.
pub(crate) struct BusinessDays(BTreeMap<Date, bool>);

impl BusinessDays {
    pub fn of(affairs: &Affairs) -> Self {
        let said = (affairs.days_off.iter())
            .filter(|((list, _), _)| *list == DaysOff::Business)
            .filter_map(|((_, day), (off, _))| Some((read_day(day)?, !off)));
        Self(said.collect())
    }

    fn has(&self, day: Date) -> bool {
        let weekend = matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday);
        self.0.get(&day).copied().unwrap_or(!weekend)
    }

    /// The business days from a day on, that day among them.
    fn from(&self, day: Date) -> impl Iterator<Item = Date> + '_ {
        let days = std::iter::successors(Some(day), |day| day.tomorrow().ok());
        days.filter(|day| self.has(*day))
    }

    /// The business days after a day.
    pub fn after(&self, day: Date) -> impl Iterator<Item = Date> + '_ {
        day.tomorrow().into_iter().flat_map(|day| self.from(day))
    }
}

/// What was said of the day on which something comes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Said {
    /// The day it is promised for.
    pub due: Option<Date>,
    /// Not before this day.
    pub earliest: Option<Date>,
    /// Not after this day.
    pub latest: Option<Date>,
    /// The day it is sent on.
    pub sent: Option<Date>,
}

/// When something comes: each day with the chance that it is here by that morning, and what that rests on, in words.
pub(crate) fn arrival(
    said: Said,
    business: &BusinessDays,
    today: Date,
) -> (Vec<(Date, f64)>, String) {
    let (days, says) = match said {
        Said {
            earliest: Some(one),
            latest: Some(other),
            ..
        } => {
            let (first, last) = (one.min(other), one.max(other));
            let says = format!(
                "said to come {} to {}",
                day_in_words(first),
                day_in_words(last)
            );
            (between(first, last, business), says)
        }
        Said {
            latest: Some(day), ..
        } => (
            late(day, business),
            format!("said to come by {}", day_in_words(day)),
        ),
        Said {
            earliest: Some(day),
            ..
        } => {
            let last = business.from(day).nth(OPEN_END as usize - 1);
            let says = format!("said to come from {} on", day_in_words(day));
            (between(day, last.unwrap_or(day), business), says)
        }
        Said { due: Some(day), .. } => (
            late(day, business),
            format!("promised for {}", day_in_words(day)),
        ),
        Said {
            sent: Some(day), ..
        } => {
            let nth = |n: u32| business.after(day).nth(n as usize - 1).unwrap_or(day);
            let says = format!(
                "said to be sent on {}; {} to {} business days on the way are assumed",
                day_in_words(day),
                TRANSIT[0],
                TRANSIT[1]
            );
            (between(nth(TRANSIT[0]), nth(TRANSIT[1]), business), says)
        }
        _ => {
            let says = "no day is known, so it is not counted on: ask for one";
            return (Vec::new(), says.into());
        }
    };
    match still(days, today) {
        Some(days) => (by_the_morning(days), says),
        None => {
            let says = format!(
                "{says}; that is past and it is not here, so it is not counted on: ask for a new day"
            );
            (Vec::new(), says)
        }
    }
}

/// One day was said: on it, or so many business days later.
fn late(day: Date, business: &BusinessDays) -> Vec<(Date, f64)> {
    (LATE.iter())
        .filter_map(|(days, chance)| {
            let on = match days.checked_sub(1) {
                None => Some(day),
                Some(nth) => business.after(day).nth(nth as usize),
            };
            Some((on?, *chance))
        })
        .collect()
}

/// Two days were said: between them, or soon after.
fn between(first: Date, last: Date, business: &BusinessDays) -> Vec<(Date, f64)> {
    // Of a range without measure the last part is looked at; three days of four are business days at the least.
    let span = (MOST_SPREAD as i64 * 2).days();
    let near = last.checked_sub(span).unwrap_or(first);
    let mut days: Vec<Date> = (business.from(first.max(near)))
        .take_while(|day| *day <= last)
        .collect();
    days.drain(..days.len().saturating_sub(MOST_SPREAD));
    if days.is_empty() {
        days = vec![last];
    }
    let each = WITHIN / days.len() as f64;
    let mut all: Vec<(Date, f64)> = days.into_iter().map(|day| (day, each)).collect();
    let each = (1.0 - WITHIN) * BEYOND_COMES / f64::from(BEYOND);
    let beyond = business.after(last).take(BEYOND as usize);
    all.extend(beyond.map(|day| (day, each)));
    all
}

/// The same for what has not come by today; nothing where its days have gone by.
fn still(days: Vec<(Date, f64)>, today: Date) -> Option<Vec<(Date, f64)>> {
    let gone: f64 = (days.iter())
        .filter(|(day, _)| *day < today)
        .map(|(_, chance)| chance)
        .sum();
    (gone < OVERDUE).then(|| {
        let left = days.into_iter().filter(|(day, _)| *day >= today);
        left.map(|(day, chance)| (day, chance / (1.0 - gone)))
            .collect()
    })
}

/// What comes on a day is here on the next morning.
fn by_the_morning(days: Vec<(Date, f64)>) -> Vec<(Date, f64)> {
    let mut by = 0.0;
    (days.into_iter())
        .filter_map(|(day, chance)| {
            by += chance;
            Some((day.tomorrow().ok()?, by))
        })
        .collect()
}

/// A day as events have it; nothing where it is none.
pub(crate) fn read_day(text: &str) -> Option<Date> {
    text.parse().ok()
}

/// "Fri 4 Dec 2026".
pub(crate) fn day_in_words(day: Date) -> String {
    day.strftime("%a %-d %b %Y").to_string()
}
