//! What was received as an ASC X12 861, receiving advice, version 005010.
//!
//! Only the segments and the few codes that are needed stand here; the tables of X12 are licensed. Texts are cut down
//! to the basic characters of X12: capital letters, digits and plain signs.

use std::collections::BTreeSet;

use jiff::civil::DateTime;

use crate::received::{MarkReceived, Received, Unwritten};
use crate::received_text::{one_line, x12 as basic};

/// The most lines that are written; element 354 in CTT takes six digits.
pub const MAX_LINES: usize = 20_000;

/// An identifier longer than this is refused: cut, it would be another one.
const MAX_REFERENCE: usize = 30;
const MAX_PART: usize = 48;
const MAX_DESCRIPTION: usize = 80;
const MAX_PARTY: usize = 60;

const EACH: &str = "EA";

/// Receiving condition codes, data element 412.
const DAMAGED: &str = "01";
const SHORT: &str = "02";
const OVER: &str = "03";
const WRONG: &str = "05";
const HOLD: &str = "09";

/// What is said of the numbers; element 352 takes 80 characters.
const HOW_COUNTED: &str =
    "SHORT IS AS CALLED, AGAINST ORDER; DAMAGED, WRONG, HELD (WET) ARE IN RECEIVED";

/// Whose interchange it is. Both ids are agreed between the two who exchange.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Envelope {
    /// The id of the one who writes: 2 to 15 capital letters and digits.
    pub from: String,
    /// The id of the one who reads, likewise.
    pub to: String,
    /// The number of the interchange, 1 to 999 999 999; each one has its own.
    pub control: u32,
    /// Whether it is only a trial.
    pub trial: bool,
}

/// Writes the interchange, or says why it cannot be written.
pub fn write(received: &Received, envelope: &Envelope) -> Result<String, Unwritten> {
    let (from, to) = (
        id("sender id", &envelope.from)?,
        id("receiver id", &envelope.to)?,
    );
    if !(1..=999_999_999).contains(&envelope.control) {
        return Err(field(
            "control number",
            "must be a number from 1 to 999999999",
        ));
    }
    let body = transaction(received)?;
    let issued = received.header.issued;
    let (day, minute) = (day(issued), minute(issued));
    let control = envelope.control;
    let usage = if envelope.trial { "T" } else { "P" };
    let blank = " ".repeat(10);
    let mut text = String::new();
    segment(
        &mut text,
        &[
            "ISA",
            "00",
            &blank,
            "00",
            &blank,
            "ZZ",
            &format!("{from:<15}"),
            "ZZ",
            &format!("{to:<15}"),
            day.get(2..).unwrap_or_default(),
            &minute,
            "^",
            "00501",
            &format!("{control:09}"),
            "0",
            usage,
            ":",
        ],
    );
    let number = control.to_string();
    segment(
        &mut text,
        &[
            "GS", "RC", &from, &to, &day, &minute, &number, "X", "005010",
        ],
    );
    text.push_str(&body);
    segment(&mut text, &["GE", "1", &number]);
    segment(&mut text, &["IEA", "1", &format!("{control:09}")]);
    Ok(text)
}

/// From ST to SE.
fn transaction(received: &Received) -> Result<String, Unwritten> {
    let strange: Vec<MarkReceived> = received.strange.iter().map(MarkReceived::from).collect();
    let seen = received.marks.iter().filter(|mark| mark.is_seen());
    let marks: Vec<&MarkReceived> = seen.chain(&strange).collect();
    match marks.len() {
        0 => return Err(Unwritten::Nothing),
        is if is > MAX_LINES => {
            return Err(Unwritten::TooMany {
                what: "lines of a receiving advice",
                is,
                most: MAX_LINES,
            });
        }
        _ => {}
    }
    let mut segments = vec![line(&["ST", "861", "0001"])];
    heading(&mut segments, received)?;
    let parts = part_numbers(&marks)?;
    for (number, (mark, part)) in (1..).zip(marks.iter().zip(&parts)) {
        detail(&mut segments, &format!("{number}"), part, mark)?;
    }
    segments.push(line(&["CTT", &marks.len().to_string()]));
    let count = segments.len() + 1;
    segments.push(line(&["SE", &count.to_string(), "0001"]));
    Ok(segments.concat())
}

