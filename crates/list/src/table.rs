//! The grid into rows: the header block, the tables, and every line that is no row set aside with its reason.

use std::collections::BTreeMap;

use crate::columns::{Columns, Heading, columns, heading};
use crate::describe::describe;
use crate::grid::{Line, Place, Sheet, Sheets, Warning};
use crate::header;
use crate::line_kind::{
    details, is_continuation, is_page_stamp, is_section, is_total, section_name,
};
use crate::misread;
use crate::quantity::{self, Quantity};
use crate::row::{PackingList, Row, RowKey, SetAside, Why};

/// Reads the tables of all sheets. Nothing when no sheet has one.
pub fn packing_list(sheets: Sheets) -> Option<PackingList> {
    let mut reading = Reading {
        warnings: sheets.warnings,
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
}

/// Where a reader of lines is: the sheet, the section.
struct Section<'a> {
    sheet: &'a str,
    sub_kit: String,
    shipment: String,
}

impl Reading {
    fn sheet(&mut self, sheet: Sheet) {
        let Sheet { name, mut lines } = sheet;
        let headings: Vec<(usize, Heading)> = lines
            .iter()
            .enumerate()
            .filter_map(|(index, line)| heading(line).map(|heading| (index, heading)))
            .collect();
        let mut section = Section {
            sheet: &name,
            sub_kit: String::new(),
            shipment: String::new(),
        };
        let Some(&(first, _)) = headings.first() else {
            self.without_heading(&mut lines, &mut section);
            return;
        };
        for line in &lines[..first] {
            self.above(line, &name, Why::Header);
        }
        for (n, (at, words)) in headings.iter().enumerate() {
            let end = headings.get(n + 1).map_or(lines.len(), |(next, _)| *next);
            let again = n > 0 && headings[n - 1].1 == *words;
            self.aside(
                &lines[*at],
                &name,
                if n == 0 || !again {
                    Why::Heading
                } else {
                    Why::HeadingAgain
                },
            );
            // A page is read with the columns of the whole table where its heading repeats.
            let same = headings[n..]
                .iter()
                .take_while(|(_, other)| other == words)
                .count();
            let reach = headings
                .get(n + same)
                .map_or(lines.len(), |(next, _)| *next);
            match columns(Some(words), &lines[at + 1..reach]) {
                Some(columns) => self.body(&mut lines[at + 1..end], &columns, &mut section),
                None => lines[at + 1..end]
                    .iter()
                    .for_each(|line| self.aside(line, &name, Why::Note)),
            }
        }
    }

    /// A table with nothing above its columns: the first line with a quantity ends the header.
    fn without_heading(&mut self, lines: &mut [Line], section: &mut Section<'_>) {
        let is_table_line = |line: &&Line| !header::is_entry(line);
        let likely: Vec<Line> = lines.iter().filter(is_table_line).cloned().collect();
        let found = columns(None, &likely);
        let first = found.as_ref().and_then(|columns| {
            lines.iter().position(|line| {
                !header::is_entry(line)
                    && !is_total(line)
                    && count(line, columns).is_some_and(|counted| counted.quantity.is_some())
            })
        });
        let Some((columns, mut first)) = found.zip(first) else {
            for line in lines {
                self.above(line, section.sheet, Why::NoTable);
            }
            return;
        };
        // The line just above may head the first section; a title names the paper or the order.
        if first > 0 && is_section(&lines[first - 1], lines.get(first)) {
            let text = lines[first - 1].text();
            let lower = text.to_lowercase();
            let title = [
                "packing", "list", "order", "gothic", "house", "shipped", "kit for",
            ]
            .iter()
            .any(|word| lower.contains(word));
            first -= usize::from(!title && !text.contains(|c: char| c.is_ascii_digit()));
        }
        for line in &lines[..first] {
            self.above(line, section.sheet, Why::Header);
        }
        self.body(&mut lines[first..], &columns, section);
    }

    fn body(&mut self, lines: &mut [Line], columns: &Columns, section: &mut Section<'_>) {
        let mut after_row = false;
        for index in 0..lines.len() {
            let (done, to_come) = lines.split_at_mut(index + 1);
            let line = &mut done[index];
            let mut to_come = to_come.iter();
            if is_page_stamp(line) {
                self.aside(line, section.sheet, Why::PageStamp);
            } else if is_total(line) {
                self.aside(line, section.sheet, Why::Total);
            } else if let Some(counted) = count(line, columns) {
                self.row(line, columns, counted, section);
                after_row = true;
                continue;
            } else if line.cell(columns.description).is_empty() && has_count(line, columns) {
                self.aside(line, section.sheet, Why::Total);
            } else if is_section(line, to_come.find(|next| !is_page_stamp(next))) {
                let name = section_name(line);
                if name.is_shipment {
                    section.shipment = name.text;
                } else {
                    section.sub_kit = name.text;
                }
                self.aside(line, section.sheet, Why::Section);
            } else if after_row && is_continuation(line, columns) {
                if let Some(row) = self.rows.last_mut() {
                    let joint = if row.details.is_empty() { "" } else { " " };
                    row.details = format!("{}{joint}{}", row.details, line.text());
                }
                self.aside(line, section.sheet, Why::Continues);
                continue;
            } else {
                self.aside(line, section.sheet, Why::Note);
            }
            after_row = false;
        }
    }

