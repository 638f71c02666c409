//! What was received as a ReceiptAdvice of OASIS UBL 2.1.
//!
//! The order of the elements is the schema's. UBL leaves codes open: ours are those of X12 data element 412, and each
//! code says so. One line holds one reject reason, so a mark with two kinds of damage has two lines that name the same
//! rows of the packing list.

use std::io::{Error, Write};

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};

use crate::received::{MarkReceived, Received, RowReceived, Unwritten};
use crate::received_text::{one_line, or};

/// The most lines that are written; far above any kit.
pub const MAX_LINES: usize = 20_000;

const RECEIPT_ADVICE: &str = "urn:oasis:names:specification:ubl:schema:xsd:ReceiptAdvice-2";
const AGGREGATE: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2";
const BASIC: &str = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2";

/// Each of UN/ECE Recommendation 20.
const UNIT: [(&str, &str); 2] = [("unitCode", "EA"), ("unitCodeListID", "UNECERec20")];

/// Whose codes these are.
const CODES: [(&str, &str); 3] = [
    ("listID", "412"),
    ("listAgencyName", "ASC X12"),
    ("listName", "Receiving Condition Code"),
];
const SHORT: &str = "02";
const OVER: &str = "03";

/// Why pieces are rejected: the code and our word for it.
struct Reason {
    code: &'static str,
    word: &'static str,
}

const DAMAGED: Reason = Reason {
    code: "01",
    word: "damaged",
};
const BENT: Reason = Reason {
    code: "01",
    word: "bent",
};
const WRONG: Reason = Reason {
    code: "05",
    word: "not the part it is labelled as",
};

/// One receipt line.
struct Line<'a> {
    of: &'a MarkReceived,
    /// Whether it carries what was received, short and over; only the first line of a mark does.
    first: bool,
    reject: Option<(i64, &'static Reason)>,
}

/// Writes the document, or says why it cannot be written.
pub fn write(received: &Received) -> Result<String, Unwritten> {
    let strange: Vec<MarkReceived> = received.strange.iter().map(MarkReceived::from).collect();
    let lines: Vec<Line> = (received.marks.iter())
        .filter(|mark| mark.is_seen())
        .chain(&strange)
        .flat_map(lines)
        .collect();
    match lines.len() {
        0 => return Err(Unwritten::Nothing),
        is if is > MAX_LINES => {
            return Err(Unwritten::TooMany {
                what: "receipt lines",
                is,
                most: MAX_LINES,
            });
        }
        _ => {}
    }
    if one_line(&received.header.document).is_empty() {
        return Err(Unwritten::Field {
            field: "document",
            why: "a receipt advice needs a number, such as SG-117-R1".into(),
        });
    }
    let mut writer = Writer::new_with_indent(Vec::new(), b' ', 1);
    document(&mut writer, received, &lines).map_err(|e| Unwritten::Failed(e.to_string()))?;
    let mut bytes = writer.into_inner();
    bytes.push(b'\n');
    String::from_utf8(bytes).map_err(|e| Unwritten::Failed(e.to_string()))
}

fn lines(of: &MarkReceived) -> impl Iterator<Item = Line<'_>> {
    let rejected = [(of.damaged, &DAMAGED), (of.bent, &BENT), (of.wrong, &WRONG)];
    let mut rejected = rejected.into_iter().filter(|(pieces, _)| *pieces > 0);
    let first = Line {
        of,
        first: true,
        reject: rejected.next(),
    };
    let further = rejected.map(move |reject| Line {
        of,
        first: false,
        reject: Some(reject),
    });
    std::iter::once(first).chain(further)
}

type Done = Result<(), Error>;

