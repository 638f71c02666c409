//! Files of the other kinds, made to do harm: each is read or refused within a moment and a bounded memory.

use std::io::{Cursor, Write};
use std::time::Duration;

use list::{PackingList, Refusal, limits, read, read_sheets};
use proptest::prelude::*;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use crate::slow::busy;

/// What no file that is refused or read may take of a processor, unoptimised.
const A_MOMENT: Duration = Duration::from_secs(30);

fn within_a_moment(bytes: &[u8]) -> Result<PackingList, Refusal> {
    let start = busy();
    let read = read(bytes, "file").map_err(|error| error.why);
    let took = busy() - start;
    assert!(took < A_MOMENT, "{took:?}");
    read
}

fn zip(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    for (name, body) in files {
        to.start_file(*name, options).unwrap();
        to.write_all(body).unwrap();
    }
    to.finish().unwrap().into_inner()
}

const HEAD: &str = r#"<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet>"#;

fn ods(table: &str) -> Vec<u8> {
    let content =
        format!("{HEAD}{table}</office:spreadsheet></office:body></office:document-content>");
    zip(&[
        (
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet",
        ),
        ("META-INF/manifest.xml", b"<manifest/>"),
        ("content.xml", content.as_bytes()),
    ])
}

const CELLS: &str = "<table:table-cell><text:p>12</text:p></table:table-cell><table:table-cell><text:p>Ground post</text:p></table:table-cell>";

#[test]
fn repeated_cells_and_rows_of_an_open_sheet() {
    // Empty ones to the end of the sheet, as every program writes them, and a far row after a million.
    let far = format!(
        r#"<table:table table:name="A"><table:table-row>{CELLS}<table:table-cell table:number-columns-repeated="16382"/></table:table-row>
        <table:table-row table:number-rows-repeated="1048574"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>
        <table:table-row>{CELLS}</table:table-row></table:table>"#
    );
    let list = within_a_moment(&ods(&far)).unwrap();
    let at: Vec<u32> = list.rows.iter().map(|row| row.at.row).collect();
    assert_eq!(at, [1, 1_048_576]);
    assert!(list.warnings.is_empty(), "{:?}", list.warnings);

    let full = format!(
        r#"<table:table><table:table-row table:number-rows-repeated="1048576">{CELLS}</table:table-row></table:table>"#
    );
    assert_eq!(within_a_moment(&ods(&full)), Err(Refusal::TooManyRows));
    let wide = r#"<table:table><table:table-row table:number-rows-repeated="100000"><table:table-cell table:number-columns-repeated="99999999999999999999"><text:p>x</text:p></table:table-cell><table:table-cell table:number-columns-repeated="4000000000"><text:p>7</text:p></table:table-cell></table:table-row></table:table>"#;
    assert_eq!(within_a_moment(&ods(wide)), Err(Refusal::TooManyCells));
    let down = format!(
        r#"<table:table><table:table-row><table:table-cell table:number-rows-spanned="4294967295"><text:p>Frame</text:p></table:table-cell>{CELLS}</table:table-row></table:table>"#
    );
    assert!(within_a_moment(&ods(&down)).is_ok());
}

