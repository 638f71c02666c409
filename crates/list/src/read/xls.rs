//! The old binary workbook (.xls of 1993 to 2003) into cells ([MS-XLS]).
//!
//! Own reading: the general library makes a full rectangle of each sheet, which a cell in the far corner makes huge,
//! and does not tell which fonts have a line through them.

use std::collections::{BTreeMap, BTreeSet};

use calamine::{ExcelDateTime, ExcelDateTimeType};
use encoding_rs::Encoding;

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::biff::{Pieces, Record, Records, RichText, byte_text, code_page, rk};
use crate::read::cell::{Cell, number_text};
use crate::read::gather::Gatherer;
use crate::read::workbook::date_text;

/// Reads the workbook stream of a compound file.
pub fn read(stream: &[u8]) -> Result<Sheets, Refusal> {
    let book = Book::read(stream)?;
    let mut out = Gatherer::default();
    // Sheets that claim the same records over and over must not be read for ever.
    let mut records = stream.len() / 4 + limits::MAX_CELLS;
    for sheet in &book.sheets {
        out.sheet(&sheet.name);
        if sheet.hidden {
            out.warn(format!("sheet {} is hidden; it was read too", sheet.name));
        }
        book.sheet(Records::from(stream, sheet.at), &mut records, &mut out)?;
    }
    out.finish()
}

/// What holds for all sheets.
struct Book {
    /// Texts are of single bytes, as before 1997.
    old: bool,
    encoding: &'static Encoding,
    from_1904: bool,
    struck_fonts: BTreeSet<u16>,
    fonts: u16,
    dates: BTreeSet<u16>,
    /// Font and number format of each look.
    looks: Vec<(u16, u16)>,
    texts: Vec<Text>,
    sheets: Vec<Entry>,
}

struct Entry {
    name: String,
    at: usize,
    hidden: bool,
}

/// A text that cells share: pieces, each struck or not where a font of its own says it.
type Text = Vec<(String, Option<bool>)>;

/// What a cell holds until its row is complete; its look says the rest.
enum Value {
    Number(f64),
    Shared(u32),
    Own(Box<str>),
}

impl Book {
    fn read(stream: &[u8]) -> Result<Self, Refusal> {
        let mut book = Self {
            old: false,
            encoding: encoding_rs::WINDOWS_1252,
            from_1904: false,
            struck_fonts: BTreeSet::new(),
            fonts: 0,
            // Days and times among the formats that every workbook has.
            dates: (14..=22).chain(45..=47).collect(),
            looks: Vec::new(),
            texts: Vec::new(),
            sheets: Vec::new(),
        };
        let mut records = Records::from(stream, 0);
        if records.next().is_none_or(|record| record.kind != 0x0809) {
            return Err(Refusal::Damaged("it does not begin as a workbook".into()));
        }
        for record in Records::from(stream, 0) {
            match record.kind {
                0x0809 => book.old = record.u16(0) != 0x0600,
                0x000A => break,
                0x002F => return Err(Refusal::Protected("XLS workbook")),
                0x0042 => book.encoding = code_page(record.u16(0)),
                0x0022 => book.from_1904 = record.u16(0) == 1,
                0x0031 => book.font(&record),
                0x041E => book.format(&record),
                0x00E0 => book.looks.push((record.u16(0), record.u16(2))),
                0x0085 => book.entry(&record),
                0x00FC => book.shared(&record)?,
                _ => {}
            }
        }
        Ok(book)
    }

    /// Fonts are counted without a number four ([MS-XLS] 2.5.129).
    fn font(&mut self, record: &Record<'_>) {
        let number = if self.fonts >= 4 {
            self.fonts.saturating_add(1)
        } else {
            self.fonts
        };
        self.fonts = self.fonts.saturating_add(1);
        if record.u16(2) & 8 != 0 {
            self.struck_fonts.insert(number);
        }
    }

    fn format(&mut self, record: &Record<'_>) {
        let text = if self.old {
            let length = record.data.get(2).copied().unwrap_or_default();
            byte_text(record.data, 3, usize::from(length), self.encoding)
        } else {
            Pieces::of(record, 2)
                .text()
                .map_or_else(String::new, |text| String::from_utf16_lossy(&text.units))
        };
        if is_date_format(&text) {
            self.dates.insert(record.u16(0));
        }
    }

