//! What an XLSX says about cells besides their values: struck fonts, struck words, hidden rows, merged cells, and formulas without a
//! value.
//!
//! The general library gives values only. These looks are made only when the guard saw a word of them go by.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufReader, Cursor};
use std::rc::Rc;

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use zip::ZipArchive;

use crate::error::Refusal;
use crate::limits;
use crate::read::archive::Signs;
use crate::read::cell::Cell;
use crate::read::xml;

/// Where something stands on a sheet: row and column from nought.
type At = (u32, u32);

/// What one sheet says.
#[derive(Debug, Default)]
pub struct SheetMarks {
    /// Cells whose font has a line through it.
    pub struck: BTreeSet<At>,
    /// Cells of which some words have a line through them. A shared text is held once, however many cells show it.
    pub partly: BTreeMap<At, Rc<Cell>>,
    /// How many rows further down a merged cell reaches.
    pub down: BTreeMap<At, u32>,
    /// Rows that are not shown, from nought.
    pub hidden: BTreeSet<u32>,
    /// Cells with a formula whose value is not stored: only a program that reckons can tell it.
    pub unreckoned: BTreeSet<At>,
}

impl SheetMarks {
    fn count(&self) -> usize {
        self.struck.len() + self.partly.len() + self.down.len() + self.unreckoned.len()
    }
}

/// What the workbook says for all sheets.
#[derive(Default)]
pub struct Marks<'a> {
    bytes: &'a [u8],
    wanted: bool,
    formulas: bool,
    /// Looks with a struck font.
    looks: BTreeSet<usize>,
    /// Shared texts with struck words.
    texts: BTreeMap<usize, Rc<Cell>>,
    /// The file of each sheet, by its name.
    files: BTreeMap<String, String>,
}

impl<'a> Marks<'a> {
    /// Reads what is shared by all sheets.
    pub fn of(bytes: &'a [u8], signs: Signs) -> Result<Self, Refusal> {
        let mut marks = Marks {
            bytes,
            wanted: signs.struck || signs.hidden || signs.merged || signs.formulas,
            formulas: signs.formulas,
            ..Marks::default()
        };
        if !marks.wanted {
            return Ok(marks);
        }
        if signs.struck {
            marks.looks = struck_looks(bytes)?;
            marks.texts = struck_texts(bytes)?;
        }
        marks.files = sheet_files(bytes)?;
        Ok(marks)
    }

    /// Reads the marks of one sheet.
    pub fn sheet(&self, name: &str) -> Result<SheetMarks, Refusal> {
        let mut found = SheetMarks::default();
        let Some(file) = self.files.get(name).filter(|_| self.wanted) else {
            return Ok(found);
        };
        let (mut place, mut rich) = (Place::default(), RichText::default());
        each(self.bytes, file, |event| {
            if let Some(Some(cell)) = rich.take(&event, "is") {
                let at = (place.at, place.column);
                found.partly.insert(at, Rc::new(cell));
            }
            match event {
                Seen::Start(element) => match element.local_name().as_ref() {
                    "row" => place.row(element, &mut found),
                    "c" => place.cell(element, self, &mut found),
                    "v" => place.value.clear(),
                    "f" => place.formula = !place.is_text,
                    "mergeCell" => merge(element, &mut found),
                    _ => {}
                },
                Seen::Text(text) => place.value.push_str(text),
                Seen::End("v") if place.shared => {
                    let text = place.value.trim().parse().ok();
                    if let Some(cell) = text.and_then(|index: usize| self.texts.get(&index)) {
                        let at = (place.at, place.column);
                        found.partly.insert(at, Rc::clone(cell));
                    }
                }
                // What stood there is the formula itself.
                Seen::End("f") => place.value.clear(),
                Seen::End("c") if place.formula && place.value.trim().is_empty() => {
                    found.unreckoned.insert((place.at, place.column));
                }
                Seen::End(_) => {}
            }
            // Far more than any list has: what is beyond is read without its marks.
            found.count() < limits::MAX_CELLS
        })?;
        Ok(found)
    }
}

