//! Files made to do harm, and files that broke on the way.

use std::io::{Cursor, Read, Write};

use list::{Refusal, describe, limits, read, read_quantity, read_sheets};
use proptest::prelude::*;
use rust_xlsxwriter::Workbook;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

fn workbook() -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, cells) in [
        ["Qty", "Description", "Length"],
        ["26", "Ground post", "5 ft"],
        ["15", "Ridge tube", "10' 6-1/2\""],
    ]
    .iter()
    .enumerate()
    {
        for (column, cell) in cells.iter().enumerate() {
            sheet
                .write_string(row as u32, column as u16, *cell)
                .unwrap();
        }
    }
    book.save_to_buffer().unwrap()
}

/// The workbook with some of its inner files changed.
fn with_files(change: &dyn Fn(&str, Vec<u8>) -> Vec<u8>, extra: &[(&str, &[u8])]) -> Vec<u8> {
    let mut from = ZipArchive::new(Cursor::new(workbook())).unwrap();
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    for index in 0..from.len() {
        let mut file = from.by_index(index).unwrap();
        let name = file.name().unwrap().into_owned();
        let mut body = Vec::new();
        file.read_to_end(&mut body).unwrap();
        to.start_file(name.clone(), options).unwrap();
        to.write_all(&change(&name, body)).unwrap();
    }
    for (name, body) in extra {
        to.start_file(*name, options).unwrap();
        to.write_all(body).unwrap();
    }
    to.finish().unwrap().into_inner()
}

fn refusal(bytes: &[u8]) -> Refusal {
    read(bytes, "list.xlsx").unwrap_err().why
}

#[test]
fn the_unchanged_workbook_is_read() {
    assert_eq!(
        read(&with_files(&|_, body| body, &[]), "list")
            .unwrap()
            .rows
            .len(),
        2
    );
}

#[test]
fn zip_bombs_are_refused() {
    // 90 MiB of spaces in one sheet: 1000 to 1.
    let blow = |name: &str, mut body: Vec<u8>| {
        if name.ends_with("sheet1.xml") {
            body.extend(vec![b' '; 90 << 20]);
        }
        body
    };
    let bomb = with_files(&blow, &[]);
    assert!(bomb.len() < 200_000, "{}", bomb.len());
    assert!(
        matches!(refusal(&bomb), Refusal::Bomb { .. }),
        "{:?}",
        refusal(&bomb)
    );

    // The same with a declared size that lies: both directories say 1000 bytes.
    let declared = (body_len(&bomb, "xl/worksheets/sheet1.xml") as u32).to_le_bytes();
    let mut lying = bomb.clone();
    let places: Vec<usize> = lying
        .windows(4)
        .enumerate()
        .filter(|(_, w)| *w == declared)
        .map(|(at, _)| at)
        .collect();
    assert!(!places.is_empty());
    for at in places {
        lying[at..at + 4].copy_from_slice(&1_000u32.to_le_bytes());
    }
    assert!(
        matches!(refusal(&lying), Refusal::Bomb { .. } | Refusal::Damaged(_)),
        "{:?}",
        refusal(&lying)
    );

    // Many files, each within the limit of one, that are too much together.
    let lump: Vec<u8> = (0..40u32 << 20)
        .map(|n| {
            if n % 64 == 0 {
                (n.wrapping_mul(2_654_435_761) >> 24) as u8
            } else {
                b' '
            }
        })
        .collect();
    let many: Vec<(&str, &[u8])> = ["a", "b", "c", "d", "e", "f"]
        .iter()
        .map(|name| (*name, &lump[..]))
        .collect();
    assert!(matches!(
        refusal(&with_files(&|_, body| body, &many)),
        Refusal::Bomb { .. }
    ));

    // Very many files.
    let names: Vec<String> = (0..limits::MAX_WORKBOOK_FILES)
        .map(|n| format!("f{n}"))
        .collect();
    let many: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), &b""[..])).collect();
    assert!(matches!(
        refusal(&with_files(&|_, body| body, &many)),
        Refusal::Bomb { .. }
    ));
}

fn body_len(bytes: &[u8], name: &str) -> u64 {
    ZipArchive::new(Cursor::new(bytes))
        .unwrap()
        .by_name(name)
        .unwrap()
        .size()
}

#[test]
fn document_types_and_entities_are_refused() {
    let flood = r#"<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;"><!ENTITY f SYSTEM "file:///etc/passwd">]>"#;
    for inner in [
        "xl/sharedStrings.xml",
        "xl/worksheets/sheet1.xml",
        "xl/workbook.xml",
        "[Content_Types].xml",
    ] {
        let changed = with_files(
            &|name, body| {
                if name != inner {
                    return body;
                }
                let text = String::from_utf8(body)
                    .unwrap()
                    .replace("Ground post", "&f;");
                let (_, root) = text.split_once("?>").unwrap();
                [flood.as_bytes(), root.as_bytes()].concat()
            },
            &[],
        );
        assert_eq!(refusal(&changed), Refusal::DocumentType(inner.into()));
    }
    // Without a document type an entity stays what it is: nothing is looked up.
    let unknown = with_files(
        &|_, body| {
            String::from_utf8(body.clone())
                .map_or(body, |text| text.replace("Ground post", "&f;").into_bytes())
        },
        &[],
    );
    if let Ok(list) = read(&unknown, "list") {
        assert!(
            list.rows
                .iter()
                .all(|row| !row.description.contains("root:"))
        );
    }
}

