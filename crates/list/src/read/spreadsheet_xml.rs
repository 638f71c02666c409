//! The one-file XML workbook of 2003 into cells: elements Workbook, Worksheet, Row, Cell, Data.

use std::collections::BTreeSet;

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::cell::{Cell, number_text};
use crate::read::gather::Gatherer;
use crate::read::xml;

/// Reads a workbook.
pub fn read(text: &str) -> Result<Sheets, Refusal> {
    let mut reader = Reader::from_reader(text.as_bytes());
    let (mut reading, mut buffer, mut depth) = (Reading::default(), Vec::new(), 0_usize);
    loop {
        buffer.clear();
        match reader.read_event_into(&mut buffer).map_err(xml::damaged)? {
            Event::Eof => return reading.out.finish(),
            Event::DocType(_) => return Err(Refusal::DocumentType("text".into())),
            Event::Start(element) => {
                depth += 1;
                if depth > limits::MAX_DEPTH {
                    return Err(Refusal::TooDeep);
                }
                reading.start(&element);
            }
            Event::Empty(element) => {
                reading.start(&element);
                reading.end(element.local_name().as_ref())?;
            }
            Event::End(element) => {
                depth = depth.saturating_sub(1);
                reading.end(element.local_name().as_ref())?;
            }
            Event::Text(text) => reading.text(&text.xml10_content()),
            Event::CData(text) => reading.text(&text.xml10_content()),
            Event::GeneralRef(name) => reading.text(xml::character(&name).encode_utf8(&mut [0; 4])),
            _ => {}
        }
    }
}

#[derive(Default)]
struct Reading {
    out: Gatherer,
    struck: BTreeSet<String>,
    style: String,
    /// The number of the row, from 1.
    row: usize,
    column: usize,
    cells: Vec<Cell>,
    cell: Option<Cell>,
    cell_struck: bool,
    across: usize,
    kind: Option<String>,
    /// Depth of `S` elements in the text.
    strikes: usize,
    hidden: usize,
    row_hidden: bool,
}

impl Reading {
    fn start(&mut self, element: &BytesStart<'_>) {
        match element.local_name().as_ref() {
            "Style" => self.style = xml::attribute(element, "ID").unwrap_or_default(),
            "Font" if xml::attribute(element, "StrikeThrough").is_some_and(|said| said != "0") => {
                self.struck.insert(self.style.clone());
            }
            "Worksheet" => {
                self.out
                    .sheet(&xml::attribute(element, "Name").unwrap_or_default());
                (self.row, self.hidden) = (0, 0);
            }
            "Row" => {
                self.row = xml::number(element, "Index").unwrap_or(self.row.saturating_add(1));
                self.column = 0;
                self.row_hidden = xml::attribute(element, "Hidden").is_some_and(|said| said == "1");
            }
            "Cell" => {
                if let Some(index) = xml::number(element, "Index") {
                    self.column = index.saturating_sub(1);
                }
                self.across = xml::number(element, "MergeAcross").unwrap_or(0);
                let style = xml::attribute(element, "StyleID").unwrap_or_default();
                self.cell_struck = self.struck.contains(&style);
                let down = xml::number(element, "MergeDown").unwrap_or(0);
                let mut cell = Cell::default();
                cell.reaches_down = u32::try_from(down).unwrap_or(u32::MAX);
                self.cell = Some(cell);
            }
            "Data" => self.kind = Some(xml::attribute(element, "Type").unwrap_or_default()),
            "S" => self.strikes += 1,
            _ => {}
        }
    }

    fn text(&mut self, text: &str) {
        let struck = self.cell_struck || self.strikes > 0;
        let Some((cell, kind)) = self.cell.as_mut().zip(self.kind.as_deref()) else {
            return;
        };
        if cell.len() > limits::MAX_CELL_BYTES {
            return;
        }
        match (kind, text.trim().parse::<f64>()) {
            ("Number", Ok(number)) => cell.push(&number_text(number), struck),
            ("DateTime", _) => {
                cell.push(text.strip_suffix("T00:00:00.000").unwrap_or(text), struck)
            }
            _ => cell.push(text, struck),
        }
    }

    fn end(&mut self, name: &str) -> Result<(), Refusal> {
        match name {
            "Data" => self.kind = None,
            "S" => self.strikes = self.strikes.saturating_sub(1),
            "Cell" => {
                let cell = self.cell.take().unwrap_or_default();
                let at = self.column.min(limits::MAX_COLUMNS);
                if !cell.is_empty() {
                    if self.cells.len() <= at {
                        self.cells.resize(at + 1, Cell::default());
                    }
                    self.cells[at] = cell;
                }
                self.column = self.column.saturating_add(self.across).saturating_add(1);
            }
            "Row" => {
                let cells = std::mem::take(&mut self.cells);
                self.hidden += usize::from(self.row_hidden && !cells.is_empty());
                self.out.row(self.row, cells)?;
            }
            "Worksheet" if self.hidden > 0 => {
                let what = format!("{} hidden rows were read too", self.hidden);
                self.out.warn(what);
            }
            _ => {}
        }
        Ok(())
    }
}
