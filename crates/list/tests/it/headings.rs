//! Words above columns that mean one thing here and another there. Common practice, no source; the rows are by hand.

use std::fmt::Write as _;

use list::{PackingList, read};

use crate::pdf_hostile::file;

fn rows(text: &str) -> Vec<(String, String, Option<i64>)> {
    said(&read(text.as_bytes(), "list").unwrap())
}

fn said(list: &PackingList) -> Vec<(String, String, Option<i64>)> {
    let rows = list.rows.iter();
    rows.map(|row| (row.code.clone(), row.description.clone(), row.quantity))
        .collect()
}

fn posts_and_bows() -> Vec<(String, String, Option<i64>)> {
    vec![
        ("GP-60".into(), "Ground post, plain".into(), Some(26)),
        ("HB-24".into(), "Half bow".into(), Some(26)),
        (
            "RT-126".into(),
            "Ridge tube swaged one end".into(),
            Some(15),
        ),
    ]
}

/// The three things under these words; `{c}` stands for the code, `{d}` for the words, `{q}` for the count.
fn under(heading: &str, row: &str) -> String {
    let mut text = format!("{heading}\n");
    for (code, words, count) in posts_and_bows() {
        let row = row.replace("{c}", &code).replace("{d}", &words);
        text.push_str(&row.replace("{q}", &count.unwrap().to_string()));
        text.push('\n');
    }
    text
}

#[test]
fn which_of_two_is_the_description() {
    for (heading, row) in [
        ("Part\tDescription\tQty", "{c}\t{d}\t{q}"),
        ("Description\tPart\tQty", "{d}\t{c}\t{q}"),
        ("Article\tDescription\tQty", "{c}\t{d}\t{q}"),
        ("Qty\tArticle\tDescription", "{q}\t{c}\t{d}"),
        ("Item\tPart\tQty", "{c}\t{d}\t{q}"),
        ("Part\tItem\tQty", "{c}\t{d}\t{q}"),
        ("Item\tDescription\tQty", "{c}\t{d}\t{q}"),
        ("Stock no\tDescription\tQty", "{c}\t{d}\t{q}"),
        ("Stock No.\tArticle\tQty", "{c}\t{d}\t{q}"),
        ("Product\tProduct description\tQty", "{c}\t{d}\t{q}"),
        ("QTY\tUM\tCODE\tDESCRIPTION\tBUNDLE", "{q}\tEA\t{c}\t{d}\tA"),
        ("QTY\tUM\tCODE\tDESCRIPTION\tBUNDLE", "{q}\tEA\t{c}\t{d}\t3"),
    ] {
        assert_eq!(rows(&under(heading, row)), posts_and_bows(), "{heading}");
    }
    // Numbers of lines under "Item" are no codes, and no words.
    let text = "Item\tPart\tDescription\tQty\n1\tGP-60\tGround post, plain\t26\n2\tHB-24\tHalf bow\t26\n3\tRT-126\tRidge tube swaged one end\t15\n";
    assert_eq!(rows(text), posts_and_bows());
}

#[test]
fn the_code_below_its_words() {
    let text = "Description\tQty\nGround post, plain\t26\nGP-60\t\nHalf bow\t26\nHB-24\t\nRidge tube swaged one end\t15\nRT-126\t\n";
    assert_eq!(rows(text), posts_and_bows());
    // One such line alone heads a section.
    let text =
        "Description\tQty\nGround post\t26\nHalf bow\t26\nLOAD-2\t\nRidge tube\t15\nStud\t8\n";
    let list = read(text.as_bytes(), "list").unwrap();
    assert!(list.rows.iter().all(|row| row.code.is_empty()));
    assert_eq!(list.rows[2].shipment, "LOAD-2");
}

/// What stands on a page of a PDF: from the left, from the top, height, text.
type Set = Vec<(f32, f32, f32, String)>;

fn text(page: &mut Set, x: f32, y: f32, words: &str) {
    page.push((x, y, 9.0, words.to_owned()));
}

