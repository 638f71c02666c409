use serde::Serialize;

use crate::letter::{Letter, Missing, blanks};
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
    /// The number of the order that it belongs to; empty if unknown.
    pub order_number: String,
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
    let lacking = order.lacking();
    order.letter.also_missing(lacking);
    typeset(Template::Replacement, &order, print)
}

impl ReplacementOrder {
    fn lacking(&self) -> Vec<Missing> {
        let mut missing = self.letter.blanks("the sender that this goes to");
        missing.extend(blanks([
            (
                &self.order_number,
                "the number of the order",
                "by it the sender finds the order",
            ),
            (&self.send_to, "where the goods are to be sent", ""),
        ]));
        if self.rows.is_empty() {
            missing.push(Missing::of("what is ordered", "no row stands here yet"));
        }
        let unnamed = (self.rows.iter())
            .filter(|row| row.code.trim().is_empty() && row.description.trim().is_empty());
        missing.extend(unnamed.map(|row| {
            Missing::of(
                format!("the sender's own name for {}", row.mark),
                "no row of a packing list names it",
            )
        }));
        missing
    }
}