    fn entry(&mut self, record: &Record<'_>) {
        let kind = record.data.get(5).copied().unwrap_or_default();
        let length = usize::from(record.data.get(6).copied().unwrap_or_default());
        let name = if self.old {
            byte_text(record.data, 7, length, self.encoding)
        } else {
            let text = Pieces::of(record, 7).text_of(length);
            text.map_or_else(String::new, |text| String::from_utf16_lossy(&text.units))
        };
        if kind == 0 && self.sheets.len() < limits::MAX_WORKBOOK_FILES {
            let (at, hidden) = (record.u32(0) as usize, record.u16(4) & 3 != 0);
            self.sheets.push(Entry { name, at, hidden });
        }
    }

    fn shared(&mut self, record: &Record<'_>) -> Result<(), Refusal> {
        let mut pieces = Pieces::of(record, 8);
        for _ in 0..record.u32(4) {
            if self.texts.len() >= limits::MAX_CELLS {
                return Err(Refusal::TooManyCells);
            }
            let Some(text) = pieces.text() else { break };
            let text = self.pieces(&text);
            self.texts.push(text);
        }
        Ok(())
    }

    /// Parts a text where a line through it begins or ends.
    fn pieces(&self, text: &RichText) -> Text {
        let any_struck = text
            .runs
            .iter()
            .any(|(_, font)| self.struck_fonts.contains(font));
        if !any_struck {
            return vec![(String::from_utf16_lossy(&text.units), None)];
        }
        let mut parts = Vec::new();
        let (mut from, mut struck) = (0, None);
        for (at, font) in &text.runs {
            let at = (*at).clamp(from, text.units.len());
            parts.push((String::from_utf16_lossy(&text.units[from..at]), struck));
            (from, struck) = (at, Some(self.struck_fonts.contains(font)));
        }
        parts.push((String::from_utf16_lossy(&text.units[from..]), struck));
        parts
    }

    fn sheet(
        &self,
        records: Records<'_>,
        left: &mut usize,
        out: &mut Gatherer,
    ) -> Result<(), Refusal> {
        let mut cells: Vec<(u16, u16, u16, Value)> = Vec::new();
        let mut reaching: BTreeMap<(u16, u16), u32> = BTreeMap::new();
        let mut hidden: BTreeSet<u16> = BTreeSet::new();
        // A chart inside the sheet has records of its own between its beginning and its end.
        let mut depth = 0_usize;
        let mut formula = None;
        for record in records {
            *left = left
                .checked_sub(1)
                .ok_or_else(|| Refusal::Damaged("its sheets overlap".into()))?;
            match record.kind {
                0x0809 => depth += 1,
                0x000A if depth <= 1 => break,
                0x000A => depth -= 1,
                _ if depth > 1 => {}
                0x0208 if record.u16(12) & 0x20 != 0 => {
                    hidden.insert(record.u16(0));
                }
                0x00E5 => merges(&record, &mut reaching),
                0x0006 => {
                    formula = Some((record.u16(0), record.u16(2), record.u16(4)));
                    if let Some(value) = formula_value(&record) {
                        cells.push((record.u16(0), record.u16(2), record.u16(4), value));
                    }
                }
                0x0207 => {
                    if let Some((row, column, look)) = formula.take() {
                        let text = self.own_text(&record, 0);
                        cells.push((row, column, look, Value::Own(text.into())));
                    }
                }
                0x00BD => multiple(&record, &mut cells),
                _ => {
                    if let Some(value) = self.value(&record) {
                        cells.push((record.u16(0), record.u16(2), record.u16(4), value));
                    }
                }
            }
            if cells.len() > limits::MAX_CELLS {
                return Err(Refusal::TooManyCells);
            }
        }
        cells.sort_by_key(|(row, column, ..)| (*row, *column));
        let mut hidden_rows = 0;
        for row in cells.chunk_by(|a, b| a.0 == b.0) {
            let Some((number, ..)) = row.first() else {
                continue;
            };
            hidden_rows += usize::from(hidden.contains(number));
            let mut line = Vec::new();
            for (_, column, look, value) in row {
                let at = usize::from(*column).min(limits::MAX_COLUMNS);
                if line.len() <= at {
                    line.resize(at + 1, Cell::default());
                }
                line[at] = self.cell(*look, value);
                line[at].reaches_down = reaching
                    .get(&(*number, *column))
                    .copied()
                    .unwrap_or_default();
            }
            out.row(usize::from(*number) + 1, line)?;
        }
        if hidden_rows > 0 {
            out.warn(format!("{hidden_rows} hidden rows were read too"));
        }
        Ok(())
    }

