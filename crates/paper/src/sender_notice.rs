use claim::{Known, KnownLine, Paper, Wrong};
use serde::Serialize;

use crate::letter::{Letter, Missing, count_missing, known_line, missing_by};
use crate::osd::{SenderWords, Sighting, check_count};
use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with_photos;

/// Notice of shortage, overage and wrong parts to the sender, with what was counted, what was read, and photos.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct SenderNotice {
    /// Its head and foot; it is written to the sender.
    #[serde(flatten)]
    pub letter: Letter,
    /// The shipments it is about, and when they came: `first ferry load, 2026-05-04`.
    pub shipments: Vec<String>,
    /// Too few, and nothing else explains them.
    pub short: Vec<NoticeRow>,
    /// More than were asked for.
    pub over: Vec<NoticeRow>,
    /// Here in place of something else.
    pub wrong: Vec<NoticeRow>,
    /// Here, and not fit to use.
    pub damaged: Vec<NoticeRow>,
    /// Promised in another shipment: not called short here.
    pub to_come: Vec<NoticeRow>,
    /// Marks that nobody has counted yet: nothing is said about them.
    pub uncounted: Vec<String>,
    /// Photos.
    #[serde(skip)]
    pub photos: Vec<Photo>,
}

/// One mark of a notice.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct NoticeRow {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// The sender's own words for it; nothing where no row of a list names it.
    pub sender: Option<SenderWords>,
    /// How many the building needs.
    pub needed: Option<i64>,
    /// How many the packing lists say.
    pub listed: Option<i64>,
    /// How many were counted.
    pub counted: Option<i64>,
    /// How many this is about.
    pub amount: i64,
    /// The likeliest cause, in words; may be empty.
    pub cause: String,
    /// What would settle it, in words; may be empty.
    pub check: String,
    /// What was measured, each as it should be read: `measured 1.66 in across with a caliper, Wren, 2026-05-04 10:05`.
    pub readings: Vec<String>,
    /// What people saw.
    pub seen: Vec<Sighting>,
    /// What is asked for: `send 5`, `say whether it may be kept`.
    pub asks: String,
}

/// Returns the notice as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it. A photo that cannot be shown is said in the paper, and is no error.
pub fn sender_notice(notice: &SenderNotice, print: &Print) -> Result<Vec<u8>, PaperError> {
    for (table, rows) in notice.tables() {
        check_rows(table, rows)?;
    }
    let mut notice = notice.clone();
    let missing = notice.missing();
    notice.letter.also_missing(missing);
    let photos = std::mem::take(&mut notice.photos);
    typeset_with_photos(Template::SenderNotice, &notice, &photos, print)
}

impl SenderNotice {
    /// What the rules find missing from it before it may be called complete.
    pub fn missing(&self) -> Vec<Missing> {
        let missing = missing_by(&self.letter.rules, Paper::ToSender, &self.known());
        let missing = missing.into_iter().map(Missing::from);
        missing.chain(count_missing(self.uncounted.len())).collect()
    }

    fn tables(&self) -> [(&'static str, &[NoticeRow]); 5] {
        [
            ("short", &self.short),
            ("over", &self.over),
            ("wrong", &self.wrong),
            ("damaged", &self.damaged),
            ("to_come", &self.to_come),
        ]
    }

    fn known(&self) -> Known {
        let told = [
            (Wrong::Short, &self.short),
            (Wrong::Over, &self.over),
            (Wrong::OtherPart, &self.wrong),
            (Wrong::Damaged, &self.damaged),
        ];
        let lines = told.into_iter().flat_map(|(wrong, rows)| {
            rows.iter().map(move |row| KnownLine {
                senders_words: row
                    .sender
                    .as_ref()
                    .map(SenderWords::any)
                    .unwrap_or_default(),
                harm: row
                    .seen
                    .iter()
                    .map(|seen| seen.condition.as_str())
                    .collect(),
                photos: photos::of_mark(&self.photos, &row.mark),
                reading: row.readings.concat(),
                ..known_line(&row.mark, wrong, row.amount)
            })
        });
        let rows = || told.into_iter().flat_map(|(_, rows)| rows);
        Known {
            sender: self.letter.to.name.clone(),
            lines: lines.collect(),
            wish: rows().map(|row| row.asks.as_str()).collect(),
            ..self.letter.known()
        }
    }
}

fn check_rows(table: &'static str, rows: &[NoticeRow]) -> Result<(), PaperError> {
    for (index, row) in rows.iter().enumerate() {
        let numbers = [
            ("needed", row.needed),
            ("listed", row.listed),
            ("counted", row.counted),
            ("amount", Some(row.amount)),
        ];
        let seen = row.seen.iter().map(|sighting| ("seen", sighting.pieces));
        for (field, number) in numbers.into_iter().chain(seen) {
            check_count(table, index, &row.mark, field, number)?;
        }
    }
    Ok(())
}
