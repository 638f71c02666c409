//! The columns of what was received, for CSV and workbooks alike.

use crate::received::{Header, MarkReceived, Received, RowReceived};

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Cell {
    Text(String),
    Number(i64),
    /// Not known: nobody counted, or no list names it. Never written as 0.
    Unknown,
}

/// A column of marks: what it is called, and what stands in it.
pub(crate) type Column = (&'static str, fn(&MarkReceived) -> Cell);

pub(crate) const MARKS: [Column; 21] = [
    ("mark", |of| Cell::Text(of.mark.clone())),
    ("description", |of| Cell::Text(of.description.clone())),
    ("sender's code", |of| Cell::Text(of.code().into())),
    ("ordered", |of| Cell::Number(of.ordered)),
    ("sent", |of| maybe(of.sent)),
    ("received", |of| maybe(of.received)),
    ("good", |of| maybe(of.good)),
    ("short", |of| Cell::Number(of.short)),
    ("short at most", |of| Cell::Number(of.short_at_most)),
    ("over", |of| Cell::Number(of.over)),
    ("called short", |of| Cell::Number(of.called_short)),
    ("called over", |of| Cell::Number(of.called_over)),
    ("damaged", |of| Cell::Number(of.damaged)),
    ("bent", |of| Cell::Number(of.bent)),
    ("wrong part", |of| Cell::Number(of.wrong)),
    ("wet", |of| Cell::Number(of.wet)),
    ("still to come", |of| Cell::Number(of.to_come)),
    ("says", |of| Cell::Text(of.says.clone())),
    ("most likely", |of| Cell::Text(of.likely.clone())),
    ("to settle it", |of| Cell::Text(of.look.clone())),
    ("rows of the packing list", |of| Cell::Text(rows(&of.rows))),
];

/// A column of packing-list rows, each beside the mark that it was read onto.
pub(crate) type RowColumn = (&'static str, fn(&MarkReceived, &RowReceived) -> Cell);

pub(crate) const ROWS: [RowColumn; 8] = [
    ("mark", |of, _| Cell::Text(of.mark.clone())),
    ("list", |_, row| Cell::Text(row.list.clone())),
    ("place", |_, row| Cell::Text(row.place.clone())),
    ("sender's code", |_, row| Cell::Text(row.code.clone())),
    ("sender's words", |_, row| Cell::Text(row.words.clone())),
    ("pieces", |_, row| maybe(row.quantity)),
    ("sub-kit", |_, row| Cell::Text(row.sub_kit.clone())),
    ("shipment", |_, row| {
        Cell::Text(row.shipment.clone().unwrap_or_default())
    }),
];

/// The marks of the order, and after them those that are none of it.
pub(crate) fn marks(received: &Received) -> Vec<MarkReceived> {
    let strange = received.strange.iter().map(MarkReceived::from);
    received.marks.iter().cloned().chain(strange).collect()
}

/// What the header says, each with its name.
pub(crate) fn about(header: &Header) -> Vec<(&'static str, String)> {
    let mut about = vec![
        ("document", header.document.clone()),
        (
            "written",
            header.issued.strftime("%Y-%m-%d %H:%M").to_string(),
        ),
        ("job", header.job.clone()),
        ("order", header.order_number.clone()),
        ("sender", header.sender.clone()),
        ("received by", header.receiver.clone()),
        ("site", header.site.clone()),
    ];
    let shipments = header.shipments.iter();
    about.extend(shipments.map(|shipment| ("shipment", shipment.in_words())));
    about
}

fn maybe(number: Option<i64>) -> Cell {
    number.map_or(Cell::Unknown, Cell::Number)
}

/// "list.csv row 4: 12; list.csv row 9: 14".
fn rows(rows: &[RowReceived]) -> String {
    let words: Vec<String> = (rows.iter())
        .map(|row| match row.quantity {
            Some(pieces) => format!("{} {}: {pieces}", row.list, row.place),
            None => format!("{} {}: not clear how many", row.list, row.place),
        })
        .collect();
    words.join("; ")
}
