//! The table as CSV: by RFC 4180, read back by Python's csv module, and harmless in a spreadsheet.

use claim::received_csv;

use crate::peers::python;
use crate::received_job::{AWKWARD, awkward, demo};

/// The table as the csv crate reads it, without the byte order mark.
fn table(bytes: &[u8]) -> Vec<Vec<String>> {
    let body = bytes
        .strip_prefix(b"\xef\xbb\xbf")
        .expect("a byte order mark");
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(body);
    reader
        .records()
        .map(|line| line.unwrap().iter().map(String::from).collect())
        .collect()
}

#[test]
fn a_line_for_each_mark() {
    let received = demo().received();
    let table = table(&received_csv::write(&received).unwrap());
    assert_eq!(table.len(), received.marks.len() + 1);
    let column = |name: &str| table[0].iter().position(|n| n == name).unwrap();
    let line = |mark: &str| table.iter().find(|l| l[column("mark")] == mark).unwrap();
    let said = |mark: &str, name: &str| line(mark)[column(name)].as_str();
    assert_eq!(said("R1", "document"), "SG-117-R1");
    assert_eq!(said("R1", "order"), "SG-117");
    assert_eq!(said("R1", "sender's code"), "RT-126S");
    assert_eq!(said("R1", "received"), "13");
    assert_eq!(said("R1", "short"), "2");
    assert_eq!(said("B1", "bent"), "1");
    assert_eq!(said("S1", "over"), "2");
    // Nobody counted it: that is no nought.
    assert_eq!(said("F1", "received"), "");
    assert_eq!(said("F1", "still to come"), "1");
}

/// RFC 4180, section 2: lines end with CRLF, all have as many fields, quotes within are doubled.
#[test]
fn it_is_as_rfc_4180_says() {
    let bytes = received_csv::write(&awkward()).unwrap();
    let text = String::from_utf8(bytes.clone()).unwrap();
    assert!(text.ends_with("\r\n"));
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    assert_eq!(text.matches('\r').count(), text.matches("\r\n").count());
    // No text has a line break of its own left, so lines are records.
    assert_eq!(text.lines().count(), AWKWARD.len() + 2);
    let table = table(&bytes);
    assert!(table.iter().all(|line| line.len() == table[0].len()));
    // Python's own reader sees the same.
    let program = "import csv, io, json, sys\nprint(json.dumps(list(csv.reader(io.StringIO(sys.stdin.buffer.read().decode('utf-8-sig'), newline='')))))";
    if let Some(said) = python(program, &bytes) {
        let seen: Vec<Vec<String>> = serde_json::from_str(&said).unwrap();
        assert_eq!(seen, table);
    }
}

/// OWASP, "CSV Injection": a cell must not begin with = + - @, tab or CR, nor must what follows a separator.
#[test]
fn no_cell_is_a_formula_wherever_a_line_is_split() {
    let bytes = received_csv::write(&awkward()).unwrap();
    let text = String::from_utf8(bytes.clone()).unwrap();
    let starts = |cell: &str| {
        cell.trim_start_matches([' ', '"'])
            .starts_with(['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠'])
    };
    for line in table(&bytes) {
        assert!(!line.iter().any(|cell| starts(cell)), "{line:?}");
    }
    // A spreadsheet of a country with decimal commas splits at semicolons.
    for line in text.lines() {
        assert!(!line.split(';').any(starts), "{line}");
    }
    assert!(
        text.contains("\"'=HYPERLINK(\"\"http://x\"\",\"\"a\"\")\""),
        "{text}"
    );
    assert!(!text.contains(['\u{202e}', '\u{0}', '\t']));
}
