//! Lists in which a number, a word or a cell was once taken for something else. What each line says is by hand. Common
//! practice, no source.

use std::io::{Cursor, Write};

use list::{PackingList, Why, read};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

fn list(text: &str) -> PackingList {
    read(text.as_bytes(), "found").unwrap()
}

/// Pieces, words, and whether something stays open.
fn rows(list: &PackingList) -> Vec<(Option<i64>, &str, bool)> {
    let rows = list.rows.iter();
    rows.map(|row| (row.quantity, row.description.as_str(), row.doubt.is_some()))
        .collect()
}

fn doubt(list: &PackingList, row: usize) -> &str {
    list.rows[row].doubt.as_deref().unwrap_or_default()
}

#[test]
fn numbers_that_count_the_lines_of_a_list_of_words() {
    let list = list(
        "1 Ground stake 60\" 26\n2 Ridge tube 15\n3 Rail channel 9'-9\" 20\n4 End wall stud 8\n",
    );
    let expected = [
        (Some(26), "Ground stake 60\"", true),
        (Some(15), "Ridge tube", true),
        (Some(20), "Rail channel 9'-9\"", true),
        (Some(8), "End wall stud", true),
    ];
    assert_eq!(rows(&list), expected);
    assert!(doubt(&list, 0).contains("1 was taken for the line's number"));
    let of_all = list.warnings.iter().filter(|warning| warning.at.is_none());
    assert_eq!(of_all.count(), 1);
}

#[test]
fn a_column_of_line_numbers_beside_counts_in_many_writings() {
    let list = list(
        "Pos;Menge;Artikel\n1;26 Stk;Ground stake 1,524 m\n2;1,5;Lock channel 2,44 m\n3;1.040;Self drilling screw\n\
         4;ca. 20;Rail channel\n5;20-22;Rail channel\n6;26 of 52;Hex bolt 5/16 x 3\n7;15 L/R;Half bow\n\
         8;0;Door latch\n9;-3;Door hinge\n10;1e3;Stud clamp\n11;;Stud shoe\n12;TBD;Purlin bracket\n",
    );
    let pieces: Vec<Option<i64>> = list.rows.iter().map(|row| row.quantity).collect();
    assert_eq!(list.rows.len(), 12, "{:?}", list.set_aside);
    assert_eq!(pieces[0], Some(26));
    assert_eq!(pieces[3..6], [Some(20), Some(20), Some(26)]);
    assert_eq!(pieces[7..], [Some(0), None, None, None, None]);
    assert_eq!(list.rows[10].description, "Stud shoe");
    assert!(list.rows[3..6].iter().all(|row| row.doubt.is_some()));
    assert!(list.rows[8..].iter().all(|row| row.doubt.is_some()));
}

#[test]
fn lines_that_are_numbered_in_tens() {
    let list =
        list("10;26;Ground stake\n20;15;Ridge tube\n30;20;Rail channel\n40;8;End wall stud\n");
    let pieces: Vec<Option<i64>> = list.rows.iter().map(|row| row.quantity).collect();
    assert_eq!(pieces, [Some(26), Some(15), Some(20), Some(8)]);
}

#[test]
fn counts_that_go_as_line_numbers_do_are_doubted() {
    let list = list("1 Ground stake\n2 Ridge tube\n3 Rail channel\n4 End wall stud\n");
    assert_eq!(list.rows.len(), 4);
    assert!(list.rows.iter().all(|row| row.doubt.is_some()));
    assert!(list.warnings.iter().any(|warning| warning.at.is_none()));
    // One that does not go on so is a count like any other.
    let text = "1 Ground stake\n2 Ridge tube\n3 Rail channel\n8 End wall stud\n";
    let list = read(text.as_bytes(), "found").unwrap();
    assert!(list.rows.iter().all(|row| row.doubt.is_none()));
}

#[test]
fn no_words_are_carried_to_another_code() {
    let list = list("Code,Qty,Description\nA-1,5,Peak plate\nA-2,26,\nA-3,13,Ridge clamp\n");
    let expected = [
        (Some(5), "Peak plate", false),
        (Some(26), "A-2", false),
        (Some(13), "Ridge clamp", false),
    ];
    assert_eq!(rows(&list), expected);
}

#[test]
fn words_that_were_carried_say_from_where() {
    let list = list("Qty,Description,Length\n8,Tube 1-3/8,10 ft\n4,,8 ft\n2,Ridge clamp,\n");
    assert_eq!(list.rows[1].description, "Tube 1-3/8");
    assert!(
        doubt(&list, 1).contains("words taken from row 2"),
        "{}",
        doubt(&list, 1)
    );
    assert!(doubt(&list, 2).is_empty());
}

