//! Text whose columns are set by position, drawn with bars, pasted from a mail; and numbers with a decimal comma.

use list::{PackingList, Sheets, read, read_sheets};

fn cells(text: &str) -> Vec<Vec<String>> {
    let sheets: Sheets = read_sheets(text.as_bytes(), "pasted").unwrap();
    sheets.sheets[0]
        .lines
        .iter()
        .map(|line| line.cells.clone())
        .collect()
}

fn rows(text: &str) -> Vec<(Option<i64>, String, String)> {
    let list: PackingList = read(text.as_bytes(), "pasted").unwrap();
    let row = |row: &list::Row| (row.quantity, row.code.clone(), row.description.clone());
    list.rows.iter().map(row).collect()
}

/// A table set with spaces: empty cells in the middle, numbers at the right, a title and a note longer than a column.
const FIXED: &str = "\
PACKING LIST FOR THE SCHOOL GARDEN, ORDER 40117
Code    Description                  Length        Qty  Unit
T-1     Ground post 1-5/8 x 14 ga    5 ft           26  ea
T-2     Ridge tube                   10' 6-1/2\"   1200  ea
        Lock channel                 8 ft            4  stk
T-4     Door hinge                                   2  ea
T-5     Splice plate                                    
T-6     Cross connector              1-5/8 in      120  ea

Please count at the ferry and tell us of anything that is missing.
";

#[test]
fn columns_set_by_position() {
    let found = cells(FIXED);
    let wanted: [&[&str]; 9] = [
        &["PACKING LIST FOR THE SCHOOL GARDEN, ORDER 40117"],
        &["Code", "Description", "Length", "Qty", "Unit"],
        &["T-1", "Ground post 1-5/8 x 14 ga", "5 ft", "26", "ea"],
        &["T-2", "Ridge tube", "10' 6-1/2\"", "1200", "ea"],
        &["", "Lock channel", "8 ft", "4", "stk"],
        &["T-4", "Door hinge", "", "2", "ea"],
        &["T-5", "Splice plate"],
        &["T-6", "Cross connector", "1-5/8 in", "120", "ea"],
        &["Please count at the ferry and tell us of anything that is missing."],
    ];
    assert_eq!(found, wanted);
}

#[test]
fn columns_under_a_line_of_dashes() {
    // The gaps are a single space wide; only the dashes tell where they are.
    let text = "\
Qty  Item Description     Remarks
==== ==== =============== =======
  26 T-1  Ground post     bundle
   4      Ridge tube 10ft
 120 T-3  Door hinge left with pin
";
    let found = cells(text);
    let wanted: [&[&str]; 4] = [
        &["Qty", "Item", "Description", "Remarks"],
        &["26", "T-1", "Ground post", "bundle"],
        &["4", "", "Ridge tube 10ft"],
        &["120", "T-3", "Door hinge left", "with pin"],
    ];
    assert_eq!(found, wanted);
}

#[test]
fn tables_drawn_with_bars() {
    let markdown = "\
| Code | Description | Qty |
|------|:------------|----:|
| T-1  | Post 1-5/8\" \\| galv. | 26 |
| T-2  |  | 4 |
| T-3  | Hinge |  |
";
    let wanted: [&[&str]; 4] = [
        &["Code", "Description", "Qty"],
        &["T-1", "Post 1-5/8\" | galv.", "26"],
        &["T-2", "", "4"],
        &["T-3", "Hinge"],
    ];
    assert_eq!(cells(markdown), wanted);

    // A box whose rows are drawn over several lines, each with a rule below.
    let boxed = "\
+------+-------------+-----+
| Code | Description | Qty |
+------+-------------+-----+
| T-1  | Ground post | 26  |
|      | 1-5/8 in    |     |
+------+-------------+-----+
| T-2  | Ridge tube  | 4   |
+------+-------------+-----+
| T-3  | Hinge       | 2   |
+------+-------------+-----+
";
    let wanted: [&[&str]; 4] = [
        &["Code", "Description", "Qty"],
        &["T-1", "Ground post 1-5/8 in", "26"],
        &["T-2", "Ridge tube", "4"],
        &["T-3", "Hinge", "2"],
    ];
    let found = cells(boxed);
    assert_eq!(found, wanted);
    let drawn = boxed
        .replace('|', "│")
        .replace('+', "┼")
        .replace('-', "─")
        .replace("T─", "T-")
        .replace("1─5", "1-5");
    assert_eq!(cells(&drawn), wanted);
}

