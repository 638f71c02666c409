//! What was received as a workbook: a sheet of marks, a sheet of packing-list rows, a sheet that says what it is.
//!
//! A text is written as a text and never as a formula, and what looks like a formula carries the mark with which a
//! spreadsheet leaves it alone when it is edited.

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatBorder, Workbook, Worksheet, XlsxError,
};

use crate::received::{Received, Unwritten};
use crate::received_table::{Cell, MARKS, ROWS, about, marks};
use crate::received_text::{is_formula, one_line};

/// The most characters that a cell takes.
const MAX_CELL: usize = 32_767;

/// Writes the workbook, or says why it cannot be written.
pub fn write(received: &Received) -> Result<Vec<u8>, Unwritten> {
    workbook(received).map_err(|e| Unwritten::Failed(e.to_string()))
}

fn workbook(received: &Received) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let issued = received.header.issued;
    let at = ExcelDateTime::from_ymd(
        issued.year().try_into().unwrap_or_default(),
        issued.month().try_into().unwrap_or_default(),
        issued.day().try_into().unwrap_or_default(),
    )?;
    // Else the library asks a clock.
    let properties = DocProperties::new()
        .set_title(one_line(&received.header.document))
        .set_creation_datetime(&at);
    book.set_properties(&properties);
    let marks = marks(received);

    let names: Vec<&str> = MARKS.iter().map(|(name, _)| *name).collect();
    let sheet = head(book.add_worksheet(), "Received", &names)?;
    for (line, mark) in (1..).zip(&marks) {
        for (column, (_, cell)) in (0..).zip(&MARKS) {
            put(sheet, line, column, &cell(mark))?;
        }
    }
    widths(
        sheet,
        &[
            8, 40, 14, 9, 9, 9, 9, 9, 14, 9, 13, 13, 9, 9, 11, 9, 14, 40, 50, 50, 50,
        ],
    )?;

    let names: Vec<&str> = ROWS.iter().map(|(name, _)| *name).collect();
    let sheet = head(book.add_worksheet(), "Packing list", &names)?;
    let rows = marks
        .iter()
        .flat_map(|mark| mark.rows.iter().map(move |row| (mark, row)));
    for (line, (mark, row)) in (1..).zip(rows) {
        for (column, (_, cell)) in (0..).zip(&ROWS) {
            put(sheet, line, column, &cell(mark, row))?;
        }
    }
    widths(sheet, &[8, 24, 14, 14, 50, 9, 20, 20])?;

    let sheet = book.add_worksheet().set_name("What this is")?;
    let said = about(&received.header);
    let notes = received.notes.iter().map(|note| ("note", note.clone()));
    for (line, (name, text)) in (0..).zip(said.into_iter().chain(notes)) {
        put(sheet, line, 0, &Cell::Text(name.into()))?;
        put(sheet, line, 1, &Cell::Text(text))?;
    }
    widths(sheet, &[16, 100])?;
    book.save_to_buffer()
}

/// A sheet with its heading, which stays in sight and is repeated on each printed page.
fn head<'a>(
    sheet: &'a mut Worksheet,
    name: &str,
    columns: &[&str],
) -> Result<&'a mut Worksheet, XlsxError> {
    let bold = Format::new()
        .set_bold()
        .set_border_bottom(FormatBorder::Thin);
    sheet.set_name(name)?;
    sheet.set_freeze_panes(1, 1)?;
    sheet.set_repeat_rows(0, 0)?;
    sheet.set_landscape();
    for (column, name) in (0..).zip(columns) {
        sheet.write_string_with_format(0, column, *name, &bold)?;
    }
    Ok(sheet)
}

fn put(sheet: &mut Worksheet, line: u32, column: u16, cell: &Cell) -> Result<(), XlsxError> {
    match cell {
        Cell::Unknown => {}
        // No count comes near the 2^53 up to which this is exact.
        Cell::Number(number) => {
            sheet.write_number(line, column, *number as f64)?;
        }
        Cell::Text(text) => {
            let text: String = one_line(text).chars().take(MAX_CELL).collect();
            if is_formula(&text) {
                let left_alone = Format::new().set_quote_prefix();
                sheet.write_string_with_format(line, column, &text, &left_alone)?;
            } else if !text.is_empty() {
                sheet.write_string(line, column, &text)?;
            }
        }
    }
    Ok(())
}

fn widths(sheet: &mut Worksheet, widths: &[u16]) -> Result<(), XlsxError> {
    for (column, width) in (0..).zip(widths) {
        sheet.set_column_width(column, *width)?;
    }
    Ok(())
}
