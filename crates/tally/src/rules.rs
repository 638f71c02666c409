//! What can stand in a log, and what is nonsense.
//!
//! These limits may be widened, never narrowed: an event that was once accepted must be read for
//! ever.

use crate::event::{Event, What};

/// The longest name (mark, pile, person, device, shipment), in characters.
pub const MAX_NAME: usize = 80;
/// The longest file name or row key, in characters.
pub const MAX_TITLE: usize = 255;
/// The longest note, reason or remark, in characters.
pub const MAX_WORDS: usize = 2_000;
/// The longest order, in bytes of TOML.
pub const MAX_TOML: usize = 64 * 1024;
/// The most pieces in one event.
pub const MAX_QUANTITY: i64 = 1_000_000;
/// The most events that one event may replace or correct.
pub const MAX_REFERENCES: usize = 1_000;
/// The most readings of one piece.
pub const MAX_READINGS: usize = 64;
/// The highest event number. Far beyond any log, and far enough below `i64::MAX` that the next
/// number can always be written in SQLite and read in JavaScript.
pub const MAX_SEQ: u64 = 1 << 52;
/// The latest moment: 9999-12-31T23:59:59.999 UTC.
pub const MAX_AT: i64 = 253_402_300_799_999;

/// Why something cannot stand in the log; names the field and what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// A name or text that must not be empty.
    #[error("{field} is empty")]
    Empty {
        /// The field.
        field: &'static str,
    },
    /// A text that is too long.
    #[error("{field} is {length} long; at most {most} fit")]
    TooLong {
        /// The field.
        field: &'static str,
        /// Its length (characters; bytes for the order).
        length: usize,
        /// The limit.
        most: usize,
    },
    /// A name with a line break or another control character.
    #[error("{field} holds a line break or another control character")]
    Control {
        /// The field.
        field: &'static str,
    },
    /// A number outside its range.
    #[error("{field} is {value}; it must be from {least} to {most}")]
    Range {
        /// The field.
        field: &'static str,
        /// The number given.
        value: i128,
        /// The least allowed.
        least: i128,
        /// The most allowed.
        most: i128,
    },
    /// A day that is not one.
    #[error("{field} is `{value}`; a day is written as 2026-03-31")]
    Day {
        /// The field.
        field: &'static str,
        /// The text given.
        value: String,
    },
    /// A time of the day that is not one.
    #[error("{field} is `{value}`; a time is written as 14:05")]
    Time {
        /// The field.
        field: &'static str,
        /// The text given.
        value: String,
    },
    /// An event that is not in the log cannot be corrected or replaced.
    #[error("event {0} is not in the log")]
    Unknown(crate::EventId),
    /// An event that no longer stands cannot be corrected or replaced again.
    #[error("event {0} no longer stands; it was replaced or corrected")]
    Void(crate::EventId),
    /// Nobody has counted there yet, so there is nothing to hold a second count against.
    #[error("nobody has counted {0} there yet; the first count is not a second look")]
    NothingToCheck(String),
    /// The body of a newer event is not JSON.
    #[error("the body is not JSON: {0}")]
    Body(String),
    /// The event as a whole is too big.
    #[error("the event takes {0} bytes; at most {max} fit", max = crate::MAX_WIRE)]
    TooBig(usize),
}

/// Checks an event against every limit.
pub(crate) fn check(event: &Event) -> Result<(), Refusal> {
    range("seq", event.seq.into(), 1, MAX_SEQ.into())?;
    range("at", event.at.into(), 0, MAX_AT.into())?;
    name("who", &event.who)?;
    name("device", &event.device)?;
    what(&event.what)
}

