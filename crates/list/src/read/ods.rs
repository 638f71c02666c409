//! OpenDocument sheets into cells, packed (.ods) or as one plain XML file (.fods); ODF 1.3 part 3, chapter 9.
//!
//! Read as a stream: a row or a cell that says it is repeated a million times costs what is kept of it, no more.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Cursor};

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::archive;
use crate::read::cell::{Cell, number_text};
use crate::read::gather::Gatherer;
use crate::read::xml;

/// Reads a packed sheet after the guard let it pass.
pub fn read(bytes: &[u8]) -> Result<Sheets, Refusal> {
    archive::check(bytes)?;
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(xml::damaged)?;
    let manifest = xml::entry_text(&mut archive, "META-INF/manifest.xml").unwrap_or_default();
    if manifest.contains("encryption-data") {
        return Err(Refusal::Protected("OpenDocument sheet"));
    }
    let mut reading = Reading::default();
    // Styles that the whole document shares; their absence is no damage.
    if let Ok(entry) = archive.by_name("styles.xml") {
        reading.document(BufReader::new(entry))?;
    }
    let content = archive.by_name("content.xml").map_err(xml::damaged)?;
    reading.document(BufReader::new(content))?;
    reading.finish()
}

/// Reads a plain XML file.
pub fn read_flat(text: &str) -> Result<Sheets, Refusal> {
    let mut reading = Reading::default();
    reading.document(text.as_bytes())?;
    reading.finish()
}

/// What is known while the stream goes by.
#[derive(Default)]
struct Reading {
    out: Gatherer,
    styles: Styles,
    /// Tables inside a cell of a table, which are not lists.
    tables: usize,
    row: Row,
    cell: Option<Open>,
    hidden_rows: usize,
    row_number: usize,
}

/// What styles say, each by its family and name.
#[derive(Default)]
struct Styles {
    struck: BTreeSet<(String, String)>,
    hidden: BTreeSet<String>,
    /// The style being read.
    open: Option<(String, String)>,
}

#[derive(Default)]
struct Row {
    cells: Vec<Cell>,
    repeated: usize,
    hidden: bool,
    style: String,
}

/// A cell being read.
#[derive(Default)]
struct Open {
    cell: Cell,
    repeated: usize,
    covered: bool,
    value: Option<String>,
    /// Whether each open element inside has a line through it.
    struck: Vec<bool>,
    /// Depth inside a remark or a drawing, whose words are not the cell's.
    aside: usize,
    paragraphs: usize,
}

impl Reading {
    fn document(&mut self, source: impl BufRead) -> Result<(), Refusal> {
        let mut reader = Reader::from_reader(source);
        let mut buffer = Vec::new();
        let mut depth = 0_usize;
        loop {
            buffer.clear();
            match reader.read_event_into(&mut buffer).map_err(xml::damaged)? {
                Event::Eof => return Ok(()),
                Event::DocType(_) => return Err(Refusal::DocumentType("content.xml".into())),
                Event::Start(element) => {
                    depth += 1;
                    if depth > limits::MAX_DEPTH {
                        return Err(Refusal::TooDeep);
                    }
                    self.start(&element)?;
                }
                Event::Empty(element) => {
                    self.start(&element)?;
                    self.end(element.local_name().as_ref())?;
                }
                Event::End(element) => {
                    depth = depth.saturating_sub(1);
                    self.end(element.local_name().as_ref())?;
                }
                Event::Text(text) => self.text(&text.xml10_content()),
                Event::CData(text) => self.text(&text.xml10_content()),
                Event::GeneralRef(name) => {
                    self.text(xml::character(&name).encode_utf8(&mut [0; 4]))
                }
                _ => {}
            }
        }
    }

