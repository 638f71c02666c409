//! An input for a reader: made into a file, read, and held against what must be so of any list.
//!
//! Where a file has an outer shell with checksums or lengths (zip, compound file, PDF), the input's first byte says
//! which part of a sound file the rest stands for, so that chance works on what is inside. 0 is the whole file.

use std::collections::BTreeSet;

use list::{PackingList, Place, Sheets};

use super::shells;

/// Has the reader of this name read an input. Panics when something is wrong.
pub fn read(reader: &str, input: &[u8]) {
    match reader {
        "describe" => describe(input),
        "quantity" => quantity(input),
        "rows" => rows(input),
        "xlsx" => file(&shells::xlsx(input)),
        "ods" => file(&shells::ods(input)),
        "xls" => file(&shells::xls(input)),
        "pdf" => file(&shells::pdf(input)),
        "mail" => whole(input),
        _ => file(input),
    }
}

/// A mail: which of its parts the list is, its reader decides.
fn whole(bytes: &[u8]) {
    if let Ok(list) = list::read(bytes, "any") {
        sound(&list);
    }
}

/// Any file: rows and lines set aside are together all lines.
fn file(bytes: &[u8]) {
    if let Some(despatch) = list::despatch::read(bytes) {
        let Ok(despatch) = despatch else { return };
        let lines = despatch.lines.len();
        let list = PackingList::from(despatch);
        sound(&list);
        assert_eq!(list.rows.len() + list.set_aside.len(), lines);
    } else if let Ok(sheets) = list::read_sheets(bytes, "any") {
        grid(sheets);
    }
}

/// Every line is in a row or set aside, in both where tables stand side by side.
fn grid(sheets: Sheets) {
    let places = |sheet: &list::Sheet| -> Vec<Place> {
        let lines = sheet.lines.iter();
        lines.map(|line| Place::of(&sheet.name, line)).collect()
    };
    let lines: Vec<Place> = sheets.sheets.iter().flat_map(places).collect();
    if let Ok(list) = list::read_rows(sheets, "any") {
        sound(&list);
        let rows = list.rows.iter().map(|row| &row.at);
        let aside = list.set_aside.iter().map(|line| &line.at);
        let said: Vec<&Place> = rows.chain(aside).collect();
        assert!(said.len() >= lines.len());
        let said: BTreeSet<&Place> = said.into_iter().collect();
        let lost = lines.iter().find(|line| !said.contains(line));
        assert!(lost.is_none(), "{lost:?} is neither a row nor set aside");
    }
}

/// What is so of every list.
fn sound(list: &PackingList) {
    let mut keys: Vec<_> = list.rows.iter().map(|row| row.key).collect();
    keys.sort();
    keys.dedup();
    assert_eq!(keys.len(), list.rows.len(), "two rows have one key");
    for row in &list.rows {
        assert!(
            row.quantity
                .is_none_or(|n| n.unsigned_abs() <= 1_000_000_000),
            "{row:?}"
        );
        let texts = [
            &row.code,
            &row.description,
            &row.details,
            &row.sub_kit,
            &row.shipment,
            &row.written,
        ];
        for text in texts {
            assert!(!text.contains(unwanted), "{row:?}");
        }
    }
    let text_aside = list.set_aside.iter().map(|line| &line.text);
    text_aside.for_each(|text| assert!(!text.contains(unwanted), "{text:?}"));
}

/// Zero bytes, controls, and what turns the direction of writing.
fn unwanted(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

fn describe(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let said = list::describe(&text);
    let spans = said.noun.iter().map(|noun| noun.span);
    for (from, to) in spans.chain(said.length.iter().map(|fact| fact.span)) {
        assert!(text.get(from..to).is_some(), "{from}..{to} of {text:?}");
    }
}

/// A cell, and after a line end what the column of units says.
fn quantity(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let (cell, unit) = text.split_once('\n').unwrap_or((&text, ""));
    if let Some(quantity) = list::read_quantity(cell, unit) {
        assert!(
            quantity.pieces.unsigned_abs() <= 1_000_000_000,
            "{quantity:?}"
        );
    }
}

/// Lines of cells set apart by tabs. A line that begins with `~` is struck, `^` begins a page, `@` a sheet.
fn rows(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let mut sheets = Sheets {
        sheets: vec![list::Sheet::default()],
        set_aside: Vec::new(),
        warnings: Vec::new(),
    };
    let mut page = 0;
    for (at, line) in text.split('\n').take(2_000).enumerate() {
        let (mark, rest) = (line.chars().next(), line.get(1..).unwrap_or(""));
        if mark == Some('@') {
            sheets.sheets.push(list::Sheet {
                name: plain(rest),
                lines: Vec::new(),
            });
            continue;
        }
        page += u32::from(mark == Some('^'));
        let marked = matches!(mark, Some('~' | '^'));
        let cells = if marked { rest } else { line }.split('\t').take(256);
        let mut cells: Vec<String> = cells.map(plain).collect();
        while cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        let struck = mark == Some('~');
        let line = list::Line {
            number: at as u32 + 1,
            cells,
            page,
            struck,
            doubt: None,
            seen: None,
        };
        let sheet = sheets.sheets.last_mut();
        sheet
            .into_iter()
            .filter(|_| !line.cells.is_empty())
            .for_each(|sheet| sheet.lines.push(line.clone()));
    }
    grid(sheets);
}

/// A cell as every reader hands it on.
fn plain(cell: &str) -> String {
    let kept: String = cell.chars().filter(|c| !unwanted(*c)).collect();
    kept.trim().to_owned()
}