#[test]
fn a_sentence_heads_no_section() {
    let said = [
        "Heavier film ships with the second load, Tuesday's ferry",
        "All bolts are packed in the blue box",
        "Second box follows on Friday.",
        "Small parts for both end walls, doors and vents",
    ];
    for said in said {
        let list = list(&format!(
            "Qty,Description\n26,Ground post\n\"{said}\",\n15,Ridge tube\n"
        ));
        assert_eq!(list.rows[1].sub_kit, "", "{said}");
        assert_eq!(
            list.set_aside.last().map(|line| line.why),
            Some(Why::Note),
            "{said}"
        );
    }
    for name in [
        "End wall kit",
        "Hardware, bag 3",
        "SIDE WALL (both sides)",
        "Shipped loose",
    ] {
        let list = list(&format!(
            "Qty,Description\n26,Ground post\n\"{name}\",\n15,Ridge tube\n"
        ));
        assert_eq!(
            list.set_aside.last().map(|line| line.why),
            Some(Why::Section),
            "{name}"
        );
    }
}

#[test]
fn a_quantity_that_cannot_be_read_stays_in_its_column() {
    let list = list(
        "Code,Qty,Description\nA,-5,Ridge tube\nB,1e9,Peak plate\nC,99999999999999999999,Ridge clamp\n\
         D,1/2,Stud clamp\nE,,Door hinge\nF,0,Door latch\n",
    );
    let expected = [
        (None, "Ridge tube", true),
        (None, "Peak plate", true),
        (None, "Ridge clamp", true),
        (None, "Stud clamp", true),
        (None, "Door hinge", true),
        (Some(0), "Door latch", false),
    ];
    assert_eq!(rows(&list), expected);
    let written: Vec<&str> = list.rows.iter().map(|row| row.written.as_str()).collect();
    assert_eq!(
        written,
        ["-5", "1e9", "99999999999999999999", "1/2", "", "0"]
    );
    assert_eq!(
        doubt(&list, 0),
        "\"-5\" is no count; a whole number from 0 would be"
    );
    assert_eq!(doubt(&list, 4), "the row has no quantity");
}

#[test]
fn rows_that_were_changed_on_the_way_in_are_named() {
    let turned = list(
        "Qty,Description\n1,Ridge \u{202E}tube\u{202C}\n7,Peak plate\n9,Zero\u{200B} width clamp\n",
    );
    assert!(doubt(&turned, 0).contains("characters were taken out"));
    // An invisible space changes nothing that is seen.
    assert_eq!((doubt(&turned, 1), doubt(&turned, 2)), ("", ""));
    let zero = list("Qty,Description\n5,Ridge\0 tube\n7,Peak plate\n");
    assert!(doubt(&zero, 0).contains("characters were taken out"));
    let wide = format!(
        "Qty,Description\n5,Ridge tube{}\n7,Peak plate\n",
        ",x".repeat(400)
    );
    let wide = list(&wide);
    assert!(doubt(&wide, 0).contains("was cut"));
    assert_eq!(doubt(&wide, 1), "");
}

/// A workbook with these cells, as a library writes it that reckons no formulas.
fn workbook(cells: &str) -> Vec<u8> {
    let sheet = format!(
        "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>{cells}</sheetData></worksheet>"
    );
    let files = [
        (
            "[Content_Types].xml",
            "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"/>",
        ),
        (
            "_rels/.rels",
            "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>",
        ),
        (
            "xl/workbook.xml",
            "<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet name=\"List\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>",
        ),
        (
            "xl/_rels/workbook.xml.rels",
            "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>",
        ),
        ("xl/worksheets/sheet1.xml", sheet.as_str()),
    ];
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in files {
        zip.start_file(name, SimpleFileOptions::default()).unwrap();
        zip.write_all(text.as_bytes()).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_formula_without_a_saved_value_is_named() {
    let text =
        |at: &str, text: &str| format!("<c r=\"{at}\" t=\"inlineStr\"><is><t>{text}</t></is></c>");
    let cells = [
        format!(
            "<row r=\"1\">{}{}</row>",
            text("A1", "Qty"),
            text("B1", "Description")
        ),
        format!(
            "<row r=\"2\"><c r=\"A2\"><f>4*5</f><v></v></c>{}</row>",
            text("B2", "Ridge tube")
        ),
        format!(
            "<row r=\"3\"><c r=\"A3\"><f>20+6</f><v>26</v></c>{}</row>",
            text("B3", "Peak plate")
        ),
        format!(
            "<row r=\"4\"><c r=\"A4\"><v>8</v></c>{}<c r=\"C4\" t=\"str\"><f>IF(1,\"\")</f><v></v></c></row>",
            text("B4", "Half bow")
        ),
        "<row r=\"5\"><c r=\"A5\"><f>1+1</f></c></row>".to_owned(),
    ];
    let list = read(&workbook(&cells.concat()), "list.xlsx").unwrap();
    let expected = [
        (None, "Ridge tube", true),
        (Some(26), "Peak plate", false),
        (Some(8), "Half bow", false),
    ];
    assert_eq!(rows(&list), expected);
    let of_all = "the cell in row 2, column 1 has a formula without a value, and 1 other too";
    let said = |warning: &list::Warning| warning.what.contains(of_all);
    assert!(list.warnings.iter().any(said), "{:?}", list.warnings);
}
