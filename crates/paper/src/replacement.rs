use claim::{Known, KnownLine, Paper, Wrong};
use serde::Serialize;

use crate::letter::{Letter, Missing, known_line, missing_by};
use crate::osd::check_count;
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset;

/// Replacement order: what the sender is to send, in the sender's own row names.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ReplacementOrder {
    /// Its head and foot; it is written to the sender.
    #[serde(flatten)]
    pub letter: Letter,
    /// Where the goods are to be sent.
    pub send_to: String,
    /// By when they are needed on the site, and for what: `2026-05-18, before the bows are raised`; may be empty.
    pub needed_by: String,
    /// What is ordered.
    pub rows: Vec<ReplacementRow>,
}

/// One row of a replacement order.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ReplacementRow {
    /// The sender's code; empty where the list has none.
    pub code: String,
    /// The description as on the list; empty where no list names the part.
    pub description: String,
    /// Where it stood: `list 1, row 14`.
    pub stood: String,
    /// The bag or bundle it belongs to, as the sender calls it; may be empty.
    pub sub_kit: String,
    /// How many.
    pub quantity: i64,
    /// Our mark.
    pub mark: String,
    /// What it is, in our words.
    pub ours: String,
    /// Why it is ordered: `5 short`, `3 damaged`.
    pub why: String,
}

/// Returns the order as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be; [`PaperError::TooMuch`] if no one could
/// read it.
pub fn replacement_order(order: &ReplacementOrder, print: &Print) -> Result<Vec<u8>, PaperError> {
    for (index, row) in order.rows.iter().enumerate() {
        check_count("rows", index, &row.mark, "quantity", Some(row.quantity))?;
    }
    let mut order = order.clone();
    let missing = order.missing();
    order.letter.also_missing(missing);
    typeset(Template::Replacement, &order, print)
}

impl ReplacementOrder {
    /// What the rules find missing from it before it may be called complete.
    pub fn missing(&self) -> Vec<Missing> {
        let missing = missing_by(&self.letter.rules, Paper::Replacement, &self.known());
        missing.into_iter().map(Missing::from).collect()
    }

    fn known(&self) -> Known {
        let lines = self.rows.iter().map(|row| KnownLine {
            senders_words: format!("{}{}", row.code, row.description),
            ..known_line(&row.mark, Wrong::Short, row.quantity)
        });
        Known {
            sender: self.letter.to.name.clone(),
            lines: lines.collect(),
            send_to: self.send_to.clone(),
            needed_by: !self.needed_by.trim().is_empty(),
            ..self.letter.known()
        }
    }
}
