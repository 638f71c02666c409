//! Tables of a saved page, of an HTML e-mail or of the clipboard into cells. The text between them is lines of one cell,
//! as it may be the list itself or stand above it. No script is run and nothing is fetched.

use std::collections::BTreeMap;

use html5gum::emitters::default::DefaultEmitter;
use html5gum::{StartTag, Token, Tokenizer};

use crate::error::Refusal;
use crate::grid::Sheets;
use crate::limits;
use crate::read::cell::Cell;
use crate::read::css::Css;
use crate::read::delimited;
use crate::read::gather::Gatherer;
use crate::read::html_element::{Element, Name, attribute};
use crate::read::text::cut;
use crate::row::Why;

/// How far back an end tag looks for its start.
const LOOK_BACK: usize = 64;

/// Parts the cells of what is hidden; no page shows it.
const CELL_END: char = '\u{1f}';

/// Reads a page.
pub fn read(text: &str) -> Result<Sheets, Refusal> {
    let mut emitter = DefaultEmitter::default();
    emitter.naively_switch_states(true);
    let mut page = Page::default();
    for token in Tokenizer::new_with_emitter(fragment(text), emitter) {
        match token {
            Ok(Token::StartTag(tag)) => page.start(&tag)?,
            Ok(Token::EndTag(tag)) => page.end(Name::of(&tag.name))?,
            Ok(Token::String(text)) => page.text(&String::from_utf8_lossy(&text)),
            _ => {}
        }
    }
    page.finish()
}

/// The part that was copied, where a clipboard's own header stands before the page.
fn fragment(text: &str) -> &str {
    if !text.starts_with("Version:") {
        return text;
    }
    text.find('<').map_or("", |at| &text[at..])
}

#[derive(Default)]
struct Page {
    out: Gatherer,
    css: Css,
    open: Vec<Element>,
    tables: Vec<Table>,
    /// Text outside of tables.
    loose: Cell,
    /// Text of a `pre` outside of tables.
    pre: Option<String>,
    style: String,
    number: usize,
    /// Words that the page does not show, since the last row or line of text.
    hidden: String,
    /// Places of cells so far, covered ones too.
    places: usize,
}

/// A table whose end has not come yet.
#[derive(Default)]
struct Table {
    /// How many elements were open around it.
    around: usize,
    row_index: usize,
    row: Option<Vec<Slot>>,
    /// The column of the open cell.
    cell: Option<usize>,
    /// Up to which row a column is taken by a cell from above.
    taken: BTreeMap<usize, usize>,
}

/// A cell, as its lines.
#[derive(Clone, Default)]
struct Slot {
    lines: Vec<Cell>,
    down: u32,
}

impl Page {
    fn start(&mut self, tag: &StartTag<()>) -> Result<(), Refusal> {
        let name = Name::of(&tag.name);
        if name.is(&["table"]) {
            self.start_table()?;
        } else if name.is(&["tr"]) && !self.tables.is_empty() {
            self.end_row()?;
            self.flush_loose()?;
            self.close_to_table();
            if let Some(table) = self.tables.last_mut() {
                table.row = Some(Vec::new());
            }
        } else if name.is(&["td", "th"]) && !self.tables.is_empty() {
            self.start_cell(tag)?;
        } else if name.is_block() {
            self.line_end()?;
        }
        if name.is(&["pre"]) && self.tables.is_empty() {
            self.pre = Some(String::new());
        }
        if name.is(&["input"]) {
            self.input(tag);
        }
        let closed = name.is_void() || (tag.self_closing && name.is(&["svg"]));
        if !closed {
            self.push(name, tag);
        }
        Ok(())
    }

    fn push(&mut self, name: Name, tag: &StartTag<()>) {
        // What stands deeper than any page does is read as if it stood at this depth.
        if self.open.len() >= limits::MAX_DEPTH {
            return;
        }
        let around = self.open.last().copied().unwrap_or_default();
        let style = attribute(tag, "style")
            .unwrap_or_default()
            .to_ascii_lowercase();
        let class = attribute(tag, "class").unwrap_or_default();
        let own = self.css.of(&style, &class);
        self.open.push(Element {
            name,
            hidden: around.hidden || own.hidden || attribute(tag, "hidden").is_some(),
            struck: around.struck || own.struck || name.is(&["s", "del", "strike"]),
            unread: around.unread || name.is_unread(),
        });
    }

