//! From a start and a period to its last day, with what is to be known of it.

use jiff::civil::{Date, Weekday};

use crate::days::{OutOfReach, business_day_before, last_day};
use crate::facts::Facts;
use crate::holidays::Holidays;
use crate::rule::{Period, Start, Unit};

/// Where a period came to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Reached {
    /// The last day; none for a reasonable time.
    pub date: Option<Date>,
    /// The last moment, where the clock counts.
    pub until: Option<i64>,
    /// What is to be known of it.
    pub notes: Vec<String>,
}

/// Returns where a period comes to that runs from a day.
pub(crate) fn reach(start: Start, day: Date, period: Period, facts: &Facts) -> Reached {
    let (amount, unit, and_days) = match period {
        Period::Of {
            amount,
            unit,
            and_days,
        } => (amount, unit, and_days),
        Period::AtTheStart => {
            return Reached {
                date: Some(day),
                ..Reached::default()
            };
        }
        Period::Reasonable => return Reached::default(),
    };
    let mut reached = match hours_by_the_clock(start, amount, unit, facts) {
        Some(reached) => reached,
        None => by_days(day, amount, unit, and_days, facts),
    };
    if let Some(last) = reached.date
        && start == Start::Delivery
        && facts
            .arrival
            .as_ref()
            .is_some_and(|a| a.after_hours.is_some())
    {
        reached.notes.push(after_hours(last, facts));
    }
    if reached.until.is_none()
        && let Some(last) = reached.date
    {
        reached.notes.extend(no_working_day(last, facts));
    }
    reached
}

fn hours_by_the_clock(start: Start, amount: u32, unit: Unit, facts: &Facts) -> Option<Reached> {
    let arrival = facts.arrival.as_ref()?;
    if unit != Unit::Hours || start != Start::Delivery {
        return None;
    }
    let until = arrival
        .ms
        .checked_add(i64::from(amount).checked_mul(3_600_000)?)?;
    let (date, time) = arrival.zone().at(until).ok()?;
    Some(Reached {
        date: Some(date),
        until: Some(until),
        notes: vec![format!(
            "Until {} by the clock at the site ({}).",
            time.strftime("%H:%M"),
            arrival.zone().name()
        )],
    })
}

fn by_days(day: Date, amount: u32, unit: Unit, and_days: u32, facts: &Facts) -> Reached {
    let holidays = match unit {
        Unit::DaysWithoutSundaysAndHolidays => &facts.public_holidays,
        _ => &facts.holidays,
    };
    let counted = last_day(day, amount, unit, holidays).and_then(|mut counted| {
        if and_days > 0 {
            counted.last = last_day(counted.last, and_days, Unit::CalendarDays, holidays)?.last;
        }
        Ok(counted)
    });
    let counted = match counted {
        Ok(counted) => counted,
        Err(out) => return out_of_reach(&out),
    };
    let mut notes = Vec::new();
    if unit == Unit::Hours {
        notes.push("The hour of delivery is not known, so only whole days that are surely in time are counted.".into());
    }
    if unit == Unit::DaysWithoutSundaysAndHolidays && holidays.is_empty() {
        notes.push("No public holidays were entered, so every day but Sunday is counted, which gives the earlier day.".into());
    }
    if let Some(note) = passed_over(day, amount, unit, &counted.holidays) {
        notes.push(note);
    }
    Reached {
        date: Some(counted.last),
        until: None,
        notes,
    }
}

fn out_of_reach(out: &OutOfReach) -> Reached {
    Reached {
        notes: vec![format!("No day can be worked out: {out}.")],
        ..Reached::default()
    }
}

/// Nothing seen says whose holidays count, so the day without them is told too.
fn passed_over(day: Date, amount: u32, unit: Unit, passed: &[(Date, String)]) -> Option<String> {
    if passed.is_empty() {
        return None;
    }
    let names: Vec<String> = passed
        .iter()
        .map(|(day, name)| format!("{name} ({})", day_in_words(*day)))
        .collect();
    let strict = last_day(day, amount, unit, &Holidays::none()).ok()?.last;
    Some(format!(
        "Not counted: {}. If the other side counts holidays, the last day is {}.",
        names.join(", "),
        day_in_words(strict)
    ))
}

fn after_hours(last: Date, facts: &Facts) -> String {
    let next_day = facts
        .arrival
        .as_ref()
        .and_then(|a| a.after_hours)
        .is_some_and(|a| a == crate::arrival::AfterHours::NextDay);
    if next_day {
        "The delivery came after hours and is counted on the next day, as you set it. No source was seen for that; \
         the strict reading counts the day itself."
            .into()
    } else {
        format!(
            "The delivery came after hours. No source was seen that gives a day more for it, so {} is counted from the \
             day itself.",
            day_in_words(last)
        )
    }
}

/// A last day on which offices are closed is not moved: none of the sources seen lets it roll on.
fn no_working_day(last: Date, facts: &Facts) -> Option<String> {
    let working = business_day_before(last, &facts.holidays);
    if working == last {
        return None;
    }
    let why = match (last.weekday(), facts.holidays.on(last)) {
        (_, Some(name)) => name,
        (Weekday::Saturday, None) => "a Saturday".into(),
        _ => "a Sunday".into(),
    };
    Some(format!(
        "The last day is {why}; the last working day before it is {}.",
        day_in_words(working)
    ))
}

/// Returns a day as a reader says it: Thu 3 Dec 2026.
pub fn day_in_words(day: Date) -> String {
    day.strftime("%a %-d %b %Y").to_string()
}