#[test]
fn copied_from_a_spreadsheet() {
    let text = "Code\tDescription\tLength\tQty\nT-1\tGround post\t\t26\n\tRidge tube, long\t10 ft\t4\nT-3\tHinge\t\t\n";
    let wanted: [&[&str]; 4] = [
        &["Code", "Description", "Length", "Qty"],
        &["T-1", "Ground post", "", "26"],
        &["", "Ridge tube, long", "10 ft", "4"],
        &["T-3", "Hinge"],
    ];
    assert_eq!(cells(text), wanted);
}

#[test]
fn pasted_from_an_answered_mail() {
    let text = "\
On 1 April Tomasz wrote:
> > Code    Description         Qty
> > T-1     Ground post          26
> > T-2     Ridge tube            4
> >         Door hinge            2
>
> Greetings
--\x20
Noor, tel 555 0100
";
    let row = |n, code: &str, what: &str| (Some(n), code.to_owned(), what.to_owned());
    assert_eq!(
        rows(text),
        [
            row(26, "T-1", "Ground post"),
            row(4, "T-2", "Ridge tube"),
            row(2, "", "Door hinge")
        ]
    );
    let list = read(text.as_bytes(), "pasted").unwrap();
    assert!(
        list.set_aside
            .iter()
            .any(|line| line.why == list::Why::Signature && line.text.contains("555 0100")),
        "{:?}",
        list.set_aside
    );
}

#[test]
fn a_decimal_comma() {
    let text = "Code;Description;Length;Weight;Qty\n\
        10.200;Ground post 42,4 x 2,0 mm;1,5 m;3,20;26,00\n\
        10.201;Ridge tube;3,20 m;4,80;1.200\n\
        10.202;Lock channel, long;2,00 m;1,00;1.200,00\n\
        10.203;Staples;12 mm;0,50;12,00 Stk\n\
        10.204;Cable;1,250 m;0,50;4\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    let rows: Vec<_> = (list.rows.iter())
        .map(|row| {
            (
                row.quantity,
                row.code.as_str(),
                row.description.as_str(),
                row.cells[2].as_str(),
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            (Some(26), "10.200", "Ground post 42.4 x 2.0 mm", "1.5 m"),
            (Some(1_200), "10.201", "Ridge tube", "3.20 m"),
            (Some(1_200), "10.202", "Lock channel, long", "2.00 m"),
            (Some(12), "10.203", "Staples", "12 mm"),
            (Some(4), "10.204", "Cable", "1.250 m"),
        ]
    );
    let said = |words: &str| list.warnings.iter().any(|w| w.what.contains(words));
    assert!(said("decimal comma"), "{:?}", list.warnings);
    let unclear = list
        .warnings
        .iter()
        .find(|w| w.what.contains("may be decimals or thousands"))
        .unwrap();
    assert_eq!(unclear.at.as_ref().unwrap().row, 6);
}

#[test]
fn where_the_comma_is_no_decimal_mark() {
    // Thousands, phrases, marks that are counted up: nothing here can only be a decimal comma.
    let text = "Qty,Description,Length\n\"1,200\",\"Ground post, galv.\",5.5 ft\n4,\"Bolts for marks A1,2 and 3\",2 in\n";
    let list = read(text.as_bytes(), "list.csv").unwrap();
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|row| (row.quantity, row.description.as_str()))
        .collect();
    assert_eq!(
        rows,
        [
            (Some(1_200), "Ground post, galv."),
            (Some(4), "Bolts for marks A1,2 and 3")
        ]
    );
    assert!(list.warnings.is_empty(), "{:?}", list.warnings);

    // Nothing tells what 1.200 is: the row has no number and says so.
    let list = read(
        b"Qty;Description\n1.200;Ground post\n4;Ridge tube\n",
        "list.csv",
    )
    .unwrap();
    assert_eq!(list.rows[0].quantity, None);
    assert!(list.rows[0].doubt.is_some());

    // Both marks in one list: left as written, and said.
    let mixed = "Qty;Description;Weight\n4;Ground post;1,5 kg\n2;Ridge tube;2.5 kg\n";
    let list = read(mixed.as_bytes(), "list.csv").unwrap();
    assert_eq!(list.rows[0].cells[2], "1,5 kg");
    assert!(
        list.warnings.iter().any(|w| w.what.contains("in others")),
        "{:?}",
        list.warnings
    );
}
