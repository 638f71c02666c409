//! XLSX into cells, read cell by cell so that a far corner does not make a huge empty sheet.

use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use calamine::{DataRef, Reader, Xlsx};

use crate::archive;
use crate::delimited::Gatherer;
use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;

/// Reads a workbook after its guard let it pass.
///
/// The workbook reader is other people's code over hostile bytes. Should it panic, that is said as damage in the
/// file; this function holds no state that a half-done reading could leave behind.
pub fn read(bytes: &[u8]) -> Result<Sheets, Refusal> {
    archive::check(bytes)?;
    catch_unwind(AssertUnwindSafe(|| read_checked(bytes)))
        .unwrap_or_else(|_| Err(Refusal::Damaged("its parts contradict each other".into())))
}

fn read_checked(bytes: &[u8]) -> Result<Sheets, Refusal> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let mut out = Gatherer::default();
    for name in book.sheet_names() {
        out.sheet(&name);
        let mut reader = match book.worksheet_cells_reader(&name) {
            Ok(reader) => reader,
            Err(error) => {
                out.warn(format!("sheet {name} was not read: {error}"));
                continue;
            }
        };
        let mut row: Option<(u32, Vec<String>)> = None;
        while let Some(cell) = reader.next_cell().map_err(damaged)? {
            let (number, column) = cell.get_position();
            let text = text_of(cell.get_value());
            if text.is_empty() {
                continue;
            }
            if row.as_ref().is_none_or(|(open, _)| *open != number) {
                close(row.take(), &mut out)?;
            }
            let (_, cells) = row.get_or_insert((number, Vec::new()));
            // One column past the most that is kept, so that the gatherer sees that something was left out.
            let column = (column as usize).min(limits::MAX_COLUMNS);
            if cells.len() <= column {
                cells.resize(column + 1, String::new());
            }
            cells[column] = text;
        }
        close(row, &mut out)?;
    }
    out.finish()
}

fn close(row: Option<(u32, Vec<String>)>, out: &mut Gatherer) -> Result<(), Refusal> {
    let Some((number, cells)) = row else {
        return Ok(());
    };
    out.line(number as usize + 1, cells.iter().map(String::as_str))
}

fn text_of(value: &DataRef<'_>) -> String {
    match value {
        DataRef::Empty | DataRef::Error(_) => String::new(),
        DataRef::Int(n) => n.to_string(),
        // The shortest text that reads back as the same number: 12 for 12.0, 0.3 for 0.3.
        DataRef::Float(n) => n.to_string(),
        DataRef::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.clone(),
        DataRef::DateTime(date) => date_text(date),
    }
}

fn date_text(date: &calamine::ExcelDateTime) -> String {
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
