//! What was received as JSON, as docs/schema/received.json promises it; written out by hand, apart from the types of
//! the crate, so that those may change.

use serde::Serialize;

use crate::received::{MarkReceived, Received, RowReceived, Unwritten};

/// Writes the document, or says why it cannot be written.
pub fn write(received: &Received) -> Result<String, Unwritten> {
    let mut text = serde_json::to_string_pretty(&document(received))
        .map_err(|e| Unwritten::Failed(e.to_string()))?;
    text.push('\n');
    Ok(text)
}

#[derive(Serialize)]
struct Document<'a> {
    document: &'a str,
    written: String,
    job: &'a str,
    order: &'a str,
    sender: &'a str,
    received_by: &'a str,
    site: &'a str,
    log_head: &'a str,
    shipments: Vec<Shipment<'a>>,
    marks: Vec<Mark<'a>>,
    not_of_this_order: Vec<Strange<'a>>,
    notes: &'a [String],
}

#[derive(Serialize)]
struct Shipment<'a> {
    name: &'a str,
    arrived: Option<String>,
    carrier: &'a str,
    bill_of_lading: &'a str,
}

#[derive(Serialize)]
struct Mark<'a> {
    mark: &'a str,
    description: &'a str,
    ordered: i64,
    supplied: i64,
    sent: Option<i64>,
    received: Option<i64>,
    good: Option<i64>,
    short: i64,
    short_at_most: i64,
    over: i64,
    called_short: i64,
    called_over: i64,
    rejected: i64,
    damaged: i64,
    bent: i64,
    wrong: i64,
    wet: i64,
    coming: i64,
    says: &'a str,
    likely: &'a str,
    look: &'a str,
    rows: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    list: &'a str,
    place: &'a str,
    code: &'a str,
    words: &'a str,
    sub_kit: &'a str,
    shipment: Option<&'a str>,
    quantity: Option<i64>,
}

#[derive(Serialize)]
struct Strange<'a> {
    mark: &'a str,
    received: i64,
}

fn document(received: &Received) -> Document<'_> {
    let header = &received.header;
    Document {
        document: &header.document,
        written: header.issued.strftime("%Y-%m-%dT%H:%M:%S").to_string(),
        job: &header.job,
        order: &header.order_number,
        sender: &header.sender,
        received_by: &header.receiver,
        site: &header.site,
        log_head: &header.log_head,
        shipments: (header.shipments.iter())
            .map(|shipment| Shipment {
                name: &shipment.name,
                arrived: shipment.arrived.map(|day| day.to_string()),
                carrier: &shipment.carrier,
                bill_of_lading: &shipment.bill,
            })
            .collect(),
        marks: received.marks.iter().map(mark).collect(),
        not_of_this_order: (received.strange.iter())
            .map(|strange| Strange {
                mark: &strange.mark,
                received: strange.received,
            })
            .collect(),
        notes: &received.notes,
    }
}

fn mark(of: &MarkReceived) -> Mark<'_> {
    Mark {
        mark: &of.mark,
        description: &of.description,
        ordered: of.ordered,
        supplied: of.supplied,
        sent: of.sent,
        received: of.received,
        good: of.good,
        short: of.short,
        short_at_most: of.short_at_most,
        over: of.over,
        called_short: of.called_short,
        called_over: of.called_over,
        rejected: of.rejected(),
        damaged: of.damaged,
        bent: of.bent,
        wrong: of.wrong,
        wet: of.wet,
        coming: of.to_come,
        says: &of.says,
        likely: &of.likely,
        look: &of.look,
        rows: of.rows.iter().map(row).collect(),
    }
}

fn row(of: &RowReceived) -> Row<'_> {
    Row {
        list: &of.list,
        place: &of.place,
        code: &of.code,
        words: &of.words,
        sub_kit: &of.sub_kit,
        shipment: of.shipment.as_deref(),
        quantity: of.quantity,
    }
}