fn heading(segments: &mut Vec<String>, received: &Received) -> Result<(), Unwritten> {
    let header = &received.header;
    let number = reference("document", &header.document)?;
    if number.is_empty() {
        return Err(field(
            "document",
            "a receiving advice needs a number, such as SG-117-R1",
        ));
    }
    let issued = header.issued;
    // 00: original; 2: advice written after receipt, not at the dock.
    segments.push(line(&[
        "BRA",
        &number,
        &day(issued),
        "00",
        "2",
        &minute(issued),
    ]));
    let order = reference("order number", &header.order_number)?;
    if !order.is_empty() {
        segments.push(line(&["REF", "VN", &order]));
    }
    let here = || header.shipments.iter().filter(|s| s.arrived.is_some());
    let mut bills = Vec::new();
    for shipment in here() {
        bills.push(reference("bill of lading", &shipment.bill)?);
    }
    bills.retain(|bill| !bill.is_empty());
    bills.sort();
    bills.dedup();
    for bill in &bills {
        segments.push(line(&["REF", "BM", bill]));
    }
    segments.push(line(&["REF", "ZZ", "COUNTING", HOW_COUNTED]));
    let mut days: Vec<String> = here()
        .filter_map(|s| Some(s.arrived?.strftime("%Y%m%d").to_string()))
        .collect();
    days.sort();
    days.dedup();
    for day in days.iter().take(10) {
        segments.push(line(&["DTM", "050", day]));
    }
    for (role, name, place) in [
        ("ST", &header.receiver, Some(&header.site)),
        ("SU", &header.sender, None),
    ] {
        let name = basic(name, MAX_PARTY);
        if name.is_empty() {
            continue;
        }
        segments.push(line(&["N1", role, &name]));
        let place = place
            .map(|place| basic(place, MAX_PARTY))
            .unwrap_or_default();
        if !place.is_empty() {
            segments.push(line(&["N2", &place]));
        }
    }
    Ok(())
}

/// The loop of one mark.
fn detail(
    segments: &mut Vec<String>,
    line_id: &str,
    part: &str,
    of: &MarkReceived,
) -> Result<(), Unwritten> {
    let mut rcd = vec!["RCD".to_owned(), line_id.into()];
    match of.received {
        Some(number) => rcd.extend([pieces(number)?, EACH.into()]),
        None => rcd.extend([String::new(), String::new()]),
    }
    // Nothing was sent back yet.
    rcd.extend([String::new(), String::new()]);
    for (number, code) in [
        (of.damaged.saturating_add(of.bent), DAMAGED),
        (of.wrong, WRONG),
        (of.called_short, SHORT),
        (of.called_over, OVER),
        (of.wet, HOLD),
    ] {
        if number > 0 {
            rcd.extend([pieces(number)?, EACH.into(), code.into()]);
        }
    }
    let rcd: Vec<&str> = rcd.iter().map(String::as_str).collect();
    segments.push(line(&rcd));
    if let Some(sent) = of.sent {
        let (sent, ordered) = (pieces(sent)?, pieces(of.ordered)?);
        segments.push(line(&["SN1", line_id, &sent, EACH, "", &ordered, EACH]));
    }
    let code = senders_code(of);
    let mut lin = vec!["LIN", line_id, "BP", part];
    if let Some(code) = &code {
        lin.extend(["VN", code]);
    }
    segments.push(line(&lin));
    let mut texts = vec![of.description.clone(), of.says.clone()];
    if !of.likely.is_empty() {
        texts.push(format!("Likely: {}", of.likely));
    }
    if code.is_none() && !one_line(of.code()).is_empty() {
        texts.push(format!("Sender's code, nearly: {}", of.code()));
    }
    for text in texts {
        let text = basic(&text, MAX_DESCRIPTION);
        if !text.is_empty() {
            segments.push(line(&["PID", "F", "", "", "", &text]));
        }
    }
    Ok(())
}

