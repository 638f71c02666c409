//! The grid into rows: the header block, the tables, and every line that is no row set aside with its reason.

mod bare;
pub mod coils;
pub mod column_words;
pub mod columns;
pub mod counted;
pub mod ditto;
pub mod fill;
pub mod hands;
pub mod header;
pub mod in_line;
pub mod included;
pub mod layout;
pub mod line_kind;
pub mod notes;
pub mod number;
pub mod packs;
pub mod quantity;
pub mod row_of;
pub mod section;
pub mod struck;
pub mod ticks;
pub mod to_follow;
pub mod units;
pub mod written;

use crate::grid::{Line, Place, Sheet, Sheets, Warning};
use crate::limits;
use crate::row::{PackingList, Row, RowKey, SetAside, Why, number_keys};
use crate::table::columns::{Columns, columns};
use crate::table::counted::{Counted, count};
use crate::table::ditto::as_above;
use crate::table::fill::{filled, has_count};
use crate::table::included::{Inside, inside};
use crate::table::layout::{headings, side_by_side};
use crate::table::line_kind::{
    details, goes_on_below, is_bare_code, is_continuation, is_kit_name, is_page_stamp, is_section,
    is_total,
};
use crate::table::notes::is_note;
use crate::table::row_of::{for_all_kits, later, unsurely};
use crate::table::section::Section;
use crate::table::struck::is_struck;

/// Reads the tables of all sheets. Nothing when no sheet has one.
pub fn packing_list(sheets: Sheets) -> Option<PackingList> {
    let mut reading = Reading {
        warnings: sheets.warnings,
        set_aside: sheets.set_aside,
        ..Reading::default()
    };
    let lines = sheets.sheets.iter().flat_map(|sheet| &sheet.lines);
    let paged = lines.into_iter().any(|line| line.page > 0);
    for sheet in sheets.sheets {
        reading.sheet(sheet);
    }
    if reading.rows.is_empty() {
        return None;
    }
    let header = header::read(&reading.header_lines);
    if !paged {
        name_sheets(&mut reading.rows);
    }
    number_keys(&mut reading.rows);
    Some(PackingList {
        header,
        rows: reading.rows,
        set_aside: reading.set_aside,
        warnings: reading.warnings,
        despatch: None,
    })
}

/// What has been read so far.
#[derive(Default)]
struct Reading {
    header_lines: Vec<Line>,
    rows: Vec<Row>,
    set_aside: Vec<SetAside>,
    warnings: Vec<Warning>,
    /// Bytes of rows that dittos took from above: a mark of one byte may stand for a long text in very many rows.
    carried: usize,
}

/// Where a reader of lines is: the sheet, the section, and the cells of the row before with what its dittos stand for.
struct At<'a> {
    sheet: &'a str,
    section: Section,
    before: Option<Vec<String>>,
}

impl Reading {
    fn sheet(&mut self, sheet: Sheet) {
        for part in side_by_side(sheet) {
            self.part(part);
        }
    }

    /// Tables of a sheet, one below the other.
    fn part(&mut self, sheet: Sheet) {
        let Sheet { name, mut lines } = sheet;
        let headings = headings(&lines);
        let mut here = At {
            sheet: &name,
            section: Section::default(),
            before: None,
        };
        let Some(first) = headings.first() else {
            self.without_heading(&mut lines, &mut here);
            return;
        };
        for line in &lines[..first.at] {
            self.above(line, &name, Why::Header);
        }
        let mut table = None;
        for (n, heading) in headings.iter().enumerate() {
            let from = heading.at + heading.lines;
            let end = headings.get(n + 1).map_or(lines.len(), |next| next.at);
            let again = n > 0 && headings[n - 1].words == heading.words;
            let why = if again {
                Why::HeadingAgain
            } else {
                Why::Heading
            };
            for line in &lines[heading.at..from] {
                self.aside(line, &name, why);
            }
            // A page is read with the columns of the whole table where its heading repeats: they are found once.
            if !again {
                let same = headings[n..]
                    .iter()
                    .take_while(|other| other.words == heading.words)
                    .count();
                let reach = headings.get(n + same).map_or(lines.len(), |next| next.at);
                table = columns(Some(&heading.words), &lines[from..reach]);
            }
            match &table {
                Some(columns) => self.body(&mut lines[from..end], columns, &mut here),
                None => lines[from..end]
                    .iter()
                    .for_each(|line| self.aside(line, &name, Why::Note)),
            }
        }
    }

