use serde::Serialize;

use crate::osd::check_count;
use crate::print::{PaperError, Print};
use crate::template::Template;
use crate::typeset::typeset;

/// A sheet to count on with a pencil: every mark with boxes to tick, in fives.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TallySheet {
    /// The job's name; on every page.
    pub job: String,
    /// The order in a line.
    pub order: String,
    /// Counting blind: how many there should be is left off, and every mark gets the same boxes, so
    /// that nobody counts towards a number. The better way, hence the default.
    pub blind: bool,
    /// The marks, by sub-kit or by stage.
    pub groups: Vec<TallyGroup>,
}

/// Marks that belong together.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct TallyGroup {
    /// The sub-kit's or the stage's name.
    pub name: String,
    /// Its marks.
    pub rows: Vec<TallyRow>,
}

/// One mark to count.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct TallyRow {
    /// The piece mark.
    pub mark: String,
    /// What it is, in words.
    pub description: String,
    /// What is counted, if it is not single pieces: `rolls`.
    pub unit: String,
    /// How many there should be; not negative.
    pub should_be: Option<i64>,
}

impl Default for TallySheet {
    fn default() -> Self {
        Self {
            job: String::new(),
            order: String::new(),
            blind: true,
            groups: Vec::new(),
        }
    }
}

/// Returns the tally sheet as a PDF.
///
/// # Errors
/// [`PaperError::Print`] and [`PaperError::Row`] name the field that cannot be;
/// [`PaperError::TooMuch`] if no one could carry it.
pub fn tally_sheet(sheet: &TallySheet, print: &Print) -> Result<Vec<u8>, PaperError> {
    for group in &sheet.groups {
        for (index, row) in group.rows.iter().enumerate() {
            check_count("tally sheet", index, &row.mark, "should_be", row.should_be)?;
        }
    }
    if !sheet.blind {
        return typeset(Template::TallySheet, sheet, print);
    }
    // What is left off does not even reach the template.
    let mut blind = sheet.clone();
    let rows = blind.groups.iter_mut().flat_map(|group| &mut group.rows);
    rows.for_each(|row| row.should_be = None);
    typeset(Template::TallySheet, &blind, print)
}
