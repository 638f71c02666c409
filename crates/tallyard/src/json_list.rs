//! What `tallyard list --json` prints (docs/schema/list.json).

use list::{Changes, Matched, PackingList};
use serde::Serialize;
use tally::Ordered;

use crate::json_despatch::{self, Sender, Sent};

#[derive(Serialize)]
pub struct List {
    header: Header,
    troubles: Vec<String>,
    rows: Vec<Row>,
    set_aside: Vec<SetAside>,
    warnings: Vec<String>,
    /// What changed from the list before; null where none was given.
    changes: Option<Vec<Change>>,
    /// What the sender's system says; null where the list did not come as data.
    despatch: Option<Sender>,
}

#[derive(Serialize)]
struct Header {
    order_name: Option<String>,
    number: Option<String>,
    sender: Option<String>,
    family: Option<String>,
    width_mm: Option<f64>,
    length_mm: Option<f64>,
    bow_spacing_mm: Option<f64>,
}

#[derive(Serialize)]
struct Row {
    row: u32,
    sheet: Option<String>,
    /// Pieces; null when the row gives no number that can be read.
    quantity: Option<i64>,
    /// The quantity as the list writes it.
    written: Option<String>,
    /// What is unclear about the row; null where it is clear.
    unclear: Option<String>,
    unit: Option<String>,
    /// Pieces to follow; null where the list does not say.
    to_follow: Option<i64>,
    code: Option<String>,
    description: String,
    sub_kit: Option<String>,
    shipment: Option<String>,
    /// The mark it was read onto; null without an order, or when it matches nothing.
    mark: Option<String>,
    /// What a row brings that stands for several marks; empty for all others.
    holds: Vec<Held>,
    /// From 0, sure, to 1; null without an order.
    doubt: Option<f64>,
    reasons: Vec<String>,
    /// The line as the sender's system wrote it; null where the list did not come as data.
    sent: Option<Sent>,
}

#[derive(Serialize)]
struct Held {
    mark: String,
    quantity: i64,
}

#[derive(Serialize)]
struct SetAside {
    row: u32,
    sheet: Option<String>,
    text: String,
    why: String,
}

#[derive(Serialize)]
struct Change {
    what: String,
    was: Option<String>,
    is: Option<String>,
    /// The row's words in the new list, or in the old one where it is gone.
    of: String,
    /// Where it stands now, and where it stood; null where it does not.
    at: Option<String>,
    was_at: Option<String>,
}

/// A list, how it was matched, and what changed from the one before.
pub fn list(
    list: &PackingList,
    matched: Option<&[Matched]>,
    ordered: Option<&Ordered>,
    before: Option<(&PackingList, &Changes)>,
) -> List {
    List {
        header: header(&list.header),
        troubles: (ordered.iter())
            .flat_map(|ordered| list::check(&list.header, &ordered.expected()))
            .map(|trouble| trouble.to_string())
            .collect(),
        rows: (list.rows.iter().enumerate())
            .map(|(i, it)| row(it, matched.and_then(|all| all.iter().find(|m| m.row == i))))
            .collect(),
        set_aside: (list.set_aside.iter())
            .map(|aside| SetAside {
                row: aside.at.row,
                sheet: said(&aside.at.sheet),
                text: aside.text.clone(),
                why: aside.why.to_string(),
            })
            .collect(),
        warnings: list.warnings.iter().map(|w| w.what.clone()).collect(),
        changes: before.map(|(before, changes)| {
            let all = changes.all.iter();
            all.map(|it| change(it, before, list)).collect()
        }),
        despatch: list.despatch.as_deref().map(json_despatch::despatch),
    }
}

fn header(header: &list::Header) -> Header {
    let millimetres = |length: Option<measure::Length>| length.map(|l| l.to_metres() * 1e3);
    Header {
        order_name: header.order_name.clone(),
        number: header.number.clone(),
        sender: header.sender.clone(),
        family: header.family.clone(),
        width_mm: millimetres(header.width),
        length_mm: millimetres(header.length),
        bow_spacing_mm: millimetres(header.spacing),
    }
}

fn row(row: &list::Row, found: Option<&Matched>) -> Row {
    Row {
        row: row.at.row,
        sheet: said(&row.at.sheet),
        quantity: row.quantity,
        written: said(&row.written),
        unclear: row.doubt.clone(),
        unit: said(&row.unit),
        to_follow: row.backordered,
        code: said(&row.code),
        description: row.says(),
        sub_kit: said(&row.sub_kit),
        shipment: said(&row.shipment),
        mark: found
            .and_then(|m| m.mark.as_ref())
            .map(|mark| mark.0.clone()),
        holds: (found.iter().flat_map(|m| &m.holds))
            .map(|(mark, quantity)| Held {
                mark: mark.0.clone(),
                quantity: *quantity,
            })
            .collect(),
        doubt: found.map(|m| m.doubt),
        reasons: found
            .map(|m| m.reasons.iter().map(|r| r.words.clone()).collect())
            .unwrap_or_default(),
        sent: row.sent.as_deref().map(json_despatch::sent),
    }
}

fn change(change: &list::Change, before: &PackingList, after: &PackingList) -> Change {
    let told = change.told(before, after);
    let (old, new) = change.rows();
    let old = old.and_then(|row| before.rows.get(row));
    let new = new.and_then(|row| after.rows.get(row));
    Change {
        what: told.what.into(),
        was: said(&told.was),
        is: said(&told.is),
        of: new.or(old).map(list::words_of).unwrap_or_default(),
        at: new.map(|row| row.at.to_string()),
        was_at: old.map(|row| row.at.to_string()),
    }
}

/// A text, or null when there is none.
fn said(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.into())
}
