//! Small files that say much: one text in a million cells, one sheet named a thousand times. What each may cost is
//! measured in a process of its own.

use std::io::{Cursor, Write};

use list::{Refusal, limits, read};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use crate::large::read_apart_timed;

/// Most that a file may cost that is refused or read, in MiB, when it is smaller than a mebibyte itself.
const PEAK: u64 = 400;

fn zip(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, body) in files {
        to.start_file(*name, SimpleFileOptions::default()).unwrap();
        to.write_all(body).unwrap();
    }
    to.finish().unwrap().into_inner()
}

/// Text that packs about 100 to 1: within what a guard lets pass.
fn filler(bytes: usize) -> String {
    let words = ["post ", "tube ", "bolt ", "rail "];
    let mut state = 1_u32;
    let mut text = String::with_capacity(bytes + 400);
    while text.len() < bytes {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let word = words[(state >> 30) as usize];
        (0..80).for_each(|_| text.push_str(word));
    }
    text
}

fn workbook(sheets: &str, relations: &str, sheet: &str, texts: &str) -> Vec<u8> {
    let main = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
    let office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let book =
        format!("<workbook {main} xmlns:r=\"{office}\"><sheets>{sheets}</sheets></workbook>");
    let relations = format!(
        "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{relations}\
         <Relationship Id=\"t\" Type=\"{office}/sharedStrings\" Target=\"sharedStrings.xml\"/></Relationships>"
    );
    let sheet = format!("<worksheet {main}><sheetData>{sheet}</sheetData></worksheet>");
    let texts = format!("<sst {main}>{texts}</sst>");
    let root = format!(
        "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
         <Relationship Id=\"b\" Type=\"{office}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
    );
    zip(&[
        ("[Content_Types].xml", b"<Types/>"),
        ("_rels/.rels", root.as_bytes()),
        ("xl/workbook.xml", book.as_bytes()),
        ("xl/_rels/workbook.xml.rels", relations.as_bytes()),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
        ("xl/sharedStrings.xml", texts.as_bytes()),
    ])
}

fn relation(id: &str) -> String {
    format!(
        "<Relationship Id=\"{id}\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/>"
    )
}

fn one_sheet(sheet: &str, texts: &str) -> Vec<u8> {
    workbook(
        "<sheet name=\"List\" sheetId=\"1\" r:id=\"s\"/>",
        &relation("s"),
        sheet,
        texts,
    )
}

fn ods(table: &str) -> Vec<u8> {
    let oasis = "urn:oasis:names:tc:opendocument:xmlns";
    let content = format!(
        "<office:document-content xmlns:office=\"{oasis}:office:1.0\" xmlns:table=\"{oasis}:table:1.0\" xmlns:text=\"{oasis}:text:1.0\">\
         <office:body><office:spreadsheet><table:table table:name=\"List\">{table}</table:table></office:spreadsheet></office:body></office:document-content>"
    );
    zip(&[
        (
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet",
        ),
        ("content.xml", content.as_bytes()),
        ("META-INF/manifest.xml", b"<manifest/>"),
    ])
}

fn costs_little(name: &str, bytes: &[u8]) -> String {
    let (outcome, peak, took) = read_apart_timed(name, bytes);
    println!(
        "{name}: {} KiB, {outcome}, peak {peak} MiB, {took} ms",
        bytes.len() / 1024
    );
    assert!(peak <= PEAK, "{name}: {peak} MiB");
    assert!(took < 20_000, "{name}: {took} ms");
    outcome
}

#[test]
fn one_shared_text_in_very_many_cells() {
    let row = format!("<row>{}</row>", "<c t=\"s\"><v>0</v></c>".repeat(10));
    let long = filler(8_000);
    let book = one_sheet(&row.repeat(100_000), &format!("<si><t>{long}</t></si>"));
    assert_eq!(read(&book, "list").unwrap_err().why, Refusal::TooMuchText);
    costs_little("a long shared text", &book);
    // Struck, it goes the way of looks too.
    let texts = format!("<si><r><rPr><strike/></rPr><t>{long}</t></r><r><t>x</t></r></si>");
    costs_little(
        "a long struck shared text",
        &one_sheet(&row.repeat(100_000), &texts),
    );
    // One text of most of what may be unpacked.
    let huge = format!("<si><t>{}</t></si>", filler(90 << 20));
    costs_little("a huge shared text", &one_sheet(&row.repeat(1_000), &huge));
}

