//! What every reader makes of a file: sheets of lines of cells, each knowing where it stood.

use std::fmt;

use crate::row::SetAside;

/// A file as sheets of cells.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheets {
    /// In the file's order; text and CSV have one, without a name.
    pub sheets: Vec<Sheet>,
    /// Lines that no table is looked for in: hidden ones, a signature.
    pub set_aside: Vec<SetAside>,
    /// What was cleaned or cut on the way in.
    pub warnings: Vec<Warning>,
}

/// One sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Its name; empty when the file has no names for sheets.
    pub name: String,
    /// The lines that hold anything, from the top.
    pub lines: Vec<Line>,
}

/// One row of cells as it stood in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// Row number as a spreadsheet or an editor shows it, from 1.
    pub number: u32,
    /// Cell texts from the first column on, trimmed; an empty cell is an empty text.
    pub cells: Vec<String>,
    /// The page it stood on, from 1; 0 where the file has no pages. [`Self::number`] then counts its lines.
    pub page: u32,
    /// A line is drawn through all that it says.
    pub struck: bool,
    /// What a person should look at before the line is taken as said, such as that some of its words are struck.
    pub doubt: Option<Box<str>>,
    /// Where the words stood on a picture; nothing where the file is no picture.
    pub seen: Option<Box<Seen>>,
}

/// Words as they were recognised on a picture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Which picture: what the file of words calls it, such as its SHA-256.
    pub picture: String,
    /// Left, top, right and bottom on it, in pixels from the top left.
    pub strip: [u32; 4],
    /// How sure the words of each cell were recognised, from 0 to 1: the least sure word counts.
    pub sure: Vec<f32>,
}

impl Line {
    /// Returns the text of a column, empty where there is none.
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }

    /// Returns the columns that hold something, with their texts.
    pub fn filled(&self) -> impl Iterator<Item = (usize, &str)> {
        self.cells
            .iter()
            .enumerate()
            .filter(|(_, text)| !text.is_empty())
            .map(|(column, text)| (column, text.as_str()))
    }

    /// Returns all that the line says, cell after cell.
    pub fn text(&self) -> String {
        let texts: Vec<&str> = self.filled().map(|(_, text)| text).collect();
        texts.join(" | ")
    }
}

/// Where something stood in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Sheet name, or "page 2" of a paper; empty for text and CSV.
    pub sheet: String,
    /// Row number as the person sees it, from 1.
    pub row: u32,
}

impl Place {
    /// Where a line of a sheet stood.
    pub fn of(sheet: &str, line: &Line) -> Self {
        let page = || format!("page {}", line.page);
        Self {
            sheet: if line.page > 0 {
                page()
            } else {
                sheet.to_owned()
            },
            row: line.number,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.sheet.is_empty() {
            write!(f, "row {}", self.row)
        } else {
            write!(f, "{} row {}", self.sheet, self.row)
        }
    }
}

/// Something that a person should know about how the file was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// Where, when it is about one row.
    pub at: Option<Place>,
    /// What, in a sentence.
    pub what: String,
}