    fn row(&mut self, line: &mut Line, columns: &Columns, counted: Counted, section: &Section<'_>) {
        let at = Place::of(section.sheet, line);
        let cell = |column: Option<usize>| column.map_or("", |c| line.cell(c)).to_owned();
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
        let doubt = match &counted.quantity {
            Some(quantity) => quantity.doubt.clone(),
            None if counted.written.is_empty() => Some("the row has no quantity".to_owned()),
            None => Some(format!(
                "{:?} was not read as a quantity; a whole number would be",
                counted.written
            )),
        };
        let doubt = misread::both(doubt, misread::doubt(line, columns.quantity));
        if let Some(doubt) = &doubt {
            self.warnings.push(Warning {
                at: Some(at.clone()),
                what: doubt.clone(),
            });
        }
        let (code, sub_kit) = (cell(columns.code), or(columns.sub_kit, &section.sub_kit));
        self.rows.push(Row {
            at,
            key: RowKey::of(&code, &counted.description, &sub_kit),
            quantity: counted.quantity.as_ref().map(|q| q.pieces),
            written: counted.written,
            doubt,
            unit: counted
                .quantity
                .map_or_else(|| cell(columns.unit).to_lowercase(), |q| q.unit),
            ordered: number(columns.ordered.filter(|c| Some(*c) != columns.quantity)),
            backordered: number(columns.backordered),
            code,
            description: counted.description,
            // A count in words has taken in the whole line.
            details: columns
                .quantity
                .map_or_else(String::new, |_| details(line, columns)),
            sub_kit,
            shipment: or(columns.shipment, &section.shipment),
            // Moved, not copied: a long list is held once.
            cells: std::mem::take(&mut line.cells),
            seen: line.seen.take(),
            sent: None,
        });
    }

    fn above(&mut self, line: &Line, sheet: &str, why: Why) {
        self.header_lines.push(line.clone());
        self.aside(line, sheet, why);
    }

    fn aside(&mut self, line: &Line, sheet: &str, why: Why) {
        let at = Place::of(sheet, line);
        self.set_aside.push(SetAside {
            at,
            text: line.text(),
            why,
        });
    }
}

/// How many of what a line says.
struct Counted {
    quantity: Option<Quantity>,
    written: String,
    description: String,
}

/// Returns the count and the thing, when the line is a row.
fn count(line: &Line, columns: &Columns) -> Option<Counted> {
    let description = line.cell(columns.description);
    if description.is_empty() {
        return None;
    }
    let Some(column) = columns.quantity else {
        return count_in_words(line);
    };
    let written = line.cell(column);
    let unit = columns.unit.map_or("", |c| line.cell(c));
    let quantity = quantity::read(written, unit).or_else(|| misread::count(line, written, unit));
    let has_code = columns.code.is_some_and(|c| !line.cell(c).is_empty());
    let named = has_code || quantity::is_unit(unit);
    // Without a number it is still a row when it has a quantity's words ("as req'd") or a code of its own.
    if quantity.is_none() && !named && (written.is_empty() || line.filled().count() < 2) {
        return None;
    }
    Some(Counted {
        quantity,
        written: written.to_owned(),
        description: description.to_owned(),
    })
}

/// A line such as "12 ground posts", whatever its cells. One that names a thing with numbers, none of which is clearly
/// the count ("lock channel 8 ft, 4 bdl of 10, minus 2"), is a row without a quantity, for a person to fill in.
fn count_in_words(line: &Line) -> Option<Counted> {
    let texts: Vec<&str> = line.filled().map(|(_, text)| text).collect();
    let whole = texts.join(", ");
    if let Some((quantity, description)) =
        quantity::split_start(&whole).or_else(|| quantity::split_end(&whole))
    {
        let (written, description) = (quantity.pieces.to_string(), description.to_owned());
        return Some(Counted {
            written,
            description,
            quantity: Some(quantity),
        });
    }
    let numbered = whole.contains(|c: char| c.is_ascii_digit()) && !whole.starts_with('(');
    let names_a_thing = numbered && describe(&whole).noun.is_some_and(|noun| !noun.ambiguous);
    names_a_thing.then(|| Counted {
        written: String::new(),
        description: whole,
        quantity: None,
    })
}

fn has_count(line: &Line, columns: &Columns) -> bool {
    columns
        .quantity
        .is_some_and(|c| quantity::read(line.cell(c), "").is_some())
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

fn number_keys(rows: &mut [Row]) {
    let mut seen: BTreeMap<u64, u32> = BTreeMap::new();
    for row in rows {
        let times = seen.entry(row.key.words).or_default();
        *times += 1;
        row.key.occurrence = *times;
    }
}
