//! Files written by programs that are none of ours (`../kinds/make.py`): what they say is written there by hand, and
//! what must be read of them is written here by hand.

use std::fs;
use std::path::Path;

use list::{Line, PackingList, Refusal, Sheets, Why, read, read_sheets};

fn file(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/kinds");
    fs::read(folder.join(name)).unwrap()
}

fn sheets(name: &str) -> Sheets {
    read_sheets(&file(name), name).unwrap()
}

fn list(name: &str) -> PackingList {
    read(&file(name), name).unwrap()
}

/// Row number, whether struck, cells.
fn lines(lines: &[Line]) -> Vec<(u32, bool, Vec<&str>)> {
    let line = |line: &'_ Line| (line.number, line.struck);
    let cells = |line| -> &'_ Line { line };
    (lines.iter())
        .map(|l| {
            (
                line(l).0,
                line(l).1,
                cells(l).cells.iter().map(String::as_str).collect(),
            )
        })
        .collect()
}

fn said(warnings: &[list::Warning], words: &str) -> bool {
    warnings.iter().any(|warning| {
        let at = warning
            .at
            .as_ref()
            .map_or(String::new(), |at| format!("{at}: "));
        format!("{at}{}", warning.what).contains(words)
    })
}

/// The workbook of `make.py`, from row to row.
fn load_1() -> Vec<(u32, bool, Vec<&'static str>)> {
    vec![
        (1, false, vec!["Packing list, school garden"]),
        (2, false, vec!["Order:", "40117", "", "Size:", "24 x 48 ft"]),
        (
            3,
            false,
            vec!["Code", "Description", "Length", "Qty", "Unit"],
        ),
        (4, false, vec!["Frame"]),
        (
            5,
            false,
            vec!["T-1", "Ground post, 1-5/8\" x 14 ga", "5 ft", "26", "ea"],
        ),
        (
            6,
            false,
            vec![
                "T-2",
                "Ridge tube & clamp <galv.>",
                "10' 6-1/2\"",
                "15",
                "ea",
            ],
        ),
        (7, true, vec!["T-3", "Door hinge", "", "4", "ea"]),
        (8, false, vec!["T-4", "Purlin", "10 ft", "30", "ea"]),
        (9, false, vec!["T-5", "Cross connector", "", "12", "ea"]),
        (10, false, vec!["T-6", "Lock channel", "8 ft", "20", "stk"]),
        // Code and description are merged over two rows; the lengths and counts are not.
        (11, false, vec!["T-6", "Lock channel", "10 ft", "10", "stk"]),
        // Shown as "9" by the format without decimals.
        (12, false, vec!["T-7", "Brace", "6 ft", "8.5", "ea"]),
    ]
}

#[test]
fn one_workbook_in_four_kinds() {
    for name in ["list.xlsx", "list.ods", "list.fods", "list.xls"] {
        let read = sheets(name);
        let names: Vec<&str> = read
            .sheets
            .iter()
            .map(|sheet| sheet.name.as_str())
            .collect();
        assert_eq!(names, ["Load 1", "Old"], "{name}");
        assert_eq!(lines(&read.sheets[0].lines), load_1(), "{name}");
        assert_eq!(
            read.sheets[1].lines[1].cells,
            ["T-9", "Ridge clamp", "3"],
            "{name}"
        );
        for words in [
            "Load 1 row 9: \"Tee connector\" has a line through it and was left out",
            "1 hidden rows were read too",
            "sheet Old is hidden; it was read too",
        ] {
            assert!(
                said(&read.warnings, words),
                "{name}: {words}\n{:?}",
                read.warnings
            );
        }
        assert_eq!(read.warnings.len(), 3, "{name}: {:?}", read.warnings);
        let last = read.sheets[0].lines.last().unwrap();
        let doubt = last.doubt.as_deref();
        assert_eq!(doubt, Some("a line goes through \"6 ft\" alone"), "{name}");
    }
}

#[test]
fn the_workbook_saved_as_a_page() {
    let read = sheets("list.html");
    // The page has no hidden row, so rows are counted without it, and shows what the formats show.
    let mut wanted = load_1();
    wanted.remove(7);
    for (index, line) in wanted.iter_mut().enumerate() {
        line.0 = index as u32 + 1;
    }
    wanted[10].2[3] = "9";
    // This program writes the words that are struck in part of a cell without their line.
    wanted[7].2[1] = "Tee connector Cross connector";
    let lines = lines(&read.sheets[0].lines);
    assert_eq!(lines[..11], wanted[..]);
}