fn document(w: &mut Writer<Vec<u8>>, received: &Received, lines: &[Line]) -> Done {
    w.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    let root = w.create_element("ReceiptAdvice").with_attributes([
        ("xmlns", RECEIPT_ADVICE),
        ("xmlns:cac", AGGREGATE),
        ("xmlns:cbc", BASIC),
    ]);
    root.write_inner_content(|w| {
        header(w, received, lines.len())?;
        let mut first_line = 0;
        for (i, line) in lines.iter().enumerate() {
            let number = i + 1;
            if line.first {
                first_line = number;
            }
            within(w, "cac:ReceiptLine", |w| {
                receipt_line(w, number, first_line, line)
            })?;
        }
        Ok(())
    })?;
    Ok(())
}

fn header(w: &mut Writer<Vec<u8>>, received: &Received, lines: usize) -> Done {
    let header = &received.header;
    text(w, "cbc:UBLVersionID", "2.1")?;
    text(w, "cbc:ID", &header.document)?;
    text(w, "cbc:IssueDate", &header.issued.date().to_string())?;
    let time = header.issued.time();
    let time = format!(
        "{:02}:{:02}:{:02}",
        time.hour(),
        time.minute(),
        time.second()
    );
    text(w, "cbc:IssueTime", &time)?;
    for note in &received.notes {
        text(w, "cbc:Note", note)?;
    }
    text(w, "cbc:Note", CODES_SAID)?;
    text(w, "cbc:LineCountNumeric", &lines.to_string())?;
    if !one_line(&header.order_number).is_empty() {
        within(w, "cac:OrderReference", |w| {
            text(w, "cbc:ID", &header.order_number)?;
            text(w, "cbc:CustomerReference", &header.job)
        })?;
    }
    within(w, "cac:DeliveryCustomerParty", |w| {
        within(w, "cac:Party", |w| {
            party_name(w, &or(&header.receiver, &or(&header.job, "not stated")))?;
            if one_line(&header.site).is_empty() {
                return Ok(());
            }
            within(w, "cac:PhysicalLocation", |w| {
                text(w, "cbc:Description", &header.site)
            })
        })
    })?;
    within(w, "cac:DespatchSupplierParty", |w| {
        within(w, "cac:Party", |w| {
            party_name(w, &or(&header.sender, "not stated"))
        })
    })?;
    shipment(w, received)
}

/// Where the codes come from, for people.
const CODES_SAID: &str = "Reason and discrepancy codes are those of ASC X12 data element 412, receiving condition: \
01 damaged product or container (also for bent), 02 quantity short, 03 quantity over, 05 incorrect product. Short and \
over are here what is called so. A mark with several kinds of damage has several lines; only the first carries what was \
received, short and over.";

fn shipment(w: &mut Writer<Vec<u8>>, received: &Received) -> Done {
    let shipments = &received.header.shipments;
    let arrived = shipments.iter().filter(|s| s.arrived.is_some());
    let names: Vec<&str> = arrived.map(|s| s.name.as_str()).collect();
    let id = one_line(&names.join("; "));
    if id.is_empty() {
        return Ok(());
    }
    within(w, "cac:Shipment", |w| {
        text(w, "cbc:ID", &id)?;
        for shipment in shipments {
            text(w, "cbc:Information", &shipment.in_words())?;
        }
        Ok(())
    })
}

fn party_name(w: &mut Writer<Vec<u8>>, name: &str) -> Done {
    within(w, "cac:PartyName", |w| text(w, "cbc:Name", name))
}