    fn end(&mut self, name: Name) -> Result<(), Refusal> {
        if name.is(&["style"]) {
            self.css.read(&std::mem::take(&mut self.style));
        }
        if name.is(&["table"]) {
            return self.end_table();
        }
        if name.is(&["tr"]) {
            self.end_row()?;
        } else if name.is(&["td", "th"]) {
            self.end_cell();
        } else if name.is(&["pre"]) && self.pre.is_some() {
            self.end_pre()?;
        } else if name.is_block() {
            self.line_end()?;
        }
        let floor = self.floor();
        let from = floor.max(self.open.len().saturating_sub(LOOK_BACK));
        if let Some(at) = (from..self.open.len())
            .rev()
            .find(|at| self.open[*at].name == name)
        {
            self.open.truncate(at);
        }
        Ok(())
    }

    /// End tags inside a table's cell close nothing outside of the table.
    fn floor(&self) -> usize {
        self.tables
            .last()
            .map_or(0, |table| table.around.min(self.open.len()))
    }

    fn text(&mut self, text: &str) {
        let element = self.open.last().copied().unwrap_or_default();
        if element.unread {
            if element.name.is(&["style"]) && self.style.len() < limits::MAX_CELL_BYTES * 8 {
                self.style.push_str(text);
            }
            return;
        }
        if element.hidden {
            if self.hidden.len() < limits::MAX_CELL_BYTES {
                self.hidden.push_str(cut(text, limits::MAX_CELL_BYTES));
            }
            return;
        }
        if let Some(pre) = &mut self.pre {
            pre.push_str(text);
            return;
        }
        let cell = self.cell();
        if cell.len() <= limits::MAX_CELL_BYTES {
            push_spaced(cell, text, element.struck);
        }
    }

    /// The line of text that is being written: in the open cell, or loose before, between and behind tables.
    fn cell(&mut self) -> &mut Cell {
        let table = self.tables.last_mut();
        let slot = table.and_then(|table| table.row.as_mut()?.get_mut(table.cell?));
        let Some(slot) = slot else {
            return &mut self.loose;
        };
        if slot.lines.is_empty() {
            slot.lines.push(Cell::default());
        }
        let last = slot.lines.len() - 1;
        &mut slot.lines[last]
    }

    /// What a field of a form shows is text too.
    fn input(&mut self, tag: &StartTag<()>) {
        let kind = attribute(tag, "type")
            .unwrap_or_default()
            .to_ascii_lowercase();
        if matches!(kind.as_str(), "" | "text" | "number")
            && let Some(value) = attribute(tag, "value")
        {
            self.text(&value);
        }
    }

    fn line_end(&mut self) -> Result<(), Refusal> {
        if self.tables.is_empty() {
            if let Some(pre) = &mut self.pre {
                pre.push('\n');
            }
            return self.flush_loose();
        }
        if self.cell().is_empty() {
            return Ok(());
        }
        let slot = self
            .tables
            .last_mut()
            .and_then(|table| table.row.as_mut()?.get_mut(table.cell?));
        if let Some(slot) = slot {
            if slot.lines.len() > limits::MAX_ROWS {
                return Err(Refusal::TooManyRows);
            }
            slot.lines.push(Cell::default());
            return Ok(());
        }
        self.flush_loose()
    }

    fn flush_loose(&mut self) -> Result<(), Refusal> {
        let loose = std::mem::take(&mut self.loose);
        if !loose.is_empty() {
            self.number += 1;
            self.out.row(self.number, vec![loose])?;
        }
        self.flush_hidden()
    }

    /// Sets aside what the page does not show, as a line of the row or of the text that it stands in.
    fn flush_hidden(&mut self) -> Result<(), Refusal> {
        let hidden = std::mem::take(&mut self.hidden);
        if !hidden.contains(char::is_alphanumeric) {
            return Ok(());
        }
        let words = |cell: &str| cell.split_whitespace().collect::<Vec<_>>().join(" ");
        let cells = hidden.split(CELL_END).map(words);
        let filled: Vec<String> = cells.filter(|cell| !cell.is_empty()).collect();
        self.out
            .aside(self.number.max(1), &filled.join(" | "), Why::Hidden)
    }

    fn end_pre(&mut self) -> Result<(), Refusal> {
        self.flush_loose()?;
        let text = self.pre.take().unwrap_or_default();
        self.number += delimited::read_into(&text, self.number, &mut self.out)?;
        Ok(())
    }

    /// A table inside a cell makes the table around it one of layout: its row so far is a line of its own.
    fn start_table(&mut self) -> Result<(), Refusal> {
        if self.pre.is_some() {
            self.end_pre()?;
        }
        self.flush_loose()?;
        if self.tables.len() >= limits::MAX_DEPTH {
            return Ok(());
        }
        let around = self.tables.last_mut();
        if let Some((row, cell)) = around.and_then(|table| table.row.as_mut().zip(table.cell)) {
            let fresh = vec![Slot::default(); cell + 1];
            let so_far = std::mem::replace(row, fresh);
            self.emit(so_far)?;
        }
        self.tables.push(Table {
            around: self.open.len(),
            ..Table::default()
        });
        Ok(())
    }