/// Reads a PDF of these pages.
fn of_pages(pages: &[Set]) -> PackingList {
    let font = "<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>";
    let kids: String = (0..pages.len())
        .map(|n| format!("{} 0 R ", 4 + 2 * n))
        .collect();
    let tree = format!("<</Type/Pages/Count {}/Kids[{kids}]>>", pages.len());
    let mut parts = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        let sheet = format!(
            "<</Type/Page/MediaBox[0 0 600 800]/Contents {} 0 R/Resources<</Font<</F 3 0 R>>>>>>",
            5 + 2 * index
        );
        let mut contents = String::new();
        for (x, y, size, words) in page {
            let _ = write!(
                contents,
                "BT /F {size} Tf {x} {} Td ({words}) Tj ET ",
                800.0 - y
            );
        }
        parts.push((sheet, contents));
    }
    let mut objects: Vec<(&str, Option<&[u8]>)> = vec![
        ("<</Type/Catalog/Pages 2 0 R>>", None),
        (&tree, None),
        (font, None),
    ];
    for (sheet, contents) in &parts {
        objects.push((sheet, None));
        objects.push(("", Some(contents.as_bytes())));
    }
    read(&file(&objects), "list.pdf").unwrap()
}

#[test]
fn each_page_with_a_table_of_its_own() {
    let mut first = Set::new();
    for (x, word) in [(40.0, "Qty"), (90.0, "Part"), (160.0, "Description")] {
        text(&mut first, x, 60.0, word);
    }
    let mut second = Set::new();
    for (x, word) in [(40.0, "Description"), (320.0, "Shipped"), (400.0, "Code")] {
        text(&mut second, x, 60.0, word);
    }
    for (index, (code, words, count)) in posts_and_bows().into_iter().enumerate() {
        let y = 80.0 + 14.0 * index as f32;
        let count = count.unwrap().to_string();
        for (x, what) in [(40.0, &count), (90.0, &code), (160.0, &words)] {
            text(&mut first, x, y, what);
        }
        for (x, what) in [(40.0, &words), (320.0, &count), (400.0, &code)] {
            text(&mut second, x, y, what);
        }
    }
    let both = [posts_and_bows(), posts_and_bows()].concat();
    assert_eq!(said(&of_pages(&[first, second])), both);
}

#[test]
fn large_words_across_the_rows_are_a_stamp() {
    let mut page = Set::new();
    for (x, word) in [(40.0, "Qty"), (90.0, "Code"), (160.0, "Description")] {
        text(&mut page, x, 60.0, word);
    }
    for (index, (code, words, count)) in posts_and_bows().into_iter().enumerate() {
        let y = 80.0 + 14.0 * index as f32;
        text(&mut page, 40.0, y, &count.unwrap().to_string());
        text(&mut page, 90.0, y, &code);
        text(&mut page, 160.0, y, &words);
    }
    for (word, left) in [("COPY", 60.0), ("DRAFT", 300.0)] {
        page.push((left, 118.0, 60.0, word.to_owned()));
    }
    // A title as large stands above the rows, and is the header's.
    page.push((40.0, 40.0, 30.0, "SHIPMENT".to_owned()));
    let list = of_pages(&[page]);
    assert_eq!(said(&list), posts_and_bows());
    let stamps = list.set_aside.iter().rev().take(2).rev();
    let stamps: Vec<&str> = stamps.flat_map(|line| line.text.split(" | ")).collect();
    assert!(stamps.ends_with(&["COPY", "DRAFT"]), "{stamps:?}");
    assert!(list.set_aside[0].text.contains("SHIPMENT"));
}

#[test]
fn two_lists_beside_each_other_without_words_above() {
    let left = [
        ("26", "Ground post"),
        ("26", "Half bow"),
        ("15", "Ridge tube"),
        ("4", "Corner post"),
    ];
    let right = [
        ("8", "End wall stud"),
        ("52", "Lock nut"),
        ("40", "Lock channel"),
        ("2", "Door panel"),
    ];
    let mut page = Set::new();
    for (index, (one, other)) in left.iter().zip(&right).enumerate() {
        let y = 80.0 + 14.0 * index as f32;
        text(&mut page, 40.0, y, one.0);
        text(&mut page, 80.0, y, one.1);
        text(&mut page, 330.0, y, other.0);
        text(&mut page, 370.0, y, other.1);
    }
    let list = of_pages(&[page]);
    let all: Vec<(Option<i64>, &str)> = list
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    let expected: Vec<(Option<i64>, &str)> = left
        .iter()
        .chain(&right)
        .map(|(count, words)| (count.parse().ok(), *words))
        .collect();
    assert_eq!(all, expected);
    // A count and a word after the description need not be a second list.
    let text = "26\tGround post\t26\tin bundle A\n26\tHalf bow\t24\tin bundle B\n15\tRidge tube\t15\tin bundle B\n4\tCorner post\t4\tin bundle A\n";
    assert_eq!(read(text.as_bytes(), "list").unwrap().rows.len(), 4);
}