#[test]
fn entities_and_depth_of_an_open_sheet() {
    let flood = r#"<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>"#;
    let content = format!(
        "{flood}{HEAD}<table:table/></office:spreadsheet></office:body></office:document-content>"
    );
    let files: &[(&str, &[u8])] = &[
        ("META-INF/manifest.xml", b"<manifest/>"),
        ("content.xml", content.as_bytes()),
    ];
    assert_eq!(
        within_a_moment(&zip(files)),
        Err(Refusal::DocumentType("content.xml".into()))
    );
    assert!(matches!(
        within_a_moment(content.as_bytes()),
        Err(Refusal::DocumentType(_))
    ));
    let deep = format!("<table:table>{}", "<text:p>".repeat(200_000));
    assert!(matches!(
        within_a_moment(&ods(&deep)),
        Err(Refusal::TooDeep | Refusal::Damaged(_) | Refusal::Bomb { .. })
    ));
    // More styles than words: names that refer to each other and to nothing.
    let styles: String = (0..20_000).map(|n| format!(r#"<style:style style:family="text" style:name="s{n}" style:parent-style-name="s{}"/>"#, n + 1)).collect();
    assert!(
        within_a_moment(&ods(&format!(
            "{styles}<table:table><table:table-row>{CELLS}</table:table-row></table:table>"
        )))
        .is_ok()
    );
}

#[test]
fn protected_files_are_named() {
    let manifest = br#"<manifest:manifest><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></manifest:manifest>"#;
    let locked = zip(&[
        ("META-INF/manifest.xml", manifest),
        ("content.xml", b"\x01\x02\x03"),
    ]);
    assert_eq!(
        within_a_moment(&locked),
        Err(Refusal::Protected("OpenDocument sheet"))
    );
    let compound = |streams: &[&str]| {
        let mut file = cfb::CompoundFile::create(Cursor::new(Vec::new())).unwrap();
        for stream in streams {
            file.create_stream(stream)
                .unwrap()
                .write_all(b"anything")
                .unwrap();
        }
        file.flush().unwrap();
        file.into_inner().into_inner()
    };
    assert_eq!(
        within_a_moment(&compound(&["/EncryptionInfo", "/EncryptedPackage"])),
        Err(Refusal::Protected("XLSX workbook"))
    );
    assert_eq!(
        within_a_moment(&compound(&["/__properties_version1.0"])),
        Err(Refusal::MailMessage)
    );
    assert_eq!(
        within_a_moment(&compound(&["/WordDocument"])),
        Err(Refusal::OtherKind("an old DOC document"))
    );
    assert!(matches!(
        within_a_moment(&compound(&["/Workbook"])),
        Err(Refusal::Damaged(_))
    ));
}

#[test]
fn spans_and_depth_of_a_page() {
    let spans =
        "<table><tr><td rowspan=65535 colspan=1000>Frame</td><td rowspan=4000000000>x</td></tr>"
            .to_owned()
            + &"<tr><td>12</td><td>Ground post</td></tr>".repeat(2_000);
    assert!(matches!(
        within_a_moment(spans.as_bytes()),
        Ok(_) | Err(Refusal::NoTable | Refusal::TooManyCells)
    ));
    let blow = "<table>".to_owned() + &"<tr><td colspan=256 rowspan=60000>1".repeat(400_000);
    assert_eq!(within_a_moment(blow.as_bytes()), Err(Refusal::TooManyCells));
    for (open, times) in [
        ("<table><tr><td>", 60_000),
        ("<div>", 200_000),
        ("<s><b>", 100_000),
        ("</x>", 200_000),
        ("<td>", 200_000),
        ("<pre>", 100_000),
    ] {
        let page = format!("<html><table></table>{}12 ground posts", open.repeat(times));
        let _ = within_a_moment(page.as_bytes());
    }
    let attributes: String = (0..200_000).map(|n| format!(" a{n}=1")).collect();
    let _ = within_a_moment(
        format!("<table{attributes}><tr><td>12</td><td>Ground post</td></tr></table>").as_bytes(),
    );
    // Nothing of a script is read, and nothing is fetched: what it would write is not there.
    let script = "<html><script>document.write('<table><tr><td>9</td><td>Ground post</td></tr></table>')</script><img src='http://127.0.0.1:1/'>\
        <table><tr><td>4</td><td>Ridge tube</td></tr><tr><td>2</td><td>Door hinge</td></tr></table>";
    let list = within_a_moment(script.as_bytes()).unwrap();
    assert_eq!(list.rows.len(), 2);
}

#[test]
fn mails_without_end() {
    let head = "From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: message/rfc822\r\n\r\n";
    let nested = head.repeat(1_000) + "From: b@example.org\r\n\r\n12 ground posts\r\n";
    let _ = within_a_moment(nested.as_bytes());
    // As deep as a file can be: what keeps parts inside each other must not be let go by itself.
    let deepest = head.repeat(400_000);
    assert_eq!(within_a_moment(deepest.as_bytes()), Err(Refusal::TooDeep));
    let digest = "From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: Multipart/DIGEST; boundary=b\r\n\r\n--b\r\n\r\n";
    assert_eq!(
        within_a_moment(digest.repeat(200_000).as_bytes()),
        Err(Refusal::TooDeep)
    );
    let parts: String = (0..2_000)
        .map(|n| {
            format!(
                "--b{n}\r\nContent-Type: multipart/mixed; boundary=b{}\r\n\r\n",
                n + 1
            )
        })
        .collect();
    let _ = within_a_moment(format!("From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=b0\r\n\r\n{parts}").as_bytes());
    let junk = format!(
        "From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: application/pdf; name=\"../../x\"\r\nContent-Transfer-Encoding: base64\r\n\r\n{}",
        "!!!!====AAAA\u{0}".repeat(100_000)
    );
    assert!(within_a_moment(junk.as_bytes()).is_err());
    let many = (0..500).map(|n| format!("--b\r\nContent-Type: text/csv; name={n}.csv\r\nContent-Disposition: attachment\r\n\r\nQty;Description\n1;Ground post\n2;Ridge tube\n\r\n")).collect::<String>();
    let list = within_a_moment(format!("From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n{many}--b--\r\n").as_bytes()).unwrap();
    assert_eq!(list.rows.len(), 2);
    assert!(
        list.warnings
            .iter()
            .any(|w| w.what.contains("more than 64 attachments"))
    );
}

#[test]
fn archives_of_lists() {
    let csv = b"Qty;Description\n12;Ground post\n4;Ridge tube\n".as_slice();
    let list = within_a_moment(&zip(&[
        ("folder/list.csv", csv),
        ("__MACOSX/._list.csv", b"junk"),
    ]))
    .unwrap();
    assert_eq!(list.rows.len(), 2);
    assert!(
        list.warnings
            .iter()
            .any(|w| w.what == "the list is the file list.csv inside")
    );
    let picture = zip(&[("page.png", b"\x89PNG....")]);
    let why = within_a_moment(&picture).unwrap_err();
    assert!(
        why.to_string()
            .starts_with("page.png inside it: this is a picture"),
        "{why}"
    );
    // A ZIP in a ZIP is not opened.
    let inner = zip(&[("list.csv", csv)]);
    assert!(within_a_moment(&zip(&[("inner.zip", &inner)])).is_err());
    let spaces = vec![b' '; 90 << 20];
    assert!(matches!(
        within_a_moment(&zip(&[("list.txt", &spaces)])),
        Err(Refusal::Bomb { .. })
    ));
    assert!(matches!(
        within_a_moment(&zip(&[("a.docx", csv), ("word/document.xml", b"<w/>")])),
        Err(Refusal::OtherKind("a DOCX document"))
    ));
}

#[test]
fn text_that_is_wide_or_all_gaps() {
    for text in [
        format!("{}x", " ".repeat(5_000_000)),
        "a  b  ".repeat(100_000),
        format!("{}\n", "a  b  c  ".repeat(100)).repeat(1_000),
        "+--+\n|a |\n".repeat(200_000),
        "| ".repeat(200_000),
        ">".repeat(2_000_000),
        "> \n".repeat(100_000),
        "1,".repeat(200_000),
        "1.1,1.1,".repeat(400_000),
    ] {
        let _ = within_a_moment(text.as_bytes());
    }
    const { assert!(limits::MAX_COLUMNS >= 256) };
}

fn old_workbook() -> Vec<u8> {
    std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/kinds/list.xls")).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn mutated_old_workbooks(places in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12)) {
        let mut bytes = old_workbook();
        for (place, byte) in places {
            let at = place.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = read_sheets(&bytes, "any");
    }

    #[test]
    fn any_page(parts in proptest::collection::vec(prop_oneof![
        Just("<table>"), Just("</table>"), Just("<tr>"), Just("</tr>"), Just("<td>"), Just("</td>"), Just("<td colspan=3>"),
        Just("<td rowspan=2>"), Just("<s>"), Just("</s>"), Just("<br>"), Just("<p>"), Just("<pre>"), Just("</pre>"), Just("<div hidden>"),
        Just("</div>"), Just("12"), Just("Ground post"), Just("&frac12;"), Just("<style>.a{display:none}"), Just("</style>"), Just("<td class=a>"),
    ], 0..60)) {
        let _ = read(format!("<html>{}", parts.concat()).as_bytes(), "any");
    }

    #[test]
    fn any_open_sheet(parts in proptest::collection::vec(prop_oneof![
        Just("<table:table>"), Just("</table:table>"), Just("<table:table-row>"), Just("</table:table-row>"), Just("<table:table-cell>"),
        Just("</table:table-cell>"), Just("<text:p>"), Just("</text:p>"), Just("<text:s/>"), Just("<table:covered-table-cell/>"), Just("12"),
        Just("&#x26;"), Just("&nothing;"), Just("<office:annotation>"), Just("</office:annotation>"), Just("<style:style style:name='a' style:family='text'>"),
    ], 0..60)) {
        let _ = read(&ods(&parts.concat()), "any");
    }

    #[test]
    fn any_mail(parts in proptest::collection::vec(prop_oneof![
        Just("From: a@b\r\n"), Just("MIME-Version: 1.0\r\n"), Just("Content-Type: multipart/mixed; boundary=x\r\n"), Just("\r\n"), Just("--x\r\n"), Just("--x--\r\n"),
        Just("Content-Type: message/rfc822\r\n"), Just("Content-Transfer-Encoding: base64\r\n"), Just("Content-Transfer-Encoding: quoted-printable\r\n"),
        Just("MTIgZ3JvdW5kIHBvc3Rz\r\n"), Just("=3D=\r\n"), Just("12 ground posts\r\n"), Just("Content-Type: text/plain; charset=utf-7\r\n"),
    ], 0..40)) {
        let _ = read(format!("From: a@b\r\nMIME-Version: 1.0\r\n{}", parts.concat()).as_bytes(), "any");
    }

    #[test]
    fn any_set_text(text in "([ab1]{1,4}| {1,4}|\n|\\||-{1,5}|\\+|é|>){0,80}") {
        let _ = read(text.as_bytes(), "any");
    }
}