/// Where the reading of a sheet is.
#[derive(Default)]
struct Place {
    at: u32,
    column: u32,
    next_row: u32,
    next_column: u32,
    shared: bool,
    /// Its value is a text, which may be empty.
    is_text: bool,
    /// It is reckoned from others.
    formula: bool,
    value: String,
}

impl Place {
    fn row(&mut self, element: &BytesStart<'_>, found: &mut SheetMarks) {
        let said = xml::number(element, "r").and_then(|row| u32::try_from(row).ok());
        self.at = said.map_or(self.next_row, |row| row.saturating_sub(1));
        self.next_row = self.at.saturating_add(1);
        self.next_column = 0;
        if is_on(xml::attribute(element, "hidden")) {
            found.hidden.insert(self.at);
        }
    }

    fn cell(&mut self, element: &BytesStart<'_>, marks: &Marks<'_>, found: &mut SheetMarks) {
        if marks.looks.is_empty() && marks.texts.is_empty() && !marks.formulas {
            return;
        }
        let kind = xml::attribute(element, "t");
        self.formula = false;
        self.is_text = kind.as_deref() == Some("str");
        let said = xml::attribute(element, "r").and_then(|text| corner(&text));
        (self.at, self.column) = said.unwrap_or((self.at, self.next_column));
        self.next_column = self.column.saturating_add(1);
        if !marks.looks.is_empty()
            && xml::number(element, "s").is_some_and(|look| marks.looks.contains(&look))
        {
            found.struck.insert((self.at, self.column));
        }
        self.shared = !marks.texts.is_empty() && kind.as_deref() == Some("s");
        self.value.clear();
    }
}

fn merge(element: &BytesStart<'_>, found: &mut SheetMarks) {
    let Some(range) = xml::attribute(element, "ref") else {
        return;
    };
    let corners = range
        .split_once(':')
        .and_then(|(a, b)| corner(a).zip(corner(b)));
    if let Some((first, last)) = corners
        && last.0 > first.0
    {
        found.down.insert(first, last.0 - first.0);
    }
}

/// "C7" as row and column from nought.
fn corner(text: &str) -> Option<At> {
    let text = text.trim();
    let digits = text.find(|c: char| c.is_ascii_digit())?;
    let column = text[..digits].bytes().try_fold(0_u32, |column, letter| {
        let letter = letter
            .to_ascii_uppercase()
            .checked_sub(b'A')
            .filter(|n| *n < 26)?;
        column.checked_mul(26)?.checked_add(u32::from(letter) + 1)
    })?;
    let row: u32 = text[digits..].parse().ok()?;
    Some((row.checked_sub(1)?, column.checked_sub(1)?))
}

fn is_on(said: Option<String>) -> bool {
    matches!(said.as_deref(), Some("1" | "true" | "on"))
}

/// Which of the cells' looks have a font with a line through it.
fn struck_looks(bytes: &[u8]) -> Result<BTreeSet<usize>, Refusal> {
    let (mut fonts, mut struck, mut looks, mut count) =
        (0_usize, BTreeSet::new(), BTreeSet::new(), 0);
    let (mut in_fonts, mut in_looks) = (false, false);
    each(bytes, "xl/styles.xml", |event| {
        match event {
            Seen::Start(element) => match element.local_name().as_ref() {
                "fonts" => in_fonts = true,
                "cellXfs" => in_looks = true,
                "font" if in_fonts => fonts += 1,
                "strike" if in_fonts && !is_off(element) => {
                    struck.insert(fonts.saturating_sub(1));
                }
                "xf" if in_looks => {
                    if xml::number(element, "fontId").is_some_and(|font| struck.contains(&font)) {
                        looks.insert(count);
                    }
                    count += 1;
                }
                _ => {}
            },
            Seen::End("fonts") => in_fonts = false,
            Seen::End("cellXfs") => in_looks = false,
            _ => {}
        }
        true
    })?;
    Ok(looks)
}

/// Shared texts some words of which are struck.
fn struck_texts(bytes: &[u8]) -> Result<BTreeMap<usize, Rc<Cell>>, Refusal> {
    let (mut found, mut count, mut rich) = (BTreeMap::new(), 0_usize, RichText::default());
    each(bytes, "xl/sharedStrings.xml", |event| {
        if let Some(text) = rich.take(&event, "si") {
            found.extend(text.map(|cell| (count, Rc::new(cell))));
            count += 1;
        }
        true
    })?;
    Ok(found)
}

