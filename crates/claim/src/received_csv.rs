//! What was received as CSV: a line for each mark, the document's number and the order's before it.
//!
//! By RFC 4180, in UTF-8 with a byte order mark, for without one spreadsheets read the letters of another code page.
//! Texts are quoted and numbers are not. A text that a spreadsheet would take for a formula gets an apostrophe.

use csv::{QuoteStyle, Terminator, WriterBuilder};

use crate::received::{Received, Unwritten};
use crate::received_table::{Cell, MARKS, marks};
use crate::received_text::csv_cell;

const BYTE_ORDER_MARK: &[u8] = "\u{feff}".as_bytes();

/// Writes the table, or says why it cannot be written.
pub fn write(received: &Received) -> Result<Vec<u8>, Unwritten> {
    let failed = |e: csv::Error| Unwritten::Failed(e.to_string());
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .quote_style(QuoteStyle::NonNumeric)
        .from_writer(BYTE_ORDER_MARK.to_vec());
    let names = MARKS.iter().map(|(name, _)| *name);
    writer
        .write_record(["document", "order"].into_iter().chain(names))
        .map_err(failed)?;
    let document = csv_cell(&received.header.document);
    let order = csv_cell(&received.header.order_number);
    for mark in marks(received) {
        let cells = MARKS.iter().map(|(_, cell)| match cell(&mark) {
            Cell::Text(text) => csv_cell(&text),
            Cell::Number(number) => number.to_string(),
            Cell::Unknown => String::new(),
        });
        let line = [document.clone(), order.clone()].into_iter().chain(cells);
        writer.write_record(line).map_err(failed)?;
    }
    writer
        .into_inner()
        .map_err(|e| Unwritten::Failed(e.to_string()))
}
