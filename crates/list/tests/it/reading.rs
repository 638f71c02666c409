//! One list in every encoding, with every delimiter, as a workbook and pasted: always the same rows.

use encoding_rs::{UTF_16BE, WINDOWS_1252};
use list::{PackingList, Row, read};
use rust_xlsxwriter::Workbook;

/// The list, as cells; with letters and marks beyond ASCII that Windows-1252 has too.
const CELLS: [[&str; 4]; 8] = [
    ["Packing list", "Café garden, north end", "", ""],
    ["Order:", "40117", "Size:", "24 x 48 ft"],
    ["Code", "Description", "Qty", "Unit"],
    ["Frame", "", "", ""],
    ["T-1", "Ground post, 1-5/8\" × 5 ft", "26", "ea"],
    [
        "T-2",
        "Ridge tube 10'6½\"; one end swaged | galv.",
        "15",
        "ea",
    ],
    ["", "Total", "41", ""],
    ["T-3", "Lock channel", "4 x 5", "stk"],
];

fn delimited(delimiter: char, line_end: &str) -> String {
    let quoted = |cell: &str| {
        if cell.contains([delimiter, '"', '\n']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell.to_owned()
        }
    };
    let lines = CELLS.map(|row| row.map(quoted).join(&delimiter.to_string()));
    lines.join(line_end)
}

fn what(list: &PackingList) -> Vec<(u32, Option<i64>, String, String, String, String)> {
    let row = |row: &Row| {
        (
            row.at.row,
            row.quantity,
            row.unit.clone(),
            row.code.clone(),
            row.description.clone(),
            row.sub_kit.clone(),
        )
    };
    list.rows.iter().map(row).collect()
}

fn by_hand() -> Vec<(u32, Option<i64>, String, String, String, String)> {
    let row = |at, n, unit: &str, code: &str, text: &str| {
        (
            at,
            Some(n),
            unit.into(),
            code.into(),
            text.into(),
            "Frame".into(),
        )
    };
    vec![
        row(5, 26, "ea", "T-1", "Ground post, 1-5/8\" × 5 ft"),
        row(
            6,
            15,
            "ea",
            "T-2",
            "Ridge tube 10'6½\"; one end swaged | galv.",
        ),
        row(8, 20, "stk", "T-3", "Lock channel"),
    ]
}

#[test]
fn every_encoding_and_delimiter() {
    for delimiter in [',', ';', '\t', '|'] {
        for line_end in ["\n", "\r\n", "\r"] {
            let text = delimited(delimiter, line_end);
            let utf16le: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
            let utf16be: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
            let marked = |mark: &[u8], body: &[u8]| [mark, body].concat();
            let files = [
                ("UTF-8", text.as_bytes().to_vec()),
                (
                    "UTF-8 with its mark",
                    marked(b"\xEF\xBB\xBF", text.as_bytes()),
                ),
                ("UTF-16 LE", utf16le.clone()),
                ("UTF-16 LE with its mark", marked(b"\xFF\xFE", &utf16le)),
                ("UTF-16 BE", utf16be.clone()),
                ("UTF-16 BE with its mark", marked(b"\xFE\xFF", &utf16be)),
                ("Windows-1252", WINDOWS_1252.encode(&text).0.into_owned()),
            ];
            for (encoding, bytes) in files {
                let list = read(&bytes, "list").unwrap();
                assert_eq!(
                    what(&list),
                    by_hand(),
                    "{encoding}, {delimiter:?}, {line_end:?}\n{:?}",
                    list.set_aside
                );
                assert_eq!(list.rows.len() + list.set_aside.len(), CELLS.len());
            }
        }
    }
    // The library's own encoder has no UTF-16; that its decoder is meant is a matter of names.
    assert_eq!(UTF_16BE.name(), "UTF-16BE");
}

#[test]
fn a_workbook() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, cells) in CELLS.iter().enumerate() {
        for (column, cell) in cells.iter().enumerate() {
            let at = (row as u32, column as u16);
            match cell.parse::<f64>() {
                Ok(number) if row > 2 => sheet.write_number(at.0, at.1, number).unwrap(),
                _ => sheet.write_string(at.0, at.1, *cell).unwrap(),
            };
        }
    }
    let list = read(&book.save_to_buffer().unwrap(), "list.csv").unwrap();
    let without_sheet = what(&list);
    assert_eq!(without_sheet, by_hand());
    assert_eq!(list.rows[0].at.sheet, "Sheet1");
    assert_eq!(list.header.number.as_deref(), Some("40117"));
}

#[test]
fn sheets_are_sub_kits_when_they_have_names() {
    let mut book = Workbook::new();
    for (name, thing) in [("Frame", "Ground post"), ("End wall", "Stud")] {
        let sheet = book.add_worksheet().set_name(name).unwrap();
        for (row, (a, b)) in [
            ("Qty", "Description"),
            ("26", thing),
            ("8", "Hex bolt 5/16 x 3"),
        ]
        .iter()
        .enumerate()
        {
            sheet.write_string(row as u32, 0, *a).unwrap();
            sheet.write_string(row as u32, 1, *b).unwrap();
        }
    }
    let list = read(&book.save_to_buffer().unwrap(), "list").unwrap();
    let kits: Vec<&str> = list.rows.iter().map(|row| row.sub_kit.as_str()).collect();
    assert_eq!(kits, ["Frame", "Frame", "End wall", "End wall"]);
    assert_ne!(list.rows[1].key, list.rows[3].key);
}

#[test]
fn pasted_with_runs_of_spaces() {
    let text = "  Qty   Description            Code\n\n  26    Ground post, 5 ft      P1\n  15    Ridge tube, swaged     R1\n";
    let list = read(text.as_bytes(), "pasted").unwrap();
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| {
            (
                r.at.row,
                r.quantity,
                r.description.as_str(),
                r.code.as_str(),
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            (3, Some(26), "Ground post, 5 ft", "P1"),
            (4, Some(15), "Ridge tube, swaged", "R1")
        ]
    );
}

#[test]
fn blank_lines_and_cells_of_several_lines_keep_the_row_numbers() {
    let text = "Qty,Description\n\n26,\"Ground post\n5 ft\"\n\n\n15,Ridge\n";
    let list = read(text.as_bytes(), "list").unwrap();
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|r| (r.at.row, r.description.as_str()))
        .collect();
    assert_eq!(rows, [(3, "Ground post 5 ft"), (6, "Ridge")]);
}

#[test]
fn an_inch_mark_that_looks_like_an_open_quotation() {
    let mut text = String::from("Qty,Description\n4,\"Special\" bow 10\"\n5,\" odd\n");
    for n in 0..60 {
        text.push_str(&format!("{n},Ground post\n"));
    }
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(list.rows.len(), 62);
    assert!(
        list.warnings
            .iter()
            .any(|w| w.what.contains("never closed")),
        "{:?}",
        list.warnings
    );
}

#[test]
fn zero_bytes_and_direction_marks_are_cleaned_and_counted() {
    let text = "Qty,Description\n26,Ground\u{202E} po\0st\n15,Ridge\u{2066}\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert_eq!(list.rows[0].description, "Ground post");
    // One of the whole list, one of each row.
    assert_eq!(list.warnings.len(), 3);
    assert!(list.rows.iter().all(|row| row.doubt.is_some()));
    assert!(
        list.warnings[0].what.starts_with("3 control"),
        "{:?}",
        list.warnings
    );
}
