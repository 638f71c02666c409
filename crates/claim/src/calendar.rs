//! Days as a calendar file (iCalendar, RFC 5545), with alarms.
//!
//! Written here, since the crate for it (`icalendar` 0.17) reads the clock and makes a random UID for every alarm,
//! neither of which RFC 5545 has in an alarm: the same days would never give the same bytes. Its parser is one of the
//! two that check this file in tests.
//!
//! An act that no longer falls due is not in a later file, and what a calendar took in before stays there.

use jiff::Timestamp;
use jiff::civil::Date;

use crate::arrival::NoMoment;
use crate::due::{Due, NO_ADVICE, State};
use crate::facts::Term;
use crate::reach::day_in_words;
use crate::rule::{Force, Party, Period, Unit};

/// The most octets of a line, its end not counted (RFC 5545, 3.1).
const MOST_OCTETS: usize = 75;

/// Nine in the morning, a week and a day before: a day begins at midnight.
const BEFORE_A_DAY: [(&str, &str); 2] =
    [("-P6DT15H", "Due in a week."), ("-PT15H", "Due tomorrow.")];

/// Nine in the morning, thirty days before: what ends after months may take weeks to write.
const LONG_BEFORE_A_DAY: (&str, &str) = ("-P29DT15H", "Due in 30 days.");

/// Nine in the morning of the day after that on which the other side should have acted.
const AFTER_A_DAY: (&str, &str) = ("P1DT9H", "The day has gone by: has it come? If not, ask.");

/// Before a last moment.
const BEFORE_A_MOMENT: [(&str, &str); 2] =
    [("-P1D", "Due in a day."), ("-PT4H", "Due in four hours.")];

/// What a calendar file is made of, beside the days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Calendar<'a> {
    /// What tells this job from every other, for good.
    pub job: &'a str,
    /// The moment at which the file is made: milliseconds since 1970-01-01 UTC.
    pub made_at: i64,
    /// A number that rises with every change, such as that of the log's last event: a calendar that takes the file in
    /// again keeps what has the higher one.
    pub sequence: u64,
}

/// A calendar file, and what could not stand in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalendarFile {
    /// The file's text.
    pub text: String,
    /// How many entries it has.
    pub entries: usize,
    /// Titles of open acts that have no day, and so are not in the file.
    pub left_out: Vec<String>,
}

/// When an entry is.
enum At {
    Day(Date),
    Moment(Timestamp),
}

impl At {
    /// A year has four digits there (RFC 5545, 3.3.4).
    fn day(day: Date) -> Option<Self> {
        (day.year() > 0).then_some(Self::Day(day))
    }
}