/// Checks what an event says against every limit.
pub(crate) fn what(what: &What) -> Result<(), Refusal> {
    match what {
        What::OrderSet { toml, family: _ } => {
            filled("toml", toml)?;
            within("toml", toml.len(), MAX_TOML)
        }
        What::ListAdded {
            name: title_text,
            shipment,
            digest: _,
        } => {
            title("name", title_text)?;
            optional("shipment", shipment)
        }
        What::ListDropped { digest: _ } => Ok(()),
        What::ListCorrected {
            name: title_text,
            old: _,
            digest: _,
        }
        | What::CodesTaken {
            name: title_text,
            digest: _,
        } => title("name", title_text),
        What::ListSentBy { sender, list: _ } => title("sender", sender),
        What::Overruled {
            row,
            mark,
            words,
            list: _,
        } => {
            title("row", row)?;
            optional("mark", mark)?;
            let words = words.as_deref().unwrap_or_default();
            within("words", words.chars().count(), MAX_WORDS)
        }
        What::Counted {
            mark,
            pile,
            quantity,
            replaces: named,
            how,
        }
        | What::CountedAgain {
            mark,
            pile,
            quantity,
            checks: named,
            how,
        } => {
            name("mark", mark)?;
            optional("pile", pile)?;
            range("quantity", (*quantity).into(), 0, MAX_QUANTITY.into())?;
            within("counts named", named.len(), MAX_REFERENCES)?;
            if named.is_empty() && matches!(what, What::CountedAgain { .. }) {
                return Err(Refusal::Empty { field: "checks" });
            }
            how.check(*quantity)
        }
        What::PilePlaced { pile, place } => {
            name("pile", pile)?;
            title("place", place)
        }
        What::Measured {
            mark,
            pile,
            readings,
        } => {
            optional("mark", mark)?;
            optional("pile", pile)?;
            within("readings", readings.len(), MAX_READINGS)
        }
        What::Photographed {
            shipment,
            mark,
            words,
            photo: _,
            shot: _,
            of: _,
        } => {
            optional("shipment", shipment)?;
            optional("mark", mark)?;
            within("words", words.chars().count(), MAX_WORDS)
        }
        What::Conditioned {
            mark,
            quantity,
            words,
            condition: _,
        } => {
            name("mark", mark)?;
            range("quantity", (*quantity).into(), 1, MAX_QUANTITY.into())?;
            within("words", words.chars().count(), MAX_WORDS)
        }
        What::Noted { mark, words } => {
            optional("mark", mark)?;
            filled("words", words)?;
            within("words", words.chars().count(), MAX_WORDS)
        }
        What::ShipmentArrived { shipment } => name("shipment", shipment),
        What::ShipmentNamed { shipment, due } => {
            name("shipment", shipment)?;
            optional_day("due", due.as_deref())
        }
        What::FreightSaid(freight) => freight.check(),
        What::Delivered(delivery) => delivery.check(),
        What::ZoneSet { zone } => name("zone", zone),
        What::Agreed(agreed) => agreed.check(),
        What::Done(done) => done.check(),
        What::DayOff(day) => day.check(),
        What::Written(written) => written.check(),
        What::Priced(priced) => priced.check(),
        What::PointKept(kept) => kept.check(),
        What::Answered(answered) => answered.check(),
        What::PointClosed(closed) => closed.check(),
        What::JobClosed(closed) => within("words", closed.words.chars().count(), MAX_WORDS),
        What::GroundSet(ground) => ground.check(),
        What::PilePut(spot) => spot.check(),
        What::StakesRead(read) => read.check(),
        What::CrewDay(day) => day.check(),
        What::Expected(expected) => expected.check(),
        What::WaySaid(way) => way.check(),
        What::Worked(worked) => worked.check(),
        What::ToolsSeen(tools) => tools.check(),
        What::Corrected { of, why } => {
            if of.is_empty() {
                return Err(Refusal::Empty { field: "of" });
            }
            within("of", of.len(), MAX_REFERENCES)?;
            within("why", why.chars().count(), MAX_WORDS)
        }
        What::Other { kind, body, v: _ } => {
            name("kind", kind)?;
            serde_json::from_str::<&serde_json::value::RawValue>(body)
                .map(drop)
                .map_err(|error| Refusal::Body(error.to_string()))
        }
    }
}

pub(crate) fn name(field: &'static str, text: &str) -> Result<(), Refusal> {
    line(field, text, MAX_NAME)
}

pub(crate) fn title(field: &'static str, text: &str) -> Result<(), Refusal> {
    line(field, text, MAX_TITLE)
}

pub(crate) fn optional(field: &'static str, text: &Option<String>) -> Result<(), Refusal> {
    text.as_deref().map_or(Ok(()), |text| name(field, text))
}

/// A name that may be left out.
pub(crate) fn empty_or_name(field: &'static str, text: &str) -> Result<(), Refusal> {
    match text.is_empty() {
        true => Ok(()),
        false => name(field, text),
    }
}

pub(crate) fn optional_day(field: &'static str, text: Option<&str>) -> Result<(), Refusal> {
    text.map_or(Ok(()), |text| day(field, text))
}

/// A time of the day, as `14:05`.
pub(crate) fn time(field: &'static str, text: &str) -> Result<(), Refusal> {
    let number = |part: &str| {
        let digits = part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
        digits.then(|| part.parse::<u32>().ok()).flatten()
    };
    let parts = text.split_once(':');
    match parts.map(|(hour, minute)| (number(hour), number(minute))) {
        Some((Some(0..=23), Some(0..=59))) => Ok(()),
        _ => Err(Refusal::Time {
            field,
            value: text.chars().take(MAX_NAME).collect(),
        }),
    }
}

/// Names stand on labels and in tables, so each must be one visible line.
fn line(field: &'static str, text: &str, most: usize) -> Result<(), Refusal> {
    filled(field, text)?;
    within(field, text.chars().count(), most)?;
    match text.chars().any(char::is_control) {
        true => Err(Refusal::Control { field }),
        false => Ok(()),
    }
}

fn filled(field: &'static str, text: &str) -> Result<(), Refusal> {
    match text.trim().is_empty() {
        true => Err(Refusal::Empty { field }),
        false => Ok(()),
    }
}

pub(crate) fn within(field: &'static str, length: usize, most: usize) -> Result<(), Refusal> {
    match length > most {
        true => Err(Refusal::TooLong {
            field,
            length,
            most,
        }),
        false => Ok(()),
    }
}

pub(crate) fn range(
    field: &'static str,
    value: i128,
    least: i128,
    most: i128,
) -> Result<(), Refusal> {
    match (least..=most).contains(&value) {
        true => Ok(()),
        false => Err(Refusal::Range {
            field,
            value,
            least,
            most,
        }),
    }
}

pub(crate) fn day(field: &'static str, text: &str) -> Result<(), Refusal> {
    match is_day(text) {
        true => Ok(()),
        false => Err(Refusal::Day {
            field,
            value: text.chars().take(MAX_NAME).collect(),
        }),
    }
}

/// Says whether the text is a day of the Gregorian calendar, as ISO 8601 writes it.
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else {
        return false;
    };
    let number = |part: &str, width: usize| {
        let digits = part.len() == width && part.bytes().all(|byte| byte.is_ascii_digit());
        digits.then(|| part.parse::<u32>().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2))
    else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 => 28 + u32::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return false,
    };
    (1..=days).contains(&day)
}