#[test]
fn an_old_workbook_of_another_program() {
    let read = sheets("old.xls");
    let lines = &read.sheets[0].lines;
    // The day 46113 of a workbook that counts from 1900 is 1 April 2026 (checked with LibreOffice).
    assert_eq!(lines[0].cells, ["Date:", "2026-04-01"]);
    assert_eq!(lines.len(), 304);
    for (n, line) in lines[2..302].iter().enumerate() {
        let text = format!(
            "Ground post {}, \u{e9}t\u{e9} \u{65e5} {}",
            n + 1,
            "long ".repeat(10)
        );
        let remark = if n == 3 { "0.5" } else { "bundle" };
        assert_eq!(
            line.cells,
            [
                (n + 1).to_string(),
                text.trim().to_owned(),
                remark.to_owned()
            ]
        );
        assert_eq!((line.number, line.struck), (n as u32 + 3, n == 7));
    }
    // The far corner is one line with one cell, not a rectangle of millions.
    assert_eq!(
        (
            lines[303].number,
            lines[303].cells.len(),
            lines[303].cell(255)
        ),
        (65_536, 256, "far")
    );
}

#[test]
fn a_page_with_a_table_in_a_table() {
    for name in ["page.html", "page.eml"] {
        let read = list(name);
        let rows: Vec<(Option<i64>, &str, &str, &str)> = (read.rows.iter())
            .filter(|row| row.code != "T-4")
            .map(|row| {
                (
                    row.quantity,
                    &*row.code,
                    &*row.description,
                    row.cells.get(2).map_or("", |c| c),
                )
            })
            .collect();
        let wanted = [
            (Some(26), "T-1", "Ground post 1-5/8\" × 14 ga", "5 ft"),
            (Some(15), "T-2", "Ridge tube", "10' 6½\""),
            (Some(4), "T-3", "Ridge tube", "8 ft"),
            (Some(12), "T-5", "Cross connector", ""),
            (Some(30), "T-7", "Purlin", ""),
        ];
        assert_eq!(rows, wanted, "{name}");
        assert_eq!(read.header.number.as_deref(), Some("40117"));
        assert!(
            said(&read.warnings, "\"Tee\" has a line through it"),
            "{:?}",
            read.warnings
        );
        // The preview and the three cells of the hidden row.
        let hidden = (read.set_aside.iter()).filter(|line| line.why == Why::Hidden);
        let hidden: Vec<&str> = hidden.map(|line| line.text.as_str()).collect();
        assert_eq!(
            hidden,
            ["Preview text 99 posts", "T-6 | Not sold | 7"],
            "{name}"
        );
    }
    let struck: Vec<u32> = (sheets("page.html").sheets[0].lines.iter())
        .filter(|line| line.struck)
        .map(|line| line.number)
        .collect();
    assert_eq!(struck, [7]);
}

#[test]
fn what_is_copied_from_a_page() {
    // The header of the clipboard's format, then the page with marks round what was copied.
    let copied = "Version:0.9\r\nStartHTML:0000000105\r\nEndHTML:0000000400\r\nStartFragment:0000000141\r\nEndFragment:0000000360\r\n\
        <html><body>\r\n<!--StartFragment--><table><tr><td>Qty</td><td>Description</td></tr><tr><td>26</td><td>Ground post</td></tr>\
        <tr><td>4</td><td>Ridge tube</td></tr></table><!--EndFragment-->\r\n</body>\r\n</html>";
    let read = read(copied.as_bytes(), "pasted").unwrap();
    let rows: Vec<_> = read
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(rows, [(Some(26), "Ground post"), (Some(4), "Ridge tube")]);
}

#[test]
fn a_list_written_into_a_mail() {
    for (name, from) in [
        ("plain.eml", "Tomasz of the Depot"),
        ("forwarded.eml", "ines@example.org"),
    ] {
        let read = list(name);
        let rows: Vec<_> = read
            .rows
            .iter()
            .map(|row| (row.quantity, row.description.as_str()))
            .collect();
        assert_eq!(
            rows,
            [
                (Some(12), "ground post 5 ft"),
                (Some(4), "ridge tubes, 10 ft"),
                (Some(2), "door hinge")
            ],
            "{name}"
        );
        assert_eq!(read.header.sender.as_deref(), Some(from), "{name}");
        assert_eq!(read.header.number.as_deref(), Some("40117"), "{name}");
        assert_eq!(read.header.date.as_deref(), Some("2026-04-01"), "{name}");
        let below = (read.set_aside.iter()).filter(|line| line.why == Why::Signature);
        assert!(
            below
                .into_iter()
                .any(|line| line.text.contains("12 Harbour Road")),
            "{:?}",
            read.set_aside
        );
    }
    let latin = list("latin.eml");
    let rows: Vec<_> = latin
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(
        rows,
        [
            (Some(12), "ground posts, été"),
            (Some(4), "ridge tubes, 10' 6½\"")
        ]
    );
}