    fn body(&mut self, lines: &mut [Line], columns: &Columns, here: &mut At<'_>) {
        let mut after_row = false;
        let next_of = next_lines(lines);
        for index in 0..lines.len() {
            let (done, to_come) = lines.split_at_mut(index + 1);
            let line = &mut done[index];
            let next = next_of[index].map(|next| &to_come[next - index - 1]);
            match self.kind(line, next, after_row, columns, here) {
                LineIs::Row(row) => {
                    self.row(line, columns, *row, here);
                    after_row = true;
                }
                LineIs::More => {
                    self.goes_on(line);
                    self.aside(line, here.sheet, Why::Continues);
                }
                LineIs::Aside(why) => {
                    self.aside(line, here.sheet, why);
                    after_row = false;
                }
            }
        }
    }

    /// What a line of the table is; a section is begun.
    fn kind(
        &self,
        line: &Line,
        next: Option<&Line>,
        after_row: bool,
        columns: &Columns,
        here: &mut At<'_>,
    ) -> LineIs {
        if is_struck(line) {
            return LineIs::Aside(Why::Struck);
        }
        if is_page_stamp(line) {
            return LineIs::Aside(Why::PageStamp);
        }
        if is_total(line) {
            return LineIs::Aside(Why::Total);
        }
        let plainly = |column: usize| {
            quantity::plain(line.cell(column), "").is_some_and(|q| q.doubt.is_none())
        };
        let few = line.filled().count() <= 2 && !columns.quantity.is_some_and(plainly);
        if few && is_note(&line.text()) {
            return LineIs::Aside(Why::Note);
        }
        let before = here
            .before
            .as_deref()
            .or_else(|| self.rows.last().map(|row| &row.cells[..]))
            .filter(|_| self.carried <= limits::MAX_TEXT_BYTES);
        let filled = filled(line, before, columns);
        let read = filled.as_ref().unwrap_or(line);
        let inside = inside(line.filled().map(|(_, text)| text));
        if let Some(counted) = count(read, columns) {
            if counted.quantity.is_none() && inside.is_some() {
                return LineIs::Aside(Why::IncludedIn);
            }
            if columns.per_kit && is_kit_name(&counted.description) {
                let kits = counted.quantity.map_or(1, |q| q.pieces);
                here.section.begin_kits(&counted.description, kits);
                return LineIs::Aside(Why::Section);
            }
            let surely = inside.filter(|(inside, _)| *inside == Inside::Surely);
            let inside = surely.map(|(_, words)| words.to_owned());
            let filled = filled.map(|line| line.cells);
            return LineIs::Row(Box::new(Found {
                counted,
                filled,
                inside,
            }));
        }
        if inside.is_some() && line.filled().count() <= 4 && !has_count(line, columns) {
            return LineIs::Aside(Why::IncludedIn);
        }
        if line.cell(columns.description).is_empty() && has_count(line, columns) {
            return LineIs::Aside(Why::Total);
        }
        let code_of_it = |row: &Row| {
            let code = line.cell(columns.description);
            columns.codes_below
                && row.code.is_empty()
                && line.filled().count() == 1
                && is_bare_code(code)
        };
        if after_row
            && self
                .rows
                .last()
                .is_some_and(|row| goes_on_below(row, line) || code_of_it(row))
        {
            return LineIs::More;
        }
        if is_section(line, next) {
            here.section.begin(line);
            return LineIs::Aside(Why::Section);
        }
        if after_row && is_continuation(line, columns) {
            return LineIs::More;
        }
        LineIs::Aside(Why::Note)
    }

    /// Gives the row above what a line says on.
    fn goes_on(&mut self, line: &Line) {
        let Some(row) = self.rows.last_mut() else {
            return;
        };
        if is_bare_code(&row.description) && row.code.is_empty() {
            row.code = std::mem::replace(&mut row.description, line.text());
            row.key = RowKey::of(&row.code, &row.description, &row.sub_kit);
            return;
        }
        if row.code.is_empty() && is_bare_code(&line.text()) {
            row.code = line.text();
            row.key = RowKey::of(&row.code, &row.description, &row.sub_kit);
            return;
        }
        // A row that goes on without end says enough; its lines are all among those set aside.
        if row.details.len() > limits::MAX_CELL_BYTES {
            return;
        }
        let joint = if row.details.is_empty() { "" } else { " " };
        row.details.push_str(joint);
        row.details.push_str(&line.text());
    }

