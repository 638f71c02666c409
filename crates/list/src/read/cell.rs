//! One cell while a reader puts it together: words with a line through them are kept apart from the others.

use crate::limits;
use crate::read::text::cut;

/// The words of a cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// What counts.
    plain: String,
    /// What has a line through it.
    struck: String,
    /// How many rows below this one it reaches over too.
    pub reaches_down: u32,
}

impl Cell {
    /// A cell of one text.
    pub fn new(text: impl AsRef<str>, struck: bool) -> Self {
        let mut cell = Self::default();
        cell.push(text.as_ref(), struck);
        cell
    }

    /// Adds words as they come, up to a little more than is kept of a cell: a cell may be repeated.
    pub fn push(&mut self, text: &str, struck: bool) {
        let room = (2 * limits::MAX_CELL_BYTES).saturating_sub(self.len());
        self.side(struck).push_str(cut(text, room));
    }

    /// Adds a space, unless there is one or nothing to part.
    pub fn part(&mut self) {
        for side in [&mut self.plain, &mut self.struck] {
            if !side.is_empty() && !side.ends_with(char::is_whitespace) {
                side.push(' ');
            }
        }
    }

    /// Adds all words of another, parted by a space.
    pub fn append(&mut self, other: &Cell) {
        self.part();
        self.plain.push_str(&other.plain);
        self.struck.push_str(&other.struck);
    }

    /// What the cell says: the words that count, or those with a line through them when there are no others.
    pub fn text(&self) -> &str {
        if is_blank(&self.plain) {
            &self.struck
        } else {
            &self.plain
        }
    }

    /// Nothing in it.
    pub fn is_empty(&self) -> bool {
        is_blank(&self.plain) && is_blank(&self.struck)
    }

    /// A line goes through all of it.
    pub fn is_struck(&self) -> bool {
        is_blank(&self.plain) && !is_blank(&self.struck)
    }

    /// Words with a line through them beside words that count.
    pub fn left_out(&self) -> Option<&str> {
        (!is_blank(&self.plain) && !is_blank(&self.struck)).then(|| self.struck.trim())
    }

    /// Bytes of all its words.
    pub fn len(&self) -> usize {
        self.plain.len() + self.struck.len()
    }

    fn side(&mut self, struck: bool) -> &mut String {
        if struck {
            &mut self.struck
        } else {
            &mut self.plain
        }
    }
}

fn is_blank(text: &str) -> bool {
    text.chars().all(char::is_whitespace)
}

/// A number as a text: the shortest that says it, without the noise of binary fractions behind the ninth decimal,
/// which is finer than anything that is packed.
pub fn number_text(number: f64) -> String {
    let rounded = (number * 1e9).round() / 1e9;
    if rounded.is_finite() && number.abs() < 1e6 {
        rounded.to_string()
    } else {
        number.to_string()
    }
}