#[test]
fn a_list_attached_to_a_mail() {
    let read = list("attached.eml");
    // Without T-3, which is struck; T-9 is on the other sheet.
    let codes: Vec<&str> = read.rows.iter().map(|row| row.code.as_str()).collect();
    let wanted = ["T-1", "T-2", "T-4", "T-5", "T-6", "T-6", "T-7", "T-9"];
    assert_eq!(codes, wanted);
    assert_eq!(read.rows[0].description, "Ground post, 1-5/8\" x 14 ga");
    for words in [
        // Of its name only what follows the last slash.
        "the list is the file load 1.xlsx inside",
        "old.csv inside is a list too, of 1 row; it was not read",
        "logo.png inside was not read: this is a picture",
        "the message itself says: \"Two clamps are to follow.\"",
    ] {
        assert!(said(&read.warnings, words), "{words}\n{:?}", read.warnings);
    }
}

#[test]
fn a_list_shown_below_the_text_of_a_mail() {
    let mail = "From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n\
        --b\r\nContent-Type: text/plain\r\n\r\nHere it is, 2 loads.\r\n\
        --b\r\nContent-Type: text/csv; charset=windows-1252\r\nContent-Disposition: inline\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n\
        Qty;Description\r\n26;Ground post, =E9t=E9\r\n4;Ridge =\r\ntube\r\n--b--\r\n";
    let read = read(mail.as_bytes(), "mail").unwrap();
    let rows: Vec<_> = (read.rows.iter())
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(
        rows,
        [(Some(26), "Ground post, été"), (Some(4), "Ridge tube")]
    );
    assert!(
        said(
            &read.warnings,
            "the message itself says: \"Here it is, 2 loads.\""
        ),
        "{:?}",
        read.warnings
    );
    assert!(
        !said(&read.warnings, "is a list too"),
        "{:?}",
        read.warnings
    );
}

#[test]
fn text_in_a_table_and_around_it() {
    let page = "<p>Order 40117</p><table><caption>Frame</caption>stray 3 words<tr><td>12</td><td>Ground\n   post</td></tr>\
        <tr><td>4<td>Ridge tube</table><p>Greetings<br>Tomasz</p><pre>Qty  Description   Unit\n 26  Door hinge    ea\n  1  Door          ea\n</pre>";
    let read = read_sheets(page.as_bytes(), "page").unwrap();
    let wanted: [&[&str]; 9] = [
        &["Order 40117"],
        &["Frame"],
        &["stray 3 words"],
        &["12", "Ground post"],
        &["4", "Ridge tube"],
        &["Greetings"],
        &["Tomasz"],
        &["Qty", "Description", "Unit"],
        &["26", "Door hinge", "ea"],
    ];
    let found: Vec<_> = (read.sheets[0].lines.iter())
        .map(|line| &line.cells)
        .collect();
    assert_eq!(found[..9], wanted[..]);
}

#[test]
fn the_workbook_of_2003_in_one_file_of_xml() {
    // Written by hand after the published description of its elements; no program at hand writes it.
    let text = r#"<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?>
<Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet" xmlns:ss="urn:schemas-microsoft-com:office:spreadsheet">
<Styles><Style ss:ID="a"/><Style ss:ID="b"><Font ss:StrikeThrough="1"/></Style></Styles>
<Worksheet ss:Name="Load 1"><Table>
<Row ss:Index="3"><Cell><Data ss:Type="String">Qty</Data></Cell><Cell ss:MergeAcross="1"><Data ss:Type="String">Description</Data></Cell><Cell><Data ss:Type="String">Length</Data></Cell></Row>
<Row><Cell><Data ss:Type="Number">26</Data></Cell><Cell><Data ss:Type="String">Ground post &amp; cap</Data></Cell><Cell ss:Index="4"><Data ss:Type="String">5 ft</Data></Cell></Row>
<Row ss:StyleID="b"><Cell ss:StyleID="b"><Data ss:Type="Number">2</Data></Cell><Cell ss:StyleID="b"><Data ss:Type="String">Hinge</Data></Cell></Row>
</Table></Worksheet></Workbook>"#;
    let read = read_sheets(text.as_bytes(), "list.xml").unwrap();
    assert_eq!(
        lines(&read.sheets[0].lines),
        [
            (3, false, vec!["Qty", "Description", "", "Length"]),
            (4, false, vec!["26", "Ground post & cap", "", "5 ft"]),
            (5, true, vec!["2", "Hinge"]),
        ]
    );
}

#[test]
fn what_is_no_list_is_named() {
    let refusal = |bytes: &[u8]| read(bytes, "file").unwrap_err().why;
    assert_eq!(
        refusal(b"{\\rtf1 list"),
        Refusal::OtherKind("an RTF document")
    );
    let mailbox = b"From a Mon\nFrom: a@example.org\nMIME-Version: 1.0\n\n12 posts\n\nFrom b Tue\nFrom: b@example.org\n\n3 posts\n";
    assert_eq!(refusal(mailbox), Refusal::Mailbox(2));
    let one = b"From a Mon Apr 1 2026\nFrom: a@example.org\nMIME-Version: 1.0\n\n12 ground posts\n3 ridge tubes\n";
    assert_eq!(read(one, "one.mbox").unwrap().rows.len(), 2);
}
