//! The moment of delivery, and the day on which it counts at the site.
//!
//! No source was seen that says how a delivery after hours counts. So it counts on its own day, which gives the
//! earliest last day; who has agreed otherwise sets [`AfterHours::NextDay`].

use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{TimeZone, TimeZoneDatabase};

/// A site's time zone, out of the database that is built into the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Zone(TimeZone);

/// A name that is no time zone.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "\"{name}\" is no time zone that we know; they are called like America/New_York or Europe/Dublin"
)]
pub struct NoZone {
    /// The name as it was given.
    pub name: String,
}

/// A moment that no calendar of ours reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{ms} ms since 1970 is no moment between the years -9999 and 9999")]
pub struct NoMoment {
    /// The moment as it was given.
    pub ms: i64,
}

/// A delivery by the clock at the site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival {
    /// The moment: milliseconds since 1970-01-01 UTC.
    pub ms: i64,
    /// The day on which it counts.
    pub day: Date,
    /// The time of day at the site.
    pub time: Time,
    /// Whether that was after the closing hour, and how it was counted then.
    pub after_hours: Option<AfterHours>,
    zone: Zone,
}

/// Until when a site takes deliveries, and how a later one counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Closing {
    /// The hour at which the site closes. A delivery at that very time is after hours.
    pub hour: Time,
    /// How a later one counts.
    pub then: AfterHours,
}

/// How a delivery after hours counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum AfterHours {
    /// On the day itself: the strictest reading.
    #[default]
    SameDay,
    /// On the next day. Only where that was agreed.
    NextDay,
}

impl Zone {
    /// Returns the zone of this name: a place of the IANA time zone database.
    pub fn named(name: &str) -> Result<Self, NoZone> {
        TimeZoneDatabase::bundled()
            .get(name)
            .map(Self)
            .map_err(|_| NoZone { name: name.into() })
    }

    /// Returns the zone of the clock that every other is set by.
    pub fn utc() -> Self {
        Self(TimeZone::UTC)
    }

    /// Returns the names of all zones, in the order of the alphabet.
    pub fn names() -> Vec<String> {
        let mut names: Vec<String> = (TimeZoneDatabase::bundled().available())
            .map(|name| name.to_string())
            .collect();
        names.sort();
        names
    }

    /// Returns the moment of a day and time at the site, in milliseconds since 1970-01-01 UTC. Of an hour that a clock
    /// set back goes through twice it is the earlier one; one that a clock set forward leaves out is moved on.
    pub fn moment(&self, there: DateTime) -> Option<i64> {
        let moment = self.0.to_ambiguous_timestamp(there).compatible().ok()?;
        Some(moment.as_millisecond())
    }

    /// Returns the zone's name.
    pub fn name(&self) -> &str {
        self.0.iana_name().unwrap_or("UTC")
    }

    /// Returns the day and the time of day at the site.
    pub fn at(&self, ms: i64) -> Result<(Date, Time), NoMoment> {
        let moment = Timestamp::from_millisecond(ms).map_err(|_| NoMoment { ms })?;
        let there = self.0.to_datetime(moment);
        Ok((there.date(), there.time()))
    }
}

impl Arrival {
    /// Returns the delivery at a moment, by the clock at the site.
    pub fn at(ms: i64, zone: &Zone, closing: Option<Closing>) -> Result<Self, NoMoment> {
        let (day, time) = zone.at(ms)?;
        let after_hours = closing.filter(|c| time >= c.hour).map(|c| c.then);
        let day = match after_hours {
            Some(AfterHours::NextDay) => day.tomorrow().map_err(|_| NoMoment { ms })?,
            _ => day,
        };
        Ok(Self {
            ms,
            day,
            time,
            after_hours,
            zone: zone.clone(),
        })
    }

    /// Returns the site's time zone.
    pub fn zone(&self) -> &Zone {
        &self.zone
    }
}
