//! The civil day of a moment at the site. Offsets from UTC: New York -5 h in winter, -4 h in summer; Auckland +13 h in
//! January (IANA time zone database, from memory; worked by hand).

use claim::{AfterHours, Arrival, Closing, Date, Time, Zone};

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn ms(text: &str) -> i64 {
    text.parse::<jiff::Timestamp>().unwrap().as_millisecond()
}

#[test]
fn an_evening_here_is_tomorrow_there_and_the_site_decides() {
    let moment = ms("2026-11-26T02:30:00Z");
    let there = |zone: &str| Arrival::at(moment, &Zone::named(zone).unwrap(), None).unwrap();
    let new_york = there("America/New_York");
    assert_eq!(
        (new_york.day, new_york.time),
        (day("2026-11-25"), "21:30".parse().unwrap())
    );
    assert_eq!(there("UTC").day, day("2026-11-26"));
    let summer = Zone::named("America/New_York")
        .unwrap()
        .at(ms("2026-07-01T03:59:59Z"))
        .unwrap();
    assert_eq!(summer, (day("2026-06-30"), "23:59:59".parse().unwrap()));
    let south = Zone::named("Pacific/Auckland")
        .unwrap()
        .at(ms("2026-01-15T11:00:00Z"))
        .unwrap();
    assert_eq!(south.0, day("2026-01-16"));
}

#[test]
fn after_hours_counts_on_the_day_itself_unless_it_is_set_otherwise() {
    let zone = Zone::named("America/New_York").unwrap();
    let hour: Time = "17:00".parse().unwrap();
    let at = |text: &str, then| Arrival::at(ms(text), &zone, Some(Closing { hour, then })).unwrap();
    let late = "2026-11-25T23:10:00Z"; // 18:10 there
    let same = at(late, AfterHours::default());
    assert_eq!(
        (same.day, same.after_hours),
        (day("2026-11-25"), Some(AfterHours::SameDay))
    );
    let next = at(late, AfterHours::NextDay);
    assert_eq!(
        (next.day, next.after_hours),
        (day("2026-11-26"), Some(AfterHours::NextDay))
    );
    let early = at("2026-11-25T21:59:59Z", AfterHours::NextDay);
    assert_eq!((early.day, early.after_hours), (day("2026-11-25"), None));
    let on_the_hour = at("2026-11-25T22:00:00Z", AfterHours::NextDay);
    assert_eq!(on_the_hour.day, day("2026-11-26"));
}

#[test]
fn what_is_no_zone_or_no_moment_is_said() {
    let no_zone = Zone::named("Osprey/Island").unwrap_err().to_string();
    assert_eq!(
        no_zone,
        "\"Osprey/Island\" is no time zone that we know; they are called like America/New_York or Europe/Dublin"
    );
    assert!(Zone::named("../../etc/passwd").is_err());
    assert!(Zone::named("").is_err());
    let utc = Zone::named("UTC").unwrap();
    for ms in [i64::MIN, i64::MAX] {
        assert!(Arrival::at(ms, &utc, None).is_err());
    }
}
