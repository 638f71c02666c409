//! Text into cells: comma, semicolon, tab or bar between them, or columns set apart by runs of spaces.

use csv::{ReaderBuilder, StringRecord, Terminator};

use crate::error::Refusal;
use crate::grid::{Line, Sheet, Sheets, Warning};
use crate::limits;
use crate::text::{clean, cut};

/// How the cells of a line are told apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cut {
    At(u8),
    Spaces,
}

/// How many lines are looked at to tell how the cells are cut.
const SAMPLE_LINES: usize = 400;

/// A quoted cell with more line ends than this is an inch mark that was never closed.
const MAX_LINES_IN_CELL: usize = 20;

/// Reads decoded text, whose lines end with `\n`.
pub fn read(text: &str) -> Result<Sheets, Refusal> {
    let mut gatherer = Gatherer::default();
    match how_cut(text) {
        Cut::Spaces => by_spaces(text, &mut gatherer)?,
        Cut::At(delimiter) => {
            if by_delimiter(text, delimiter, true, &mut gatherer)? == Quoting::Runaway {
                gatherer = Gatherer::default();
                by_delimiter(text, delimiter, false, &mut gatherer)?;
                gatherer.warn(
                    "a quotation mark is never closed; quotation marks were read as inch marks",
                );
            }
        }
    }
    gatherer.finish()
}

/// Whether the quotation marks of a text made sense.
#[derive(PartialEq, Eq)]
enum Quoting {
    Sound,
    Runaway,
}

fn by_delimiter(
    text: &str,
    delimiter: u8,
    quoting: bool,
    out: &mut Gatherer,
) -> Result<Quoting, Refusal> {
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .quoting(quoting)
        .terminator(Terminator::Any(b'\n'))
        .from_reader(text.as_bytes());
    let mut record = StringRecord::new();
    // A spreadsheet shows a record with line ends inside as one row, so those do not count as rows.
    let mut lines_inside = 0;
    while reader.read_record(&mut record).is_ok_and(|more| more) {
        let inside: usize = record.iter().map(|cell| cell.matches('\n').count()).sum();
        if quoting && inside > MAX_LINES_IN_CELL {
            return Ok(Quoting::Runaway);
        }
        let end = reader.position().line() as usize;
        let ended_by_line_end =
            text.as_bytes().get(reader.position().byte() as usize - 1) == Some(&b'\n');
        lines_inside += inside;
        let number = end - usize::from(ended_by_line_end) - lines_inside;
        out.line(number, record.iter())?;
    }
    Ok(Quoting::Sound)
}

fn by_spaces(text: &str, out: &mut Gatherer) -> Result<(), Refusal> {
    for (index, line) in text.split('\n').enumerate() {
        out.line(index + 1, split_spaces(line))?;
    }
    Ok(())
}

/// Splits at tabs and at runs of two or more spaces; the indent of a line is no cell.
fn split_spaces(line: &str) -> impl Iterator<Item = &str> {
    line.trim()
        .split(['\t', '\u{a0}'])
        .flat_map(|part| part.split("  "))
        .map(str::trim)
        .filter(|cell| !cell.is_empty())
}

/// Weighs each way of cutting by how many lines agree on the count of cells, and takes the best.
fn how_cut(text: &str) -> Cut {
    let end = text
        .match_indices('\n')
        .nth(SAMPLE_LINES)
        .map_or(text.len(), |(at, _)| at);
    let sample = &text[..end];
    let mut best = (
        Cut::Spaces,
        agreement(sample.lines().map(|line| split_spaces(line).count())) * 0.9,
    );
    for delimiter in [b'\t', b';', b'|', b','] {
        let mut reader = ReaderBuilder::new()
            .delimiter(delimiter)
            .has_headers(false)
            .flexible(true)
            .terminator(Terminator::Any(b'\n'))
            .from_reader(sample.as_bytes());
        let counts = reader
            .records()
            .map_while(Result::ok)
            .map(|record| record.len());
        let score = agreement(counts);
        if score > best.1 {
            best = (Cut::At(delimiter), score);
        }
    }
    best.0
}

/// Share of lines with the commonest count of cells (of two or more), squared, times a little for more columns.
fn agreement(counts: impl Iterator<Item = usize>) -> f64 {
    let mut tally = std::collections::BTreeMap::<usize, usize>::new();
    let mut lines = 0;
    for count in counts.filter(|count| *count > 0) {
        *tally.entry(count).or_default() += 1;
        lines += 1;
    }
    let several = tally.range(2..).max_by_key(|(_, times)| **times);
    several.map_or(0.0, |(columns, times)| {
        let share = *times as f64 / f64::from(lines.max(1));
        // Commas in a third of the lines are those of a text.
        let share = if share < 0.4 { 0.0 } else { share };
        share * share * (1.0 + *columns as f64).ln()
    })
}

/// Takes cells in, cleaned, within the limits. Every reader ends in one of these.
#[derive(Default)]
pub struct Gatherer {
    done: Vec<Sheet>,
    sheet: Sheet,
    warnings: Vec<Warning>,
    rows: usize,
    cells: usize,
    removed: usize,
    cut_cells: usize,
    cut_columns: usize,
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
        for (column, cell) in cells.enumerate() {
            if column >= limits::MAX_COLUMNS {
                self.cut_columns += 1;
                continue;
            }
            let short = cut(cell, limits::MAX_CELL_BYTES);
            self.cut_cells += usize::from(short.len() < cell.len());
            let (text, removed) = clean(short);
            self.removed += removed;
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
        let number = u32::try_from(number).unwrap_or(u32::MAX);
        self.sheet.lines.push(Line {
            number,
            cells: kept,
            ..Line::default()
        });
        Ok(())
    }

    /// Notes something about the whole file.
    pub fn warn(&mut self, what: impl Into<String>) {
        self.warnings.push(Warning {
            at: None,
            what: what.into(),
        });
    }

    /// Returns all sheets that hold anything.
    pub fn finish(mut self) -> Result<Sheets, Refusal> {
        self.close();
        if self.done.is_empty() {
            return Err(Refusal::Empty);
        }
        if self.removed > 0 {
            let n = self.removed;
            self.warn(format!(
                "{n} control or direction-changing characters were taken out"
            ));
        }
        if self.cut_cells > 0 {
            let (n, most) = (self.cut_cells, limits::MAX_CELL_BYTES);
            self.warn(format!(
                "{n} cells are longer than {most} bytes and were cut there"
            ));
        }
        if self.cut_columns > 0 {
            let (n, most) = (self.cut_columns, limits::MAX_COLUMNS);
            self.warn(format!("{n} cells beyond column {most} were not read"));
        }
        Ok(Sheets {
            sheets: self.done,
            warnings: self.warnings,
        })
    }

    fn close(&mut self) {
        let sheet = std::mem::take(&mut self.sheet);
        if !sheet.lines.is_empty() {
            self.done.push(sheet);
        }
    }
}