    fn row(&mut self, line: &mut Line, columns: &Columns, found: Found, here: &mut At<'_>) {
        let Found {
            mut counted,
            filled,
            inside,
        } = found;
        // A ditto in a list of bare lines stands within the words.
        if columns.quantity.is_none()
            && let Some(above) = self.rows.last()
            && let Some(text) = as_above(&counted.description, &above.description)
        {
            counted.description = text;
        }
        let filled_line = filled.map(|cells| Line {
            cells,
            ..Line::default()
        });
        let read = filled_line.as_ref().unwrap_or(line);
        let at = Place::of(here.sheet, line);
        let cell = |column: Option<usize>| column.map_or("", |c| read.cell(c)).to_owned();
        let or = |column: Option<usize>, section: &str| {
            let own = cell(column);
            if own.is_empty() {
                section.to_owned()
            } else {
                own
            }
        };
        let number = |column: Option<usize>| {
            quantity::read(&cell(column), &cell(columns.unit)).map(|q| q.pieces)
        };
        let quantity = counted.quantity.map(|read| {
            let read = for_all_kits(read, &here.section, columns);
            let twice = |words| {
                format!("it says {words:?}: if that has a row of its own, this counts twice")
            };
            match inside.map(twice) {
                Some(doubt) if read.pieces > 0 => read.doubted(doubt),
                _ => read,
            }
        });
        let unsure = line
            .seen
            .as_ref()
            .and_then(|seen| unsurely(seen, columns.quantity));
        let doubt = match &quantity {
            Some(quantity) => quantity.doubt.clone(),
            None if counted.written.is_empty() => Some("the row has no quantity".to_owned()),
            None => Some(format!(
                "{:?} was not read as a quantity; a whole number would be",
                counted.written
            )),
        };
        let marked = line.doubt.as_deref().map(str::to_owned);
        let doubts: Vec<String> = [doubt, unsure, marked].into_iter().flatten().collect();
        let doubt = (!doubts.is_empty()).then(|| doubts.join("; "));
        if let Some(doubt) = &doubt {
            self.warnings.push(Warning {
                at: Some(at.clone()),
                what: doubt.clone(),
            });
        }
        let ordered = number(columns.ordered.filter(|c| Some(*c) != columns.quantity));
        let (code, sub_kit) = (
            cell(columns.code),
            or(columns.sub_kit, &here.section.sub_kit),
        );
        // A count in words has taken in the whole line.
        let mut details = columns
            .quantity
            .map_or_else(String::new, |_| details(read, columns));
        if let Some(of) = quantity.as_ref().map(|q| &q.of).filter(|of| !of.is_empty()) {
            let joint = if details.is_empty() { "" } else { ", " };
            details = format!("{details}{joint}{of}");
        }
        let row = Row {
            at,
            key: RowKey::of(&code, &counted.description, &sub_kit),
            quantity: quantity.as_ref().map(|q| q.pieces),
            doubt,
            unit: quantity.map_or_else(|| cell(columns.unit).to_lowercase(), |q| q.unit),
            ordered,
            backordered: number(columns.backordered)
                .or_else(|| later(&counted.written, &details, ordered)),
            written: counted.written,
            code,
            description: counted.description,
            details,
            sub_kit,
            shipment: or(columns.shipment, &here.section.shipment),
            // Moved, not copied: a long list is held once.
            cells: std::mem::take(&mut line.cells),
            seen: line.seen.take(),
            sent: None,
        };
        here.before = filled_line.map(|line| line.cells);
        let carried = here.before.iter().flatten().map(String::len);
        self.carried += carried.sum::<usize>();
        self.rows.push(row);
    }

    fn above(&mut self, line: &Line, sheet: &str, why: Why) {
        self.header_lines.push(line.clone());
        self.aside(line, sheet, why);
    }

    fn aside(&mut self, line: &Line, sheet: &str, why: Why) {
        let at = Place::of(sheet, line);
        if let Some(doubt) = &line.doubt {
            self.warnings.push(Warning {
                at: Some(at.clone()),
                what: doubt.to_string(),
            });
        }
        self.set_aside.push(SetAside {
            at,
            text: line.text(),
            why,
        });
    }
}

/// What a line of a table is.
enum LineIs {
    Row(Box<Found>),
    More,
    Aside(Why),
}

/// A row, before it is put together.
struct Found {
    counted: Counted,
    /// The cells with what their dittos stand for, where there are any.
    filled: Option<Vec<String>>,
    /// What it says of coming inside something else.
    inside: Option<String>,
}

/// Several sheets with rows are sub-kits by their names, where the rows name none.
fn name_sheets(rows: &mut [Row]) {
    let first = rows.first().map(|row| row.at.sheet.clone());
    if rows.iter().all(|row| Some(&row.at.sheet) == first.as_ref()) {
        return;
    }
    for row in rows.iter_mut().filter(|row| row.sub_kit.is_empty()) {
        let plain = row.at.sheet.to_lowercase();
        if !plain.starts_with("sheet") && !plain.is_empty() {
            row.sub_kit = row.at.sheet.clone();
            row.key = RowKey::of(&row.code, &row.description, &row.sub_kit);
        }
    }
}

/// Of each line the next one that is no page stamp: looked up from the end, so that a list of stamps costs no more.
fn next_lines(lines: &[Line]) -> Vec<Option<usize>> {
    let mut next = None;
    let mut all = vec![None; lines.len()];
    for index in (0..lines.len()).rev() {
        all[index] = next;
        if !is_page_stamp(&lines[index]) {
            next = Some(index);
        }
    }
    all
}