fn line(elements: &[&str]) -> String {
    let mut text = String::new();
    segment(&mut text, elements);
    text
}

/// Adds a segment; elements at its end that say nothing are left out.
fn segment(text: &mut String, elements: &[&str]) {
    let said = elements
        .iter()
        .rposition(|e| !e.is_empty())
        .map_or(0, |last| last + 1);
    text.push_str(&elements.get(..said).unwrap_or_default().join("*"));
    text.push('~');
}

fn day(at: DateTime) -> String {
    at.strftime("%Y%m%d").to_string()
}

fn minute(at: DateTime) -> String {
    at.strftime("%H%M").to_string()
}

fn id(what: &'static str, text: &str) -> Result<String, Unwritten> {
    let plain = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit();
    match (2..=15).contains(&text.len()) && text.chars().all(plain) {
        true => Ok(text.into()),
        false => Err(field(
            what,
            "must be 2 to 15 capital letters and digits, as agreed with the other side",
        )),
    }
}

/// A number of the header: never cut, and never another one for want of a character.
fn reference(what: &'static str, text: &str) -> Result<String, Unwritten> {
    let written = whole(what, text, MAX_REFERENCE)?;
    match is_same(&written, text) {
        true => Ok(written),
        false => Err(Unwritten::Field {
            field: what,
            why: format!(
                "{} cannot be written in the letters, digits and plain signs of X12; {written} would be another one",
                one_line(text)
            ),
        }),
    }
}

/// The marks as they are written, each its own: two that the basic characters make one are refused.
fn part_numbers(marks: &[&MarkReceived]) -> Result<Vec<String>, Unwritten> {
    let mut taken = BTreeSet::new();
    let mut numbers = Vec::with_capacity(marks.len());
    for of in marks {
        let written = whole("mark", &of.mark, MAX_PART)?;
        let why = match () {
            () if written.is_empty() => "has no character that X12 can write",
            () if !taken.insert(written.clone()) => {
                "cannot be told from another mark in the basic characters of X12"
            }
            () => {
                numbers.push(written);
                continue;
            }
        };
        return Err(Unwritten::Field {
            field: "mark",
            why: format!("{} {why}", one_line(&of.mark)),
        });
    }
    Ok(numbers)
}

/// The sender's code, where it can be written as it is.
fn senders_code(of: &MarkReceived) -> Option<String> {
    let code = of.code();
    let written = basic(code, usize::MAX);
    (!written.is_empty() && written.len() <= MAX_PART && is_same(&written, code)).then_some(written)
}

/// Whether only the case of letters differs.
fn is_same(written: &str, text: &str) -> bool {
    written.eq_ignore_ascii_case(&one_line(text))
}

/// An identifier: never cut.
fn whole(what: &'static str, text: &str, most: usize) -> Result<String, Unwritten> {
    let all = basic(text, usize::MAX);
    match all.len() > most {
        true => Err(Unwritten::Field {
            field: what,
            why: format!("{all} is longer than the {most} characters that X12 takes"),
        }),
        false => Ok(all),
    }
}

/// A quantity; elements 380 and 663 take nine digits and more, no kit does.
fn pieces(number: i64) -> Result<String, Unwritten> {
    match (0..=999_999_999).contains(&number) {
        true => Ok(number.to_string()),
        false => Err(Unwritten::Field {
            field: "quantity",
            why: format!("{number} pieces are no number that X12 takes: at most 999999999"),
        }),
    }
}

fn field(field: &'static str, why: &str) -> Unwritten {
    let why = why.into();
    Unwritten::Field { field, why }
}
