use claim::{Known, KnownLine, Paper, Wrong};
use serde::Serialize;

use crate::letter::{Letter, Missing, known_line, missing_by};
use crate::osd::{SenderWords, check_count};
use crate::photos::{self, Photo};
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset_with_photos;

/// Return list: what came over or wrong, in what state, and what the sender said is to be done with it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ReturnList {
    /// Its head and foot; it is written to the sender.
    #[serde(flatten)]
    pub letter: Letter,
    /// The number under which the sender takes goods back; empty if none was given.
    pub return_number: String,
    /// Where the goods are to go; empty if the sender has not said.
    pub send_to: String,
    /// Who pays the carriage back, as the sender said; may be empty.
    pub freight: String,
    /// What is over or wrong.
    pub rows: Vec<ReturnRow>,
    /// Photos.
    #[serde(skip)]
    pub photos: Vec<Photo>,
}

/// One row of a return list.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ReturnRow {
    /// The piece mark; empty for what is no part of this order.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// The sender's own words for it.
    pub sender: Option<SenderWords>,
    /// How many.
    pub quantity: i64,
    /// Why: `over`, `wrong`, `no part of this order`.
    pub why: String,
    /// The state it is in: `as new`, `2 bent`; empty if nobody said.
    pub condition: String,
    /// Where it lies: `pile C`; may be empty.
    pub lies: String,
    /// What the sender said, with the day; empty if nothing.
    pub sender_said: String,
}

/// Returns the list as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it. A photo that cannot be shown is said in the paper, and is no error.
pub fn return_list(list: &ReturnList, print: &Print) -> Result<Vec<u8>, PaperError> {
    for (index, row) in list.rows.iter().enumerate() {
        check_count("rows", index, &row.mark, "quantity", Some(row.quantity))?;
    }
    let mut list = list.clone();
    let missing = list.missing();
    list.letter.also_missing(missing);
    let photos = std::mem::take(&mut list.photos);
    typeset_with_photos(Template::Returns, &list, &photos, print)
}

impl ReturnList {
    /// What the rules find missing from it before it may be called complete.
    pub fn missing(&self) -> Vec<Missing> {
        let missing = missing_by(&self.letter.rules, Paper::Return, &self.known());
        let missing = missing.into_iter().map(Missing::from);
        missing.chain(self.of_rows()).collect()
    }

    fn known(&self) -> Known {
        let lines = self.rows.iter().map(|row| KnownLine {
            senders_words: row
                .sender
                .as_ref()
                .map(SenderWords::any)
                .unwrap_or_default(),
            harm: row.condition.clone(),
            photos: photos::of_mark(&self.photos, &row.mark),
            ..known_line(row.name(), Wrong::Over, row.quantity)
        });
        let lies = |row: &ReturnRow| !row.lies.trim().is_empty();
        Known {
            sender: self.letter.to.name.clone(),
            lines: lines.collect(),
            return_consent: self.return_number.clone(),
            lies_at: match self.rows.iter().all(lies) {
                true => self.rows.iter().map(|row| row.lies.as_str()).collect(),
                false => String::new(),
            },
            ..self.letter.known()
        }
    }

    /// What the rules do not ask of each row, and a sender does.
    fn of_rows(&self) -> Vec<Missing> {
        let of_each = |empty: fn(&ReturnRow) -> bool, what: &str, why: &str| {
            let rows = match self.rows.iter().filter(|row| empty(row)).count() {
                0 => return None,
                1 => "1 row".to_owned(),
                n => format!("{n} rows"),
            };
            Some(Missing {
                must: false,
                source: "common practice, no source".to_owned(),
                ..Missing::of(format!("{what} for {rows}"), why)
            })
        };
        let condition = of_each(
            |row| row.condition.trim().is_empty(),
            "the condition",
            "the sender asks what state it is in",
        );
        let answer = of_each(
            |row| row.sender_said.trim().is_empty(),
            "the sender's answer",
            "nothing goes back before the sender has said so",
        );
        condition.into_iter().chain(answer).collect()
    }
}

impl ReturnRow {
    /// What it is called here.
    fn name(&self) -> &str {
        if self.mark.is_empty() {
            &self.description
        } else {
            &self.mark
        }
    }
}
