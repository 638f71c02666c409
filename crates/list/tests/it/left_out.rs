//! What a reader leaves out or is not sure of stays in sight: a person finds it among the lines set aside, or as the doubt
//! of its row. Each file is written by hand.

use std::io::{Cursor, Read, Write};

use list::{PackingList, Why, read};
use rust_xlsxwriter::{Format, Formula, Workbook};
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

fn list_of(text: &str) -> PackingList {
    read(text.as_bytes(), "list").unwrap()
}

fn rows(list: &PackingList) -> Vec<(Option<i64>, &str)> {
    (list.rows.iter())
        .map(|row| (row.quantity, row.description.as_str()))
        .collect()
}

fn aside(list: &PackingList, why: Why) -> Vec<(u32, &str)> {
    (list.set_aside.iter())
        .filter(|line| line.why == why)
        .map(|line| (line.at.row, line.text.as_str()))
        .collect()
}

fn refused(bytes: &[u8]) -> String {
    read(bytes, "list").unwrap_err().to_string()
}

#[test]
fn the_signature_of_a_quoted_mail_does_not_end_the_answer() {
    let answer = "> Please send the list\n> -- \n> Ines\n> school garden\n\n26 ground posts\n12 ridge clamps\n";
    let list = list_of(answer);
    assert_eq!(
        rows(&list),
        [(Some(26), "ground posts"), (Some(12), "ridge clamps")]
    );
    assert_eq!(
        aside(&list, Why::Signature),
        [(3, "Ines"), (4, "school garden")]
    );
    // An answer above: its signature does not end what is quoted below.
    let above = "Here it is.\n-- \nTomasz\n> 26 ground posts\n> 12 ridge clamps\n> 4 door hinges\n";
    let list = list_of(above);
    assert_eq!(
        rows(&list),
        [
            (Some(26), "ground posts"),
            (Some(12), "ridge clamps"),
            (Some(4), "door hinges")
        ]
    );
    assert_eq!(aside(&list, Why::Signature), [(3, "Tomasz")]);
}

#[test]
fn a_refusal_says_that_lines_below_a_signature_were_left_out() {
    let why = refused(b"Hello\n-- \n26 ground posts\n12 ridge clamps\n");
    assert!(
        why.contains("signature") && why.contains("left out: 2"),
        "{why}"
    );
}

#[test]
fn hidden_rows_of_a_page_are_set_aside() {
    let list = list_of(
        "<table><tr><th>Qty<th>Description</tr><tr><td>26<td>Ground post</tr>\
         <tr style='display:none'><td>7<td>Door hinge</tr>\
         <tr><td>4<td>Ridge tube <span hidden>old stock</span></tr></table>",
    );
    assert_eq!(
        rows(&list),
        [(Some(26), "Ground post"), (Some(4), "Ridge tube")]
    );
    assert_eq!(
        aside(&list, Why::Hidden),
        [(3, "7 | Door hinge"), (4, "old stock")]
    );
}

#[test]
fn a_struck_description_is_a_doubt_of_its_row() {
    let list = list_of(
        "<table><tr><th>Qty<th>Description</tr><tr><td>4<td><s>Door hinge</s></tr>\
         <tr><td>26<td>Ground post</tr><tr><td><s>3</s><td><s>Ridge tube</s></tr></table>",
    );
    let doubts: Vec<_> = (list.rows.iter())
        .map(|row| (row.description.as_str(), row.doubt.as_deref()))
        .collect();
    let doubt = Some("a line goes through \"Door hinge\" alone");
    assert_eq!(doubts, [("Door hinge", doubt), ("Ground post", None)]);
    assert_eq!(aside(&list, Why::Struck), [(4, "3 | Ridge tube")]);

    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let struck = Format::new().set_font_strikethrough();
    for (row, (count, what)) in [
        ("Qty", "Description"),
        ("4", "Door hinge"),
        ("26", "Ground post"),
    ]
    .into_iter()
    .enumerate()
    {
        let row = row as u32;
        sheet.write_string(row, 0, count).unwrap();
        match row {
            1 => sheet.write_string_with_format(row, 1, what, &struck),
            _ => sheet.write_string(row, 1, what),
        }
        .unwrap();
    }
    let list = read(&book.save_to_buffer().unwrap(), "list.xlsx").unwrap();
    let doubts: Vec<_> = list.rows.iter().map(|row| row.doubt.as_deref()).collect();
    assert_eq!(doubts, [doubt, None]);
}