    fn start(&mut self, element: &BytesStart<'_>) -> Result<(), Refusal> {
        let name = element.local_name();
        if self.cell.is_some() {
            self.start_in_cell(name.as_ref(), element);
            return Ok(());
        }
        match name.as_ref() {
            "style" => self.styles.begin(element),
            "text-properties" => self.styles.text(element),
            "table-properties" => self.styles.table(element),
            "table" => self.start_table(element),
            "table-row" if self.tables == 1 => {
                let visibility = xml::attribute(element, "visibility").unwrap_or_default();
                self.row = Row {
                    repeated: xml::number(element, "number-rows-repeated")
                        .unwrap_or(1)
                        .max(1),
                    hidden: matches!(visibility.as_str(), "collapse" | "filter"),
                    style: xml::attribute(element, "default-cell-style-name").unwrap_or_default(),
                    ..Row::default()
                };
            }
            kind @ ("table-cell" | "covered-table-cell") if self.tables == 1 => {
                self.start_cell(element, kind == "covered-table-cell");
            }
            _ => {}
        }
        Ok(())
    }

    fn start_table(&mut self, element: &BytesStart<'_>) {
        self.tables += 1;
        if self.tables > 1 {
            return;
        }
        let name = xml::attribute(element, "name").unwrap_or_default();
        self.out.sheet(&name);
        (self.row_number, self.hidden_rows) = (0, 0);
        let style = xml::attribute(element, "style-name").unwrap_or_default();
        if self.styles.hidden.contains(&style) {
            self.out
                .warn(format!("sheet {name} is hidden; it was read too"));
        }
    }

    fn start_cell(&mut self, element: &BytesStart<'_>, covered: bool) {
        let style = xml::attribute(element, "style-name").unwrap_or_else(|| self.row.style.clone());
        let struck = self.styles.is_struck("table-cell", &style);
        let kind = xml::attribute(element, "value-type").unwrap_or_default();
        let value = match kind.as_str() {
            "float" => xml::attribute(element, "value"),
            "date" => xml::attribute(element, "date-value"),
            _ => None,
        };
        let mut cell = Cell::default();
        let down = xml::number(element, "number-rows-spanned").unwrap_or(1);
        cell.reaches_down = u32::try_from(down.saturating_sub(1)).unwrap_or(u32::MAX);
        self.cell = Some(Open {
            cell,
            repeated: xml::number(element, "number-columns-repeated")
                .unwrap_or(1)
                .max(1),
            covered,
            value,
            struck: vec![struck],
            ..Open::default()
        });
    }

    fn start_in_cell(&mut self, name: &str, element: &BytesStart<'_>) {
        let Some(open) = &mut self.cell else { return };
        let around = open.struck.last().copied().unwrap_or_default();
        let style = xml::attribute(element, "style-name").unwrap_or_default();
        let own = matches!(name, "span" | "p") && self.styles.is_struck("text", &style);
        open.struck.push(around || own);
        if open.aside > 0 || !matches!(name, "p" | "h" | "span" | "a" | "s" | "tab" | "line-break")
        {
            open.aside += 1;
            return;
        }
        match name {
            "p" | "h" => {
                if open.paragraphs > 0 {
                    open.cell.part();
                }
                open.paragraphs += 1;
            }
            "s" | "tab" | "line-break" => open.cell.push(" ", around),
            _ => {}
        }
    }

    fn text(&mut self, text: &str) {
        if let Some(open) = &mut self.cell
            && open.aside == 0
            && open.paragraphs > 0
            && open.cell.len() <= limits::MAX_CELL_BYTES
        {
            let struck = open.struck.last().copied().unwrap_or_default();
            open.cell.push(text, struck);
        }
    }

    fn end(&mut self, name: &str) -> Result<(), Refusal> {
        if let Some(open) = &mut self.cell
            && open.struck.len() > 1
        {
            open.struck.pop();
            open.aside = open.aside.saturating_sub(1);
            return Ok(());
        }
        match name {
            "style" => self.styles.open = None,
            "table" => {
                self.tables = self.tables.saturating_sub(1);
                if self.tables == 0 && self.hidden_rows > 0 {
                    let what = format!("{} hidden rows were read too", self.hidden_rows);
                    self.out.warn(what);
                }
            }
            "table-cell" | "covered-table-cell" => self.end_cell(),
            "table-row" if self.tables == 1 => self.end_row()?,
            _ => {}
        }
        Ok(())
    }

