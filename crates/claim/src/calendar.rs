//! Days as a calendar file (iCalendar, RFC 5545), with alarms.

use crate::due::Due;

/// What a calendar file is made of, beside the days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Calendar<'a> {
    /// What tells this job from every other, for good.
    pub job: &'a str,
    /// The shipment's name.
    pub shipment: &'a str,
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
    /// Titles of what has no day, and so is not in the file.
    pub left_out: Vec<String>,
}

impl Calendar<'_> {
    /// Returns the file for what is due.
    pub fn file(&self, due: &[Due<'_>]) -> CalendarFile {
        let _ = due;
        CalendarFile {
            text: String::new(),
            left_out: Vec::new(),
        }
    }
}