fn receipt_line(w: &mut Writer<Vec<u8>>, number: usize, first_line: usize, line: &Line) -> Done {
    let of = line.of;
    text(w, "cbc:ID", &number.to_string())?;
    match line.first {
        true => notes(w, of)?,
        false => text(
            w,
            "cbc:Note",
            &format!(
                "More of what was rejected on line {first_line}: what was received, short and over stands there."
            ),
        )?,
    }
    if let Some(pieces) = of.received.filter(|_| line.first) {
        quantity(w, "cbc:ReceivedQuantity", pieces)?;
    }
    if line.first && of.called_short > 0 {
        quantity(w, "cbc:ShortQuantity", of.called_short)?;
    }
    if let Some((pieces, reason)) = line.reject {
        quantity(w, "cbc:RejectedQuantity", pieces)?;
        code(w, "cbc:RejectReasonCode", reason.code)?;
        text(w, "cbc:RejectReason", reason.word)?;
    }
    if line.first && of.called_short > 0 {
        code(w, "cbc:QuantityDiscrepancyCode", SHORT)?;
    } else if line.first && of.called_over > 0 {
        code(w, "cbc:QuantityDiscrepancyCode", OVER)?;
    }
    if line.first && of.called_over > 0 {
        quantity(w, "cbc:OversupplyQuantity", of.called_over)?;
    }
    // A mark that was not ordered is no line of the order.
    if of.ordered > 0 {
        within(w, "cac:OrderLineReference", |w| {
            text(w, "cbc:LineID", &or(&of.mark, "not stated"))
        })?;
    }
    for row in &of.rows {
        despatch_line(w, row)?;
    }
    within(w, "cac:Item", |w| item(w, of))
}

/// By the count; then what most likely happened, and the look that would settle it.
fn notes(w: &mut Writer<Vec<u8>>, of: &MarkReceived) -> Done {
    text(w, "cbc:Note", &of.says)?;
    if !one_line(&of.likely).is_empty() {
        text(w, "cbc:Note", &format!("Most likely: {}", of.likely))?;
    }
    if !one_line(&of.look).is_empty() {
        text(w, "cbc:Note", &format!("To settle it: {}", of.look))?;
    }
    Ok(())
}

fn despatch_line(w: &mut Writer<Vec<u8>>, row: &RowReceived) -> Done {
    within(w, "cac:DespatchLineReference", |w| {
        text(w, "cbc:LineID", &or(&row.place, "not stated"))?;
        match one_line(&row.list).is_empty() {
            true => Ok(()),
            false => within(w, "cac:DocumentReference", |w| text(w, "cbc:ID", &row.list)),
        }
    })
}

fn item(w: &mut Writer<Vec<u8>>, of: &MarkReceived) -> Done {
    let mut said: Vec<String> = of.rows.iter().map(|row| one_line(&row.words)).collect();
    said.sort();
    said.dedup();
    for words in said {
        text(w, "cbc:Description", &words)?;
    }
    text(w, "cbc:Name", &or(&of.description, &of.mark))?;
    let mut bags: Vec<String> = of.rows.iter().map(|row| one_line(&row.sub_kit)).collect();
    bags.sort();
    bags.dedup();
    for bag in bags.iter().filter(|bag| !bag.is_empty()) {
        text(w, "cbc:AdditionalInformation", &format!("Sub-kit: {bag}"))?;
    }
    within(w, "cac:BuyersItemIdentification", |w| {
        text(w, "cbc:ID", &or(&of.mark, "not stated"))
    })?;
    match one_line(of.code()).is_empty() {
        true => Ok(()),
        false => within(w, "cac:SellersItemIdentification", |w| {
            text(w, "cbc:ID", of.code())
        }),
    }
}

fn within(
    w: &mut Writer<Vec<u8>>,
    name: &'static str,
    inner: impl FnOnce(&mut Writer<Vec<u8>>) -> Done,
) -> Done {
    w.create_element(name).write_inner_content(inner)?;
    Ok(())
}

/// An element with a text; none when nothing of it can be seen, for UBL forbids empty elements.
fn text(w: &mut Writer<impl Write>, name: &'static str, text: &str) -> Done {
    let line = one_line(text);
    if !line.is_empty() {
        w.create_element(name)
            .write_text_content(BytesText::new(&line))?;
    }
    Ok(())
}

fn code(w: &mut Writer<impl Write>, name: &'static str, code: &str) -> Done {
    w.create_element(name)
        .with_attributes(CODES)
        .write_text_content(BytesText::new(code))?;
    Ok(())
}

fn quantity(w: &mut Writer<impl Write>, name: &'static str, pieces: i64) -> Done {
    w.create_element(name)
        .with_attributes(UNIT)
        .write_text_content(BytesText::new(&pieces.to_string()))?;
    Ok(())
}
