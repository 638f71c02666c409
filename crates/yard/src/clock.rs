//! Times for people: in the zone of the yard's computer.

use jiff::{Timestamp, tz::TimeZone};
use paper::Moment;

/// A time of the log as a page says it: "25 Nov 14:05".
pub(crate) fn local(at: i64) -> String {
    written(at, "%-d %b %H:%M")
}

/// A time of the log as a paper says it, which may be read years on: "25 Nov 2026, 14:05".
pub fn dated(at: i64) -> String {
    written(at, "%-d %b %Y, %H:%M")
}

/// The day of a time: "25 Nov 2028".
pub(crate) fn day(at: i64) -> String {
    written(at, "%-d %b %Y")
}

/// Today in a zone (IANA name) as days are written, `2026-11-25`; in the computer's own where that zone is not known.
pub(crate) fn today(zone: Option<&str>) -> String {
    let zone = zone.and_then(|name| TimeZone::get(name).ok());
    let zone = zone.unwrap_or_else(TimeZone::system);
    zone.to_datetime(Timestamp::now()).date().to_string()
}

/// A day that is written as `2026-11-25` for people: "Wed 25 Nov 2026".
pub(crate) fn day_said(day: &str) -> String {
    match day.parse::<jiff::civil::Date>() {
        Ok(day) => day.strftime("%a %-d %b %Y").to_string(),
        Err(_) => day.into(),
    }
}

fn written(at: i64, form: &str) -> String {
    match Timestamp::from_millisecond(at) {
        Ok(at) => at
            .to_zoned_datetime(TimeZone::system())
            .strftime(form)
            .to_string(),
        Err(_) => "at no time".into(),
    }
}

/// A time as the papers want it.
pub fn moment(at: i64) -> Option<Moment> {
    let at = Timestamp::from_millisecond(at)
        .ok()?
        .to_zoned_datetime(TimeZone::system());
    Some(Moment {
        year: i32::from(at.year()),
        month: u8::try_from(at.month()).ok()?,
        day: u8::try_from(at.day()).ok()?,
        hour: u8::try_from(at.hour()).ok()?,
        minute: u8::try_from(at.minute()).ok()?,
        second: u8::try_from(at.second()).ok()?,
        utc_offset: i16::try_from(at.offset().seconds() / 60).ok()?,
    })
}
