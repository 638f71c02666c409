//! Lines of cells as the readers hand them in, cleaned and within the limits. Every reader ends in one of these.

use std::collections::BTreeMap;

use crate::error::Refusal;
use crate::grid::{Line, Place, Sheet, Sheets, Warning};
use crate::limits;
use crate::read::cell::Cell;
use crate::read::text::{alters, clean, cut};
use crate::row::{SetAside, Why};
use crate::table::quantity;

/// Takes cells in.
#[derive(Default)]
pub struct Gatherer {
    done: Vec<Sheet>,
    sheet: Sheet,
    set_aside: Vec<SetAside>,
    warnings: Vec<Warning>,
    rows: usize,
    cells: usize,
    bytes: usize,
    removed: usize,
    cut_cells: usize,
    cut_columns: usize,
    unsaid: usize,
    /// Cells that reach down over rows below, by column.
    reaching: BTreeMap<usize, Reaching>,
}

/// A cell that reaches down.
struct Reaching {
    last_row: usize,
    text: String,
    struck: bool,
}

impl Gatherer {
    /// Begins the next sheet.
    pub fn sheet(&mut self, name: &str) {
        self.close();
        let (name, removed) = clean(cut(name, 256));
        self.removed += removed;
        self.sheet.name = name.into_owned();
    }

