//! Writes holidays and counted days, for libraries that are not ours to hold against their own: `tests/calendar/run`.

use claim::{Date, Holidays, Unit, last_day};

/// A step that meets every weekday, month and month end in turn.
const STEP: i64 = 11;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let us = Holidays::us_federal();
    let mut day: Date = "2022-01-01".parse()?;
    let end: Date = "2099-12-31".parse()?;
    while day <= end {
        if us.on(day).is_some() {
            println!("holiday {day}");
        }
        day = day.tomorrow()?;
    }
    let periods = [
        ("business", 5, Unit::BusinessDays),
        ("business", 23, Unit::BusinessDays),
        ("sundays", 7, Unit::DaysWithoutSundaysAndHolidays),
        ("months", 9, Unit::Months),
        ("months", 1, Unit::Months),
        ("years", 2, Unit::Years),
        ("days", 120, Unit::CalendarDays),
    ];
    let mut start: Date = "2022-01-03".parse()?;
    while start < "2095-01-01".parse()? {
        for (name, amount, unit) in periods {
            println!(
                "{name} {amount} {start} {}",
                last_day(start, amount, unit, &us)?.last
            );
        }
        start = start.checked_add(jiff::Span::new().days(STEP))?;
    }
    Ok(())
}