#[test]
fn one_sheet_under_many_names() {
    let sheets: String = (0..900)
        .map(|n| format!("<sheet name=\"S{n}\" sheetId=\"{n}\" r:id=\"s{n}\"/>"))
        .collect();
    let relations: String = (0..900).map(|n| relation(&format!("s{n}"))).collect();
    let sheet = "<row><c t=\"s\"/></row>".repeat(2_000_000);
    let book = workbook(&sheets, &relations, &sheet, "");
    assert!(matches!(
        read(&book, "list").unwrap_err().why,
        Refusal::Bomb { .. }
    ));
    costs_little("one sheet under many names", &book);
}

#[test]
fn one_cell_repeated() {
    let huge = filler(90 << 20);
    let cell = format!(
        "<table:table-cell table:number-columns-repeated=\"256\"><text:p>{huge}</text:p></table:table-cell>"
    );
    costs_little(
        "a huge repeated cell",
        &ods(&format!("<table:table-row>{cell}</table:table-row>")),
    );
    let cell = format!(
        "<table:table-cell table:number-columns-repeated=\"256\"><text:p>{}</text:p></table:table-cell>",
        &huge[..8_000]
    );
    let rows =
        format!("<table:table-row table:number-rows-repeated=\"1000000\">{cell}</table:table-row>");
    assert_eq!(
        read(&ods(&rows), "list").unwrap_err().why,
        Refusal::TooMuchText
    );
    costs_little("a long cell in all places", &ods(&rows));
}

#[test]
fn one_cell_that_reaches_down() {
    let rest = "<tr><td>4<td>x</tr>".repeat(140_000);
    let page = format!(
        "<html><table><tr><td rowspan=65534>{}</td><td>1</td></tr>{rest}</table></html>",
        filler(8_000)
    );
    let _ = costs_little("a long cell that reaches down", page.as_bytes());
}

#[test]
fn many_lists_in_one_archive() {
    // Each as large as one file may be, together all that may be unpacked.
    let list = format!(
        "Qty,Description\n{}",
        "4,Ridge clamp and whatever else\n".repeat(140_000)
    );
    let files: Vec<(String, &[u8])> = (0..40)
        .map(|n| (format!("../{n}.csv"), list.as_bytes()))
        .collect();
    let files: Vec<(&str, &[u8])> = files
        .iter()
        .map(|(name, body)| (name.as_str(), *body))
        .collect();
    let archive = zip(&files);
    assert!(archive.len() < 2 << 20, "{}", archive.len());
    costs_little("many lists in one archive", &archive);
}

#[test]
fn names_are_never_places() {
    let list = b"Qty,Description\n4,Ridge clamp\n";
    let before: Vec<_> = std::fs::read_dir(".")
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    for name in [
        "../../list.csv",
        "/etc/list.csv",
        "C:\\list.csv",
        "a/../../b\u{202E}.csv",
        "..",
        "",
    ] {
        let read = read(&zip(&[(name, list)]), "archive.zip");
        let said = match read {
            Ok(list) => list
                .warnings
                .iter()
                .map(|warning| warning.what.clone())
                .collect::<Vec<_>>()
                .join("; "),
            Err(error) => error.to_string(),
        };
        assert!(
            !said.contains("../") && !said.contains("/etc/") && !said.contains('\u{202E}'),
            "{said}"
        );
    }
    let after: Vec<_> = std::fs::read_dir(".")
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    assert_eq!(before, after);
    const { assert!(limits::MAX_FILES_WITHIN < 10) };
}
