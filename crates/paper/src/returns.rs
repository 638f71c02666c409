use serde::Serialize;

use crate::letter::{Letter, Missing};
use crate::osd::{SenderWords, check_count};
use crate::photos::Photo;
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
    let lacking = list.lacking();
    list.letter.also_missing(lacking);
    let photos = std::mem::take(&mut list.photos);
    typeset_with_photos(Template::Returns, &list, &photos, print)
}

impl ReturnList {
    fn lacking(&self) -> Vec<Missing> {
        let mut missing = self.letter.blanks("the sender that this goes to");
        if self.rows.is_empty() {
            missing.push(Missing::of("what goes back", "no row stands here yet"));
        }
        let of_each =
            |missing: &mut Vec<Missing>, empty: fn(&ReturnRow) -> bool, what: &str, why: &str| {
                match self.rows.iter().filter(|row| empty(row)).count() {
                    0 => {}
                    1 => missing.push(Missing::of(format!("{what} for 1 row"), why)),
                    n => missing.push(Missing::of(format!("{what} for {n} rows"), why)),
                }
            };
        of_each(
            &mut missing,
            |row| row.condition.trim().is_empty(),
            "the condition",
            "the sender asks what state it is in",
        );
        of_each(
            &mut missing,
            |row| row.sender_said.trim().is_empty(),
            "the sender's answer",
            "nothing goes back before the sender has said so",
        );
        missing
    }
}