    fn end_table(&mut self) -> Result<(), Refusal> {
        self.end_row()?;
        self.flush_loose()?;
        if let Some(table) = self.tables.pop() {
            self.open.truncate(table.around);
        }
        Ok(())
    }

    /// What a row or cell left open is closed by the next.
    fn close_to_table(&mut self) {
        let floor = self.floor();
        let open = self.open[floor..].iter();
        let inner =
            open.take_while(|element| element.name.is(&["table", "tbody", "thead", "tfoot"]));
        let keep = floor + inner.count();
        self.open.truncate(keep);
    }

    fn start_cell(&mut self, tag: &StartTag<()>) -> Result<(), Refusal> {
        self.end_cell();
        if !self.hidden.is_empty() && self.hidden.len() < limits::MAX_CELL_BYTES {
            self.hidden.push(CELL_END);
        }
        let number = |name, most: usize| {
            let said = attribute(tag, name).and_then(|text| text.trim().parse::<usize>().ok());
            said.unwrap_or(1).clamp(1, most)
        };
        let wide = number("colspan", limits::MAX_COLUMNS);
        let high = number("rowspan", 65_534);
        self.places += wide;
        if self.places > 4 * limits::MAX_CELLS {
            return Err(Refusal::TooManyCells);
        }
        let Some(table) = self.tables.last_mut() else {
            return Ok(());
        };
        let (index, taken) = (table.row_index, &mut table.taken);
        let row = table.row.get_or_insert_default();
        while row.len() <= limits::MAX_COLUMNS
            && taken.get(&row.len()).is_some_and(|until| *until > index)
        {
            row.push(Slot::default());
        }
        // Columns past the most that are kept share the last place.
        row.truncate(limits::MAX_COLUMNS);
        let columns = row.len()..(row.len() + wide).min(limits::MAX_COLUMNS + 1);
        if high > 1 {
            columns.clone().for_each(|column| {
                taken.insert(column, index + high);
            });
        }
        table.cell = Some(row.len());
        row.resize(columns.end, Slot::default());
        row[columns.start].down = (high - 1) as u32;
        Ok(())
    }

    fn end_cell(&mut self) {
        let floor = self.floor();
        if let Some(table) = self.tables.last_mut()
            && table.cell.take().is_some()
        {
            let cell = (floor..self.open.len()).find(|at| self.open[*at].name.is(&["td", "th"]));
            if let Some(at) = cell {
                self.open.truncate(at);
            }
        }
    }

    fn end_row(&mut self) -> Result<(), Refusal> {
        self.end_cell();
        let Some(row) = self.tables.last_mut().and_then(|table| {
            table.row_index += usize::from(table.row.is_some());
            table.row.take()
        }) else {
            return Ok(());
        };
        self.emit(row)?;
        self.flush_hidden()
    }

    /// Hands a row on. One that says something in a single cell only is as many lines as that cell has.
    fn emit(&mut self, row: Vec<Slot>) -> Result<(), Refusal> {
        let filled = |slot: &Slot| slot.lines.iter().any(|line| !line.is_empty());
        if row.len() == 1
            || row.iter().filter(|slot| filled(slot)).count() == 1
                && row.iter().any(|slot| slot.lines.len() > 2)
        {
            for line in row.into_iter().flat_map(|slot| slot.lines) {
                if !line.is_empty() {
                    self.number += 1;
                    self.out.row(self.number, vec![line])?;
                }
            }
            return Ok(());
        }
        self.number += 1;
        let cells = row.into_iter().map(|slot| {
            let mut cell = Cell::default();
            slot.lines.iter().for_each(|line| cell.append(line));
            cell.reaches_down = slot.down;
            cell
        });
        self.out.row(self.number, cells.collect())
    }

    fn finish(mut self) -> Result<Sheets, Refusal> {
        while !self.tables.is_empty() {
            self.end_table()?;
        }
        if self.pre.is_some() {
            self.end_pre()?;
        }
        self.flush_loose()?;
        self.out.finish()
    }
}

/// Adds text in which any run of white space is one space, as a page shows it.
fn push_spaced(cell: &mut Cell, text: &str, struck: bool) {
    if text.starts_with(char::is_whitespace) {
        cell.part();
    }
    for (index, word) in text.split_whitespace().enumerate() {
        if index > 0 {
            cell.push(" ", struck);
        }
        cell.push(word, struck);
    }
    if text.ends_with(char::is_whitespace) {
        cell.part();
    }
}
