use thiserror::Error;
use typst::foundations::Datetime;
use typst_pdf::Timestamp;

/// How a paper is to be printed, and the two things that a PDF wants and that only the caller
/// knows: when it was made, and what identifies it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Print {
    /// The paper in the printer.
    pub sheet: Sheet,
    /// When the paper was made; stands in its footer and in the file.
    pub made_at: Moment,
    /// Identifies this very paper, in 1 to 64 printable ASCII characters; stands in its footer, and
    /// the file's own id is made from it. It changes whenever the content does.
    pub id: String,
    /// Language of the paper as a language code, with or without a region: `en`, `en-US`. The
    /// paper's own words are English so far; the code tells a screen reader how to speak.
    pub language: String,
}

/// The size of the sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// 8 1/2 by 11 inches.
    Letter,
    /// 210 by 297 mm.
    A4,
}

/// A moment in local time, with what it is ahead of UTC. In parts, so that this crate needs no
/// calendar and takes any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Year, 1900 to 9999.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
    /// Hour, 0 to 23.
    pub hour: u8,
    /// Minute, 0 to 59.
    pub minute: u8,
    /// Second, 0 to 59.
    pub second: u8,
    /// Minutes that local time is ahead of UTC; negative west of Greenwich.
    pub utc_offset: i16,
}

/// Why a paper was not made.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum PaperError {
    /// A field of the [`Print`] is not usable.
    #[error("print, {field}: `{found}` is not {wanted}")]
    Print {
        /// The field's name.
        field: &'static str,
        /// What it held.
        found: String,
        /// What would be right.
        wanted: &'static str,
    },
    /// A number in a row cannot be.
    #[error("{table}, row {row} ({mark}), {field}: {found} is not {wanted}")]
    Row {
        /// The table of the paper.
        table: &'static str,
        /// The row, from 1.
        row: usize,
        /// The row's mark.
        mark: String,
        /// The field's name.
        field: &'static str,
        /// What it held.
        found: i64,
        /// What would be right.
        wanted: &'static str,
    },
    /// More than a paper can sensibly hold.
    #[error("the paper holds {found} {what}; {most} is the most for one paper: split it")]
    TooMuch {
        /// What there is too much of.
        what: &'static str,
        /// How many there are.
        found: usize,
        /// How many there may be.
        most: usize,
    },
    /// The typesetter refused. With the data checked, this is a fault of a template.
    #[error("the paper could not be set: {0}")]
    Typesetting(String),
}

impl Print {
    /// Checks every field; returns the time stamp for the file.
    pub(crate) fn check(&self) -> Result<Timestamp, PaperError> {
        let id_is_plain = self.id.bytes().all(|byte| (b' '..=b'~').contains(&byte));
        if !id_is_plain || self.id.trim().is_empty() || self.id.len() > 64 {
            let found = self.id.chars().take(64).collect();
            let wanted = "1 to 64 printable ASCII characters";
            return Err(refuse("id", found, wanted));
        }
        if self.locale().is_none() {
            let found = self.language.chars().take(64).collect();
            let wanted = "a language code with or without a region, like en or en-US";
            return Err(refuse("language", found, wanted));
        }
        let found = || format!("{:?}", self.made_at);
        let stamp = self.made_at.stamp();
        stamp.ok_or_else(|| refuse("made_at", found(), "a moment of the calendar from 1900 on"))
    }

    /// Language in small letters and region in capitals, if the code has the right shape.
    pub(crate) fn locale(&self) -> Option<(String, Option<String>)> {
        let letters = |part: &str, lengths: std::ops::RangeInclusive<usize>| {
            lengths.contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphabetic())
        };
        let (language, region) = match self.language.split_once('-') {
            Some((language, region)) => (language, Some(region)),
            None => (self.language.as_str(), None),
        };
        if !letters(language, 2..=3) || !region.is_none_or(|region| letters(region, 2..=2)) {
            return None;
        }
        let region = region.map(str::to_ascii_uppercase);
        Some((language.to_ascii_lowercase(), region))
    }
}

impl Sheet {
    /// The sheet by the name that the typesetter knows.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Letter => "us-letter",
            Self::A4 => "a4",
        }
    }
}

impl Moment {
    /// As it stands in a footer: `2026-05-01 09:30 UTC-07:00`.
    pub(crate) fn in_words(&self) -> String {
        let sign = if self.utc_offset < 0 { '-' } else { '+' };
        let ahead = self.utc_offset.unsigned_abs();
        format!(
            "{:04}-{:02}-{:02} {:02}:{:02} UTC{sign}{:02}:{:02}",
            self.year,
            self.month,
            self.day,
            self.hour,
            self.minute,
            ahead / 60,
            ahead % 60
        )
    }

    fn stamp(&self) -> Option<Timestamp> {
        let in_reach = (1900..=9999).contains(&self.year);
        let at = Datetime::from_ymd_hms(
            self.year,
            self.month,
            self.day,
            self.hour,
            self.minute,
            self.second,
        )?;
        // The typesetter writes an offset of less than an hour west with the wrong sign (the hour
        // it takes the sign from is zero); no place on Earth has had one since 1972.
        let offset_told_right = self.utc_offset >= 0 || self.utc_offset <= -60;
        (in_reach && offset_told_right)
            .then(|| Timestamp::new_local(at, i32::from(self.utc_offset)))
            .flatten()
    }
}

fn refuse(field: &'static str, found: String, wanted: &'static str) -> PaperError {
    PaperError::Print {
        field,
        found,
        wanted,
    }
}