    fn end_cell(&mut self) {
        let Some(mut open) = self.cell.take() else {
            return;
        };
        if let Some(value) = open
            .value
            .take()
            .and_then(|value| shown_as(&value, open.cell.text()))
        {
            let struck = open.cell.is_struck();
            let down = open.cell.reaches_down;
            open.cell = Cell::new(value, struck);
            open.cell.reaches_down = down;
        }
        let room = (limits::MAX_COLUMNS + 1).saturating_sub(self.row.cells.len());
        if open.covered && !open.cell.is_empty() {
            let what = format!(
                "{:?} lies under a merged cell and was left out",
                open.cell.text()
            );
            self.out.warn_at(self.row_number + 1, what);
        }
        let cell = if open.covered {
            Cell::default()
        } else {
            open.cell
        };
        self.row
            .cells
            .extend(std::iter::repeat_n(cell, open.repeated.min(room)));
    }

    fn end_row(&mut self) -> Result<(), Refusal> {
        let row = std::mem::take(&mut self.row);
        let filled = row.cells.iter().any(|cell| !cell.is_empty());
        if filled {
            self.hidden_rows += if row.hidden { row.repeated } else { 0 };
            // Past the most rows of a file the gatherer refuses, so this ends.
            for again in 1..=row.repeated {
                self.out.row(self.row_number + again, row.cells.clone())?;
            }
        }
        self.row_number = self.row_number.saturating_add(row.repeated);
        Ok(())
    }

    fn finish(self) -> Result<Sheets, Refusal> {
        self.out.finish()
    }
}

impl Styles {
    fn begin(&mut self, element: &BytesStart<'_>) {
        let of = |name| xml::attribute(element, name).unwrap_or_default();
        let (family, name) = (of("family"), of("name"));
        let parent = of("parent-style-name");
        if self.is_struck(&family, &parent) {
            self.struck.insert((family.clone(), name.clone()));
        }
        self.open = Some((family, name));
    }

    fn text(&mut self, element: &BytesStart<'_>) {
        let Some(style) = self.open.clone() else {
            return;
        };
        let line = ["text-line-through-style", "text-line-through-type"]
            .iter()
            .find_map(|name| xml::attribute(element, name));
        match line.as_deref() {
            Some("none") => self.struck.remove(&style),
            Some(_) => self.struck.insert(style),
            None => false,
        };
    }

    fn table(&mut self, element: &BytesStart<'_>) {
        if let Some((_, name)) = &self.open
            && xml::attribute(element, "display").as_deref() == Some("false")
        {
            self.hidden.insert(name.clone());
        }
    }

    fn is_struck(&self, family: &str, name: &str) -> bool {
        !self.struck.is_empty() && self.struck.contains(&(family.to_owned(), name.to_owned()))
    }
}

/// The value behind what a cell shows, when it shows a bare number or a date: the number may be rounded or written
/// with a decimal comma, the date in any order. A number with words ("10 ft"), a fraction or a code with leading
/// noughts is left as it is shown.
fn shown_as(value: &str, shown: &str) -> Option<String> {
    let shown = shown.trim();
    if value.contains('-') && value.len() >= 10 && !value.starts_with('-') {
        let date = value.strip_suffix("T00:00:00").unwrap_or(value);
        return Some(date.replace('T', " "));
    }
    let bare = |c: char| {
        c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '\'' | ' ' | '\u{a0}' | '\u{202f}')
    };
    let feet = shown.ends_with('\'');
    let code =
        shown.len() > 1 && shown.starts_with('0') && shown.bytes().all(|b| b.is_ascii_digit());
    if !shown.chars().all(bare) || feet || code {
        return None;
    }
    let number: f64 = value.parse().ok()?;
    number.is_finite().then(|| number_text(number))
}
