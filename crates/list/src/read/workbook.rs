//! XLSX into cells, read cell by cell so that a far corner does not make a huge empty sheet.

use std::collections::BTreeSet;
use std::io::Cursor;

use calamine::{DataRef, Reader, SheetVisible, Xlsx};

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::archive;
use crate::read::cell::{Cell, number_text};
use crate::read::gather::Gatherer;
use crate::read::sheet_marks::{Marks, SheetMarks};
use crate::read::text::cut;

/// Reads a workbook after its guard let it pass.
pub fn read(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let signs = archive::check(bytes)?;
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let all_marks = Marks::of(bytes, signs)?;
    let mut out = Gatherer::default();
    let sheets: Vec<(String, SheetVisible)> = (book.sheets_metadata().iter())
        .map(|sheet| (sheet.name.clone(), sheet.visible))
        .collect();
    archive::check_sheets(sheets.len(), signs)?;
    for (name, visible) in sheets {
        out.sheet(&name);
        if visible != SheetVisible::Visible {
            out.warn(format!("sheet {name} is hidden; it was read too"));
        }
        let marks = all_marks.sheet(&name)?;
        let mut reader = match book.worksheet_cells_reader(&name) {
            Ok(reader) => reader,
            Err(error) => {
                out.warn(format!("sheet {name} was not read: {error}"));
                continue;
            }
        };
        let mut row: Option<(u32, Vec<Cell>)> = None;
        if let Some(what) = without_values(&marks.unreckoned) {
            out.warn(what);
        }
        let mut hidden = 0;
        while let Some(cell) = reader.next_cell().map_err(damaged)? {
            let at = cell.get_position();
            let cell = match cell_of(at, cell.get_value(), &marks) {
                Some(cell) => cell,
                None if marks.unreckoned.contains(&at) => Cell::new("(formula)", false),
                None => continue,
            };
            if row.as_ref().is_none_or(|(open, _)| *open != at.0) {
                hidden += usize::from(marks.hidden.contains(&at.0));
                close(row.take(), &mut out)?;
            }
            let (_, cells) = row.get_or_insert((at.0, Vec::new()));
            // One column past the most that is kept, so that the gatherer sees that something was left out.
            let column = (at.1 as usize).min(limits::MAX_COLUMNS);
            if cells.len() <= column {
                cells.resize(column + 1, Cell::default());
            }
            cells[column] = cell;
        }
        close(row, &mut out)?;
        if hidden > 0 {
            out.warn(format!("{hidden} hidden rows were read too"));
        }
    }
    out.finish()
}

/// Says which cells have a formula and no value: a program wrote them that does not reckon.
fn without_values(cells: &BTreeSet<(u32, u32)>) -> Option<String> {
    let (row, column) = cells.first()?;
    let others = match cells.len() - 1 {
        0 => String::new(),
        1 => ", and 1 other too".to_owned(),
        n => format!(", and {n} others too"),
    };
    Some(format!(
        "the cell in row {}, column {} has a formula without a value{others}; save the file once in a spreadsheet program",
        row + 1,
        column + 1
    ))
}

/// The cell with what the sheet says about it; nothing when it is empty.
fn cell_of(at: (u32, u32), value: &DataRef<'_>, marks: &SheetMarks) -> Option<Cell> {
    let text = text_of(value);
    if text.is_empty() {
        return None;
    }
    let mut cell = match marks.partly.get(&at) {
        Some(cell) => Cell::clone(cell),
        None => Cell::new(text, marks.struck.contains(&at)),
    };
    cell.reaches_down = marks.down.get(&at).copied().unwrap_or_default();
    Some(cell)
}

fn close(row: Option<(u32, Vec<Cell>)>, out: &mut Gatherer) -> Result<(), Refusal> {
    match row {
        Some((number, cells)) => out.row(number as usize + 1, cells),
        None => Ok(()),
    }
}

fn text_of(value: &DataRef<'_>) -> String {
    match value {
        DataRef::Empty | DataRef::Error(_) => String::new(),
        DataRef::Int(n) => n.to_string(),
        DataRef::Float(n) => number_text(*n),
        DataRef::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        DataRef::String(text) => start_of(text),
        DataRef::SharedString(text) => start_of(text),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => start_of(text),
        DataRef::DateTime(date) => date_text(date),
    }
}

/// A little more than is kept of a cell, so that the cut is seen; a shared text of any length may stand in every cell.
fn start_of(text: &str) -> String {
    cut(text, 2 * limits::MAX_CELL_BYTES).to_owned()
}

/// A day, and the time when it is not midnight.
pub fn date_text(date: &calamine::ExcelDateTime) -> String {
    if !date.is_datetime() {
        return date.as_f64().to_string();
    }
    let (year, month, day, hour, minute, ..) = date.to_ymd_hms_milli();
    if (hour, minute) == (0, 0) {
        format!("{year:04}-{month:02}-{day:02}")
    } else {
        format!("{year:04}-{month:02}-{day:02} {hour:02}:{minute:02}")
    }
}

fn damaged(error: calamine::XlsxError) -> Refusal {
    Refusal::Damaged(error.to_string())
}