impl Calendar<'_> {
    /// Returns the file for what is due, of each shipment by its name.
    pub fn file(&self, shipments: &[(&str, Vec<Due<'_>>)]) -> Result<CalendarFile, NoMoment> {
        let made_at = moment(self.made_at)?;
        let mut lines = Lines::default();
        lines.put("BEGIN", "VCALENDAR");
        lines.put("VERSION", "2.0");
        lines.put("PRODID", "-//Tallyard//claim dates//EN");
        lines.put("CALSCALE", "GREGORIAN");
        let mut entries = 0;
        let mut left_out = Vec::new();
        for (shipment, due) in shipments {
            for due in due {
                let at = match due.until {
                    Some(until) => Some(At::Moment(moment(until)?)),
                    None => due.date.and_then(At::day),
                };
                let own = due.own_target.and_then(At::day);
                if at.is_none() && own.is_none() && due.is_open() {
                    left_out.push(format!("{} (shipment {shipment})", due.rule.title));
                }
                for (at, own) in [(at, false), (own, true)] {
                    if let Some(at) = at {
                        self.entry(&mut lines, &made_at, shipment, due, &at, own);
                        entries += 1;
                    }
                }
            }
        }
        lines.put("END", "VCALENDAR");
        Ok(CalendarFile {
            text: lines.0,
            entries,
            left_out,
        })
    }

    fn entry(
        &self,
        lines: &mut Lines,
        made_at: &Timestamp,
        shipment: &str,
        due: &Due<'_>,
        at: &At,
        own: bool,
    ) {
        lines.put("BEGIN", "VEVENT");
        lines.put("UID", &self.uid(shipment, due, own));
        lines.put("DTSTAMP", &utc(made_at));
        lines.put("SEQUENCE", &self.sequence.min(i32::MAX as u64).to_string());
        match at {
            At::Day(day) => lines.put("DTSTART;VALUE=DATE", &day.strftime("%Y%m%d").to_string()),
            At::Moment(moment) => lines.put("DTSTART", &utc(moment)),
        }
        let summary = summary(shipment, due, own);
        lines.put("SUMMARY", &escaped(&summary));
        lines.put("DESCRIPTION", &escaped(&description(due, own)));
        lines.put("TRANSP", "TRANSPARENT");
        for (trigger, words) in alarms(due, at, own) {
            lines.put("BEGIN", "VALARM");
            lines.put("ACTION", "DISPLAY");
            lines.put("TRIGGER", trigger);
            lines.put("DESCRIPTION", &escaped(&format!("{words} {summary}")));
            lines.put("END", "VALARM");
        }
        lines.put("END", "VEVENT");
    }

    /// The same for the same act of the same shipment, whatever its day; no two acts share one.
    fn uid(&self, shipment: &str, due: &Due<'_>, own: bool) -> String {
        format!(
            "{}.{}.{}.{}{}@tallyard.invalid",
            plain(self.job),
            plain(shipment),
            due.rule.id,
            due.round,
            if own { ".own" } else { "" }
        )
    }
}

fn summary(shipment: &str, due: &Due<'_>, own: bool) -> String {
    let day = match (due.state, due.rule.by) {
        (State::Done { .. }, _) => "Done",
        _ if own => "Your own target",
        (_, Party::Receiver) => "Last day",
        (_, Party::Carrier) => "The carrier's last day",
        (_, Party::Sender) => "The sender's last day",
    };
    format!("{day}: {} (shipment {shipment})", due.rule.title)
}

/// What is done or has gone by rings no more.
fn alarms(due: &Due<'_>, at: &At, own: bool) -> Vec<(&'static str, &'static str)> {
    if matches!(due.state, State::Done { .. } | State::Passed) {
        return Vec::new();
    }
    let long = match due.agreed.map_or(Term::Period(due.rule.period), |a| a.term) {
        Term::Period(Period::Of { unit, .. }) => matches!(unit, Unit::Months | Unit::Years),
        _ => false,
    };
    match at {
        At::Moment(_) => BEFORE_A_MOMENT.to_vec(),
        At::Day(_) if due.rule.force == Force::TimeToAsk && !own => vec![AFTER_A_DAY],
        At::Day(_) if long && !own => [&[LONG_BEFORE_A_DAY], &BEFORE_A_DAY[..]].concat(),
        At::Day(_) => BEFORE_A_DAY.to_vec(),
    }
}

/// The act in full, but for the days left, which would be wrong the day after.
fn description(due: &Due<'_>, own: bool) -> String {
    let mut undated = due.clone();
    undated.days_left = None;
    let mut all = undated.says();
    if own && let Some(day) = due.own_target {
        all = format!(
            "You set {} yourself; it binds nobody.\n{all}",
            day_in_words(day)
        );
    }
    let rule = due.rule;
    all.push_str(&format!(
        "\nSource: {} ({}, {})",
        rule.source,
        rule.basis.words(),
        rule.sure.words()
    ));
    if !rule.check.is_empty() {
        all.push_str(&format!("; {}", rule.check));
    }
    all.push('.');
    if !rule.less_sure.is_empty() {
        all.push_str(&format!(" {}", rule.less_sure));
    }
    all.push('\n');
    all.push_str(NO_ADVICE);
    all
}

fn moment(ms: i64) -> Result<Timestamp, NoMoment> {
    Timestamp::from_millisecond(ms).map_err(|_| NoMoment { ms })
}

fn utc(moment: &Timestamp) -> String {
    moment.strftime("%Y%m%dT%H%M%SZ").to_string()
}

/// Letters, digits and hyphens as they are, every other octet as an underscore and its two hexadecimal digits.
fn plain(text: &str) -> String {
    text.bytes()
        .map(|b| match b {
            b'-' => "-".into(),
            _ if b.is_ascii_alphanumeric() => char::from(b).to_string(),
            _ => format!("_{b:02x}"),
        })
        .collect()
}

/// Text as RFC 5545, 3.3.11 has it. Other control characters may not stand in it, and are left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            ';' => out.push_str("\\;"),
            ',' => out.push_str("\\,"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push('\t'),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Lines of a calendar file, folded.
#[derive(Default)]
struct Lines(String);

impl Lines {
    fn put(&mut self, name: &str, value: &str) {
        let mut octets = 0;
        for c in name.chars().chain([':']).chain(value.chars()) {
            if octets + c.len_utf8() > MOST_OCTETS {
                self.0.push_str("\r\n ");
                octets = 1;
            }
            self.0.push(c);
            octets += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}