/// A text of runs, each struck or not, while it goes by.
#[derive(Default)]
struct RichText {
    cell: Cell,
    struck: bool,
    any_struck: bool,
    in_text: bool,
    /// In the reading aid above words of some scripts, which is no text of the cell.
    in_aid: bool,
}

impl RichText {
    /// Takes an event. At the end of the element that holds the text, returns the text if words of it are struck.
    fn take(&mut self, event: &Seen<'_>, holder: &str) -> Option<Option<Cell>> {
        match event {
            Seen::Start(element) => match element.local_name().as_ref() {
                name if name == holder => *self = Self::default(),
                "r" => self.struck = false,
                "strike" => {
                    self.struck = !is_off(element);
                    self.any_struck |= self.struck;
                }
                "rPh" => self.in_aid = true,
                "t" => self.in_text = !self.in_aid,
                _ => {}
            },
            Seen::Text(text) if self.in_text && self.cell.len() <= limits::MAX_CELL_BYTES => {
                self.cell.push(text, self.struck);
            }
            Seen::Text(_) => {}
            Seen::End("t") => self.in_text = false,
            Seen::End("r") => self.struck = false,
            Seen::End("rPh") => self.in_aid = false,
            Seen::End(name) if *name == holder => {
                let done = std::mem::take(self);
                return Some(done.any_struck.then_some(done.cell));
            }
            Seen::End(_) => {}
        }
        None
    }
}

/// A property that is there and switched off.
fn is_off(element: &BytesStart<'_>) -> bool {
    matches!(
        xml::attribute(element, "val").as_deref(),
        Some("0" | "false" | "off")
    )
}

/// The file of each sheet.
fn sheet_files(bytes: &[u8]) -> Result<BTreeMap<String, String>, Refusal> {
    let (mut targets, mut files) = (BTreeMap::new(), BTreeMap::new());
    each(bytes, "xl/_rels/workbook.xml.rels", |event| {
        if let Seen::Start(element) = event
            && let Some(id) = xml::attribute(element, "Id")
        {
            let target = xml::attribute(element, "Target").unwrap_or_default();
            let path = match target.strip_prefix('/') {
                Some(whole) => whole.to_owned(),
                None => format!("xl/{target}"),
            };
            targets.insert(id, path);
        }
        true
    })?;
    each(bytes, "xl/workbook.xml", |event| {
        if let Seen::Start(element) = event
            && element.local_name().as_ref() == "sheet"
            && let Some(name) = xml::attribute(element, "name")
            && let Some(path) = xml::attribute(element, "id").and_then(|id| targets.get(&id))
        {
            files.insert(name, path.clone());
        }
        true
    })?;
    Ok(files)
}

/// What goes by in a file.
enum Seen<'a> {
    Start(&'a BytesStart<'a>),
    Text(&'a str),
    End(&'a str),
}

/// Streams one file inside; one that is not there is empty. Ends when the visitor has had enough.
fn each(bytes: &[u8], file: &str, mut visit: impl FnMut(Seen<'_>) -> bool) -> Result<(), Refusal> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(xml::damaged)?;
    let Ok(entry) = archive.by_name(file) else {
        return Ok(());
    };
    let mut reader = Reader::from_reader(BufReader::new(entry));
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        let on = match reader.read_event_into(&mut buffer).map_err(xml::damaged)? {
            Event::Eof => return Ok(()),
            Event::DocType(_) => return Err(Refusal::DocumentType(file.into())),
            Event::Start(element) => visit(Seen::Start(&element)),
            Event::Empty(element) => {
                visit(Seen::Start(&element)) && visit(Seen::End(element.local_name().as_ref()))
            }
            Event::End(element) => visit(Seen::End(element.local_name().as_ref())),
            Event::Text(text) => visit(Seen::Text(&text.xml10_content())),
            Event::CData(text) => visit(Seen::Text(&text.xml10_content())),
            Event::GeneralRef(name) => {
                visit(Seen::Text(xml::character(&name).encode_utf8(&mut [0; 4])))
            }
            _ => true,
        };
        if !on {
            return Ok(());
        }
    }
}