    /// Takes one line; an empty one is passed over.
    pub fn line<'a>(
        &mut self,
        number: usize,
        cells: impl Iterator<Item = &'a str>,
    ) -> Result<(), Refusal> {
        let mut kept = Vec::new();
        let (mut altered, cut_before) = (false, self.cut_cells + self.cut_columns);
        for (column, cell) in cells.enumerate() {
            if column >= limits::MAX_COLUMNS {
                self.cut_columns += usize::from(!cell.trim().is_empty());
                continue;
            }
            let short = cut(cell, limits::MAX_CELL_BYTES);
            self.cut_cells += usize::from(short.len() < cell.len());
            let (text, removed) = clean(short);
            self.removed += removed;
            altered |= removed > 0 && short.chars().any(alters);
            kept.push(text.into_owned());
        }
        while kept.last().is_some_and(String::is_empty) {
            kept.pop();
        }
        if kept.is_empty() {
            return Ok(());
        }
        kept.shrink_to_fit();
        self.rows += 1;
        self.cells += kept.len();
        if self.rows > limits::MAX_ROWS {
            return Err(Refusal::TooManyRows);
        }
        if self.cells > limits::MAX_CELLS {
            return Err(Refusal::TooManyCells);
        }
        self.bytes += kept.iter().map(String::len).sum::<usize>();
        if self.bytes > limits::MAX_TEXT_BYTES {
            return Err(Refusal::TooMuchText);
        }
        let mut line = Line {
            number: row_number(number),
            cells: kept,
            ..Line::default()
        };
        if altered {
            line.doubted("control or direction-changing characters were taken out of this row");
        }
        if self.cut_cells + self.cut_columns > cut_before {
            line.doubted("this row is longer than what is read of one, and was cut");
        }
        self.sheet.lines.push(line);
        Ok(())
    }

    /// Takes one line of cells that may be struck, in part too, or reach down over the rows below.
    ///
    /// A cell that reaches down says the same in each row, except a count: that is one for all of them, so it stays
    /// with the first row, and the row says so. A line is struck when all that it says is.
    pub fn row(&mut self, number: usize, mut cells: Vec<Cell>) -> Result<(), Refusal> {
        while cells.last().is_some_and(Cell::is_empty) {
            cells.pop();
        }
        if cells.is_empty() {
            return Ok(());
        }
        self.reaching.retain(|_, above| number <= above.last_row);
        for (column, above) in &self.reaching {
            if cells.len() <= *column {
                cells.resize(column + 1, Cell::default());
            }
            if cells[*column].is_empty() {
                cells[*column] = Cell::new(above.text.clone(), above.struck);
            }
        }
        for (column, cell) in cells.iter().enumerate().take(limits::MAX_COLUMNS) {
            if cell.reaches_down > 0 && !cell.is_empty() {
                self.reach_down(number, column, cell);
            }
        }
        let filled = || cells.iter().filter(|cell| !cell.is_empty());
        let struck = filled().filter(|cell| cell.is_struck()).count();
        let all = struck == filled().count();
        let mut doubt = None;
        if struck > 0 && !all {
            let words: Vec<&str> = filled()
                .filter(|cell| cell.is_struck())
                .map(|cell| cell.text().trim())
                .collect();
            let words = words.join(" | ");
            doubt = Some(format!("a line goes through {:?} alone", cut(&words, 200)));
        }
        for cell in filled() {
            if let Some(out) = cell.left_out() {
                let what = format!("{:?} has a line through it and was left out", cut(out, 200));
                self.warn_at(number, what);
                self.bytes += out.len();
            }
        }
        let before = self.sheet.lines.len();
        self.line(number, cells.iter().map(Cell::text))?;
        if self.sheet.lines.len() > before
            && let Some(line) = self.sheet.lines.last_mut()
        {
            line.struck = all;
            if let Some(doubt) = doubt {
                line.doubted(&doubt);
            }
        }
        Ok(())
    }

    /// Takes a line that no table is looked for in, with the reason; an empty one is passed over.
    pub fn aside(&mut self, number: usize, text: &str, why: Why) -> Result<(), Refusal> {
        let (text, removed) = clean(cut(text, limits::MAX_CELL_BYTES));
        self.removed += removed;
        if text.is_empty() {
            return Ok(());
        }
        self.rows += 1;
        self.bytes += text.len();
        if self.rows > limits::MAX_ROWS {
            return Err(Refusal::TooManyRows);
        }
        if self.bytes > limits::MAX_TEXT_BYTES {
            return Err(Refusal::TooMuchText);
        }
        self.set_aside.push(SetAside {
            at: self.place(number),
            text: text.into_owned(),
            why,
        });
        Ok(())
    }

    fn reach_down(&mut self, number: usize, column: usize, cell: &Cell) {
        let last_row = number.saturating_add(cell.reaches_down as usize);
        let text = cut(cell.text().trim(), limits::MAX_CELL_BYTES).to_owned();
        if quantity::read(&text, "").is_some() {
            let what = format!("{text:?} stands for the rows down to {last_row} together");
            self.warn_at(number, what);
            return;
        }
        let struck = cell.is_struck();
        let reaching = Reaching {
            last_row,
            text,
            struck,
        };
        self.reaching.insert(column, reaching);
    }

    /// Notes something about the whole file.
    pub fn warn(&mut self, what: impl Into<String>) {
        self.note(None, what.into());
    }

    /// Notes something about one row of the present sheet.
    pub fn warn_at(&mut self, number: usize, what: impl Into<String>) {
        let at = self.place(number);
        self.note(Some(at), what.into());
    }

    fn place(&self, number: usize) -> Place {
        Place {
            sheet: self.sheet.name.clone(),
            row: row_number(number),
        }
    }

    fn note(&mut self, at: Option<Place>, what: String) {
        if self.warnings.len() < limits::MAX_READING_WARNINGS {
            self.warnings.push(Warning { at, what });
        } else {
            self.unsaid += 1;
        }
    }

    /// Returns all sheets that hold anything.
    pub fn finish(mut self) -> Result<Sheets, Refusal> {
        self.close();
        if self.done.is_empty() {
            return Err(Refusal::Empty);
        }
        let mut whole = |what: String| self.warnings.push(Warning { at: None, what });
        if self.unsaid > 0 {
            whole(format!(
                "{} more of such remarks are not shown",
                self.unsaid
            ));
        }
        if self.removed > 0 {
            let (n, characters) = match self.removed {
                1 => (1, "character was"),
                n => (n, "characters were"),
            };
            whole(format!(
                "{n} control or direction-changing {characters} taken out"
            ));
        }
        if self.cut_cells > 0 {
            let (n, most) = (self.cut_cells, limits::MAX_CELL_BYTES);
            whole(format!(
                "cells longer than {most} bytes were cut there: {n}"
            ));
        }
        if self.cut_columns > 0 {
            let (n, most) = (self.cut_columns, limits::MAX_COLUMNS);
            whole(format!("cells beyond column {most} were not read: {n}"));
        }
        Ok(Sheets {
            sheets: self.done,
            set_aside: self.set_aside,
            warnings: self.warnings,
        })
    }

    fn close(&mut self) {
        self.reaching.clear();
        let sheet = std::mem::take(&mut self.sheet);
        if !sheet.lines.is_empty() {
            self.done.push(sheet);
        }
    }
}

fn row_number(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