    fn value(&self, record: &Record<'_>) -> Option<Value> {
        Some(match record.kind {
            0x00FD => Value::Shared(record.u32(6)),
            0x0203 => Value::Number(record.f64(6)),
            0x027E => Value::Number(rk(record.u32(6))),
            0x0204 | 0x00D6 => Value::Own(self.own_text(record, 6).into()),
            0x0205 if record.u16(6) < 0x100 => Value::Own(yes_or_no(record.u16(6)).into()),
            _ => return None,
        })
    }

    fn own_text(&self, record: &Record<'_>, at: usize) -> String {
        if self.old {
            return byte_text(
                record.data,
                at + 2,
                usize::from(record.u16(at)),
                self.encoding,
            );
        }
        let text = Pieces::of(record, at).text();
        text.map_or_else(String::new, |text| String::from_utf16_lossy(&text.units))
    }

    fn cell(&self, look: u16, value: &Value) -> Cell {
        let (font, format) = self
            .looks
            .get(usize::from(look))
            .copied()
            .unwrap_or_default();
        let struck = self.struck_fonts.contains(&font);
        match value {
            Value::Number(number) if self.dates.contains(&format) => {
                let kind = ExcelDateTimeType::DateTime;
                Cell::new(
                    date_text(&ExcelDateTime::new(*number, kind, self.from_1904)),
                    struck,
                )
            }
            Value::Number(number) => Cell::new(number_text(*number), struck),
            Value::Own(text) => Cell::new(&**text, struck),
            Value::Shared(index) => {
                let mut cell = Cell::default();
                let pieces = self.texts.get(*index as usize);
                for (text, own) in pieces.into_iter().flatten() {
                    cell.push(text, own.unwrap_or(struck));
                }
                cell
            }
        }
    }
}

/// The result that was kept of a formula; nothing when it is a text, which follows, an error or empty.
fn formula_value(record: &Record<'_>) -> Option<Value> {
    if record.u16(12) != 0xFFFF {
        return Some(Value::Number(record.f64(6)));
    }
    (record.u16(6) & 0xFF == 1).then(|| Value::Own(yes_or_no(record.u16(8) & 0xFF).into()))
}

fn yes_or_no(bit: u16) -> &'static str {
    if bit == 0 { "no" } else { "yes" }
}

/// Several numbers in one row, each with its look.
fn multiple(record: &Record<'_>, cells: &mut Vec<(u16, u16, u16, Value)>) {
    let inner = record.data.len().saturating_sub(6) / 6;
    for index in 0..inner {
        let at = 4 + 6 * index;
        let column = record.u16(2).saturating_add(index as u16);
        cells.push((
            record.u16(0),
            column,
            record.u16(at),
            Value::Number(rk(record.u32(at + 2))),
        ));
    }
}

fn merges(record: &Record<'_>, reaching: &mut BTreeMap<(u16, u16), u32>) {
    for at in (2..record.data.len().saturating_sub(7)).step_by(8) {
        let (first, last) = (record.u16(at), record.u16(at + 2));
        if last > first {
            reaching.insert((first, record.u16(at + 4)), u32::from(last - first));
        }
    }
}

/// Whether a number format shows a day: a letter of days or years outside of quotation marks and brackets.
fn is_date_format(format: &str) -> bool {
    let (mut quoted, mut bracketed, mut escaped) = (false, false, false);
    for c in format.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' | '_' | '*' => escaped = true,
            '"' => quoted = !quoted,
            '[' => bracketed = true,
            ']' => bracketed = false,
            'd' | 'D' | 'y' | 'Y' if !quoted && !bracketed => return true,
            _ => {}
        }
    }
    false
}