#[test]
fn a_formula_without_a_value_is_a_row_and_is_said() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, name) in ["Qty", "Description"].into_iter().enumerate() {
        sheet.write_string(0, column as u16, name).unwrap();
    }
    let cells = [
        ("0", "Ground post"),
        ("12", "Ridge tube"),
        ("26", "Door hinge"),
    ];
    for (row, (value, what)) in cells.into_iter().enumerate() {
        let row = row as u32 + 1;
        sheet
            .write_formula(row, 0, Formula::new("=5*4").set_result(value))
            .unwrap();
        sheet.write_string(row, 1, what).unwrap();
    }
    let bytes = without_first_value(&book.save_to_buffer().unwrap());
    let list = read(&bytes, "list.xlsx").unwrap();
    assert_eq!(
        rows(&list),
        [
            (None, "Ground post"),
            (Some(12), "Ridge tube"),
            (Some(26), "Door hinge")
        ]
    );
    let said = "the cell in row 2, column 1 has a formula without a value; save the file once in a spreadsheet program";
    assert!(
        list.warnings.iter().any(|w| w.what == said),
        "{:?}",
        list.warnings
    );
}

/// The workbook as a program writes it that does not reckon: the first formula has no value.
fn without_first_value(book: &[u8]) -> Vec<u8> {
    let mut from = ZipArchive::new(Cursor::new(book)).unwrap();
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..from.len() {
        let mut file = from.by_index(index).unwrap();
        let name = file.name().unwrap().into_owned();
        let mut body = Vec::new();
        file.read_to_end(&mut body).unwrap();
        if name.ends_with("sheet1.xml") {
            let text = String::from_utf8(body).unwrap();
            assert!(text.contains("</f><v>0</v>"), "{text}");
            body = text.replacen("</f><v>0</v>", "</f><v></v>", 1).into_bytes();
        }
        to.start_file(name, SimpleFileOptions::default()).unwrap();
        to.write_all(&body).unwrap();
    }
    to.finish().unwrap().into_inner()
}

#[test]
fn a_second_list_in_a_zip_is_said_first() {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, body) in [
        ("a.csv", "Qty,Description\n26,Ground post\nas needed,Tape\n"),
        ("b.csv", "Qty,Description\n4,Ridge tube\n"),
    ] {
        zip.start_file(name, SimpleFileOptions::default()).unwrap();
        zip.write_all(body.as_bytes()).unwrap();
    }
    let list = read(&zip.finish().unwrap().into_inner(), "load.zip").unwrap();
    assert_eq!(list.rows[0].description, "Ground post");
    assert!(list.warnings.len() > 2, "{:?}", list.warnings);
    let first = &list.warnings[0].what;
    assert!(
        first.starts_with("b.csv inside is a list too, of 1 row;"),
        "{first}"
    );
}

#[test]
fn refusals_name_what_is_read() {
    let tiff = refused(b"II*\0\x08\0\0\0........");
    assert!(
        tiff.ends_with("this is a TIFF picture; save it as JPEG or PNG"),
        "{tiff}"
    );
    let gif = refused(b"GIF89a..........");
    assert!(
        gif.ends_with("this is a GIF picture; save it as JPEG or PNG"),
        "{gif}"
    );
    for bytes in [&b"{\\rtf1 Qty}"[..], &[1, 2, 3, 4, 5, 6, 7, 8]] {
        let why = refused(bytes);
        for kind in ["XLSX", "XLS", "ODS", "CSV", "PDF", "HTML", "text"] {
            assert!(why.contains(kind), "{kind}: {why}");
        }
    }
}

/// ALTO's schemas let a String go without WC.
#[test]
fn words_without_their_sureness_are_said() {
    let word = |left: u32, top: u32, text: &str, sure: &str| {
        let width = 14 * text.len();
        format!(
            "<String HPOS=\"{left}\" VPOS=\"{top}\" WIDTH=\"{width}\" HEIGHT=\"30\" CONTENT=\"{text}\"{sure}/>"
        )
    };
    let file = |sure: &str| {
        let words = [
            word(100, 100, "Qty", sure),
            word(400, 100, "Description", sure),
            word(100, 150, "26", sure),
            word(400, 150, "Post", sure),
        ];
        format!(
            "<alto xmlns=\"http://www.loc.gov/standards/alto/ns-v4#\"><Layout><Page WIDTH=\"900\" HEIGHT=\"900\">\
             <PrintSpace>{}</PrintSpace></Page></Layout></alto>",
            words.concat()
        )
    };
    let said = "the recogniser did not say how surely it read 4 of 4 words; compare each count with the paper";
    let of = |sure: &str| {
        let list = list_of(&file(sure));
        assert_eq!(rows(&list), [(Some(26), "Post")]);
        list.warnings.iter().filter(|w| w.what == said).count()
    };
    assert_eq!(of(""), 1);
    assert_eq!(of(" WC=\"0.95\""), 0);
}