#[test]
fn a_far_corner_makes_no_huge_sheet() {
    let far = with_files(
        &|name, body| match name {
            "xl/worksheets/sheet1.xml" => {
                let cell = r#"<row r="1048576"><c r="XFD1048576" t="inlineStr"><is><t>far</t></is></c></row></sheetData>"#;
                String::from_utf8(body)
                    .unwrap()
                    .replace("</sheetData>", cell)
                    .into_bytes()
            }
            _ => body,
        },
        &[],
    );
    let list = read(&far, "list").unwrap();
    assert_eq!(list.rows.len(), 2);
    assert!(
        list.warnings
            .iter()
            .any(|w| w.what.contains("beyond column")),
        "{:?}",
        list.warnings
    );
}

#[test]
fn damaged_and_wrong_files_are_named() {
    let book = workbook();
    for cut in [5, 30, book.len() / 2, book.len() - 1] {
        assert!(
            matches!(refusal(&book[..cut]), Refusal::Damaged(_)),
            "{cut}"
        );
    }
    assert!(matches!(
        refusal(b"PK\x03\x04 and then nothing of the kind"),
        Refusal::Damaged(_)
    ));
    assert!(matches!(
        refusal(&with_files(&|_, _| b"<no>".to_vec(), &[])),
        Refusal::Damaged(_) | Refusal::Empty
    ));
    let mut other = ZipWriter::new(Cursor::new(Vec::new()));
    other
        .start_file("mimetype", SimpleFileOptions::default())
        .unwrap();
    other.write_all(b"something else").unwrap();
    assert!(matches!(
        refusal(&other.finish().unwrap().into_inner()),
        Refusal::Damaged(_)
    ));
    assert_eq!(refusal(b"%PDF-1.7 ..."), Refusal::DamagedPdf);
    assert_eq!(refusal(b"\x89PNG\r\n\x1a\n...."), Refusal::Picture);
    assert_eq!(refusal(b" \n\t "), Refusal::Empty);
    assert_eq!(refusal(b""), Refusal::Empty);
    let noise: Vec<u8> = (0..4_000u32)
        .map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8 & 31)
        .collect();
    assert_eq!(refusal(&noise), Refusal::NotText);
    let message = read(&book[..100], "truck 2.xlsx").unwrap_err().to_string();
    assert!(
        message.starts_with("truck 2.xlsx: the workbook is damaged"),
        "{message}"
    );
}

#[test]
fn a_description_without_end_costs_no_more_than_its_start() {
    for long in [
        "1-5/8 x ".repeat(100_000),
        "post ".repeat(100_000),
        "#".repeat(500_000),
        "é½".repeat(200_000),
    ] {
        let short: String = long.chars().take(limits::MAX_DESCRIPTION).collect();
        assert_eq!(describe(&long), describe(&short));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let _ = read(&bytes, "any");
        let _ = read(&[b"PK\x03\x04", &bytes[..]].concat(), "any");
        let _ = read(&[b"\xFF\xFE", &bytes[..]].concat(), "any");
    }

    #[test]
    fn any_text(text in "\\PC{0,200}", unit in "\\PC{0,8}") {
        let _ = read(text.as_bytes(), "any");
        let _ = read_quantity(&text, &unit);
        let said = describe(&text);
        for (from, to) in said.noun.iter().map(|noun| noun.span).chain(said.length.iter().map(|fact| fact.span)) {
            prop_assert!(text.get(from..to).is_some());
        }
    }

    #[test]
    fn text_of_the_trade(parts in proptest::collection::vec(prop_oneof![
        Just("ground post".to_owned()), Just("x".to_owned()), Just("×".to_owned()), Just("#12".to_owned()), Just("½".to_owned()),
        Just("10'".to_owned()), Just("6-1/2\"".to_owned()), Just("5/16-18".to_owned()), Just("ga".to_owned()), Just("mil".to_owned()),
        Just("1-5/8".to_owned()), Just("-".to_owned()), Just(", ".to_owned()), Just(" ".to_owned()), Just("M8".to_owned()), Just("(".to_owned()),
        Just("qty".to_owned()), Just("doz".to_owned()), Just("99999999999999999999".to_owned()), Just("’".to_owned()), "\\PC",
    ], 0..12)) {
        let text = parts.concat();
        let _ = describe(&text);
        let _ = read(format!("{text}\n{text}\n12 {text}").as_bytes(), "any");
    }

    #[test]
    fn mutated_workbooks(places in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12)) {
        let mut bytes = workbook();
        for (place, byte) in places {
            let at = place.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = read_sheets(&bytes, "any");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Past the zip's checksums: the XML inside is mutated and packed anew.
    #[test]
    fn mutated_xml(which in 0usize..6, places in proptest::collection::vec((any::<prop::sample::Index>(), prop_oneof![Just(b'<'), Just(b'"'), Just(b'0'), Just(b'9'), any::<u8>()]), 1..8)) {
        let names = ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", "[Content_Types].xml"];
        let bytes = with_files(&|name, mut body| {
            if name == names[which] {
                for (place, byte) in &places {
                    let at = place.index(body.len());
                    body[at] = *byte;
                }
            }
            body
        }, &[]);
        let _ = read_sheets(&bytes, "any");
    }
}
