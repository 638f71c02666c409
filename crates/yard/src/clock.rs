//! Times for people: in the zone of the yard's computer, and days in that of the site.

use claim::Zone;
use jiff::civil::{Date, Time};
use jiff::{Timestamp, tz::TimeZone};
use paper::Moment;
use tally::Affairs;

/// The time zone of the site: as somebody said it, or else that of this computer.
pub fn site_zone(affairs: &Affairs) -> Zone {
    let said = affairs
        .zone
        .as_deref()
        .and_then(|name| Zone::named(name).ok());
    said.or_else(|| Zone::named(TimeZone::system().iana_name()?).ok())
        .unwrap_or_else(Zone::utc)
}

/// The day and the time of day at the site.
pub fn at_site(affairs: &Affairs, at: i64) -> (Date, Time) {
    site_zone(affairs).at(at).unwrap_or_default()
}

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

/// A day of the log as a page says it: "Thu 3 Dec 2026"; as it stands where it is none.
pub(crate) fn day_said(day: &str) -> String {
    (day.parse()).map_or_else(|_| day.to_owned(), claim::day_in_words)
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

/// A time as the papers want it: that of the site.
pub fn moment(affairs: &Affairs, at: i64) -> Option<Moment> {
    let zone = TimeZone::get(site_zone(affairs).name()).unwrap_or(TimeZone::UTC);
    let at = Timestamp::from_millisecond(at)
        .ok()?
        .to_zoned_datetime(zone);
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
