//! The workbook, read back by calamine and by openpyxl.

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx};
use claim::received_xlsx;

use crate::peers::python;
use crate::received_job::{AWKWARD, awkward, demo};

fn sheet(bytes: &[u8], name: &str) -> Vec<Vec<Data>> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    let range = book.worksheet_range(name).unwrap();
    range.rows().map(<[Data]>::to_vec).collect()
}

#[test]
fn marks_rows_and_what_it_is() {
    let received = demo().received();
    let bytes = received_xlsx::write(&received).unwrap();
    let marks = sheet(&bytes, "Received");
    assert_eq!(marks.len(), received.marks.len() + 1);
    let column = |name: &str| {
        let name = Data::String(name.into());
        marks[0].iter().position(|n| *n == name).unwrap()
    };
    let line = |mark: &str| {
        let mark = Data::String(mark.into());
        marks.iter().find(|line| line[0] == mark).unwrap()
    };
    assert_eq!(line("R1")[column("received")], Data::Float(13.0));
    assert_eq!(line("R1")[column("short")], Data::Float(2.0));
    assert_eq!(line("F1")[column("received")], Data::Empty);
    let rows = sheet(&bytes, "Packing list");
    let listed: usize = received.marks.iter().map(|mark| mark.rows.len()).sum();
    assert_eq!(rows.len(), listed + 1);
    let about = sheet(&bytes, "What this is");
    let says = |name: &str| {
        let line = about
            .iter()
            .find(|line| line[0] == Data::String(name.into()));
        line.unwrap()[1].to_string()
    };
    assert_eq!(says("document"), "SG-117-R1");
    assert_eq!(says("shipment"), "Load 1 arrived 2026-03-06");
    assert!(says("note").contains("Short: against the order"));
}

/// The same job gives the same bytes: no clock is asked.
#[test]
fn the_same_is_written_twice() {
    let received = demo().received();
    let first = received_xlsx::write(&received).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(1100));
    assert_eq!(received_xlsx::write(&received).unwrap(), first);
}

/// Prints each text cell that looks like a formula, with its type and whether it is marked to be left alone; then the
/// number of formulas.
const LOOKS_LIKE_A_FORMULA: &str = r#"
import io, sys, openpyxl
book = openpyxl.load_workbook(io.BytesIO(sys.stdin.buffer.read()))
formulas = 0
for sheet in book:
    for line in sheet.iter_rows():
        for cell in line:
            formulas += cell.data_type == "f" and not cell.quotePrefix
            if str(cell.value or "")[:1] in set("=+-@"):
                print(cell.coordinate, cell.quotePrefix)
print(book.sheetnames, formulas)
"#;

#[test]
fn no_cell_is_a_formula() {
    let bytes = received_xlsx::write(&awkward()).unwrap();
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(&bytes)).unwrap();
    for name in book.sheet_names() {
        let formulas = book.worksheet_formula(&name).unwrap();
        assert_eq!(formulas.used_cells().count(), 0, "{name}");
    }
    // The text itself is kept as it is.
    let marks = sheet(&bytes, "Received");
    assert_eq!(marks.len(), AWKWARD.len() + 2);
    assert_eq!(marks[1][1], Data::String(AWKWARD[0].into()));
    let Some(said) = python(LOOKS_LIKE_A_FORMULA, &bytes) else {
        return;
    };
    let said: Vec<&str> = said.lines().collect();
    let (last, cells) = said.split_last().unwrap();
    assert_eq!(*last, "['Received', 'Packing list', 'What this is'] 0");
    // openpyxl takes any text that begins with "=" for a formula; what counts is that it is marked.
    assert!(cells.len() > 20, "{cells:?}");
    assert!(cells.iter().all(|cell| cell.ends_with("True")), "{cells:?}");
}
