//! What stands above the table: which order this is, and whether it is the one at hand.

use std::collections::BTreeMap;

use measure::{Grid, Length, System, Unit};

use crate::grid::Line;
use crate::matching::words::words;
use crate::read::text::cut;

/// What the list says of itself. Absent means unsaid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Header {
    /// Name of the order, the job or the buyer.
    pub order_name: Option<String>,
    /// The sender's number of the order.
    pub number: Option<String>,
    /// The family or model, as written.
    pub family: Option<String>,
    /// Width of the house.
    pub width: Option<Length>,
    /// Length of the house.
    pub length: Option<Length>,
    /// Bow spacing.
    pub spacing: Option<Length>,
    /// Who sent it.
    pub sender: Option<String>,
    /// Date, as written.
    pub date: Option<String>,
    /// Which shipment, as written, such as "1 of 2".
    pub shipment: Option<String>,
    /// All else that was named: what the list calls it, and what it says.
    pub options: BTreeMap<String, String>,
}

/// What the order at hand says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Expected {
    /// Words that name the family; one of them in the header is enough.
    pub family: Vec<String>,
    /// Width of the house.
    pub width: Option<Length>,
    /// Length of the house.
    pub length: Option<Length>,
    /// Bow spacing.
    pub spacing: Option<Length>,
}

/// Why the list may be for another order; one sentence for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HeaderTrouble {
    /// Another size.
    Size(String),
    /// Another family.
    Family(String),
    /// Another bow spacing.
    Spacing(String),
}

impl std::fmt::Display for HeaderTrouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (HeaderTrouble::Size(words)
        | HeaderTrouble::Family(words)
        | HeaderTrouble::Spacing(words)) = self;
        f.write_str(words)
    }
}

/// Most entries that are kept of a header; what is beyond is still among the lines set aside.
const MOST_OPTIONS: usize = 64;

/// Returns what is at odds between a list's header and the order. What the header does not say is no trouble.
pub fn check(header: &Header, expected: &Expected) -> Vec<HeaderTrouble> {
    let mut troubles = Vec::new();
    let differs = |said: Option<Length>, wanted: Option<Length>| {
        said.zip(wanted).is_some_and(|(s, w)| !same_size(s, w))
    };
    if differs(header.width, expected.width) || differs(header.length, expected.length) {
        let said = size_words(header.width, header.length);
        let wanted = size_words(expected.width, expected.length);
        troubles.push(HeaderTrouble::Size(format!(
            "the list says {said}, the order says {wanted}"
        )));
    }
    if let Some(family) = &header.family {
        let said: Vec<String> = words(family).into_iter().map(|word| word.text).collect();
        let wanted: Vec<String> = expected
            .family
            .iter()
            .flat_map(|name| words(name))
            .map(|word| word.text)
            .collect();
        let shapes = [
            "gothic",
            "quonset",
            "round",
            "hoop",
            "cathedral",
            "peaked",
            "gable",
            "caterpillar",
            "arched",
        ];
        let other_shape = said
            .iter()
            .find(|word| shapes.contains(&word.as_str()) && !wanted.contains(word));
        let agrees = said.iter().any(|word| wanted.contains(word)) || said.is_empty();
        if !wanted.is_empty() && !agrees && other_shape.is_some() {
            let wanted = expected.family.first().map_or("", String::as_str);
            troubles.push(HeaderTrouble::Family(format!(
                "the list says {family}, the order says {wanted}"
            )));
        }
    }
    if differs(header.spacing, expected.spacing) {
        let words = |length: Option<Length>| length.map_or_else(String::new, feet);
        let (said, wanted) = (words(header.spacing), words(expected.spacing));
        troubles.push(HeaderTrouble::Spacing(format!(
            "the list says bows every {said}, the order says {wanted}"
        )));
    }
    troubles
}

/// Sizes are names more than measures: within an inch they are the same.
fn same_size(a: Length, b: Length) -> bool {
    a.as_nanometres().abs_diff(b.as_nanometres())
        <= Length::inches(1).as_nanometres().unsigned_abs()
}

fn size_words(width: Option<Length>, length: Option<Length>) -> String {
    let plain = |length: Length| feet(length).trim_end_matches(" ft").to_owned();
    match (width, length) {
        (Some(width), Some(length)) => format!("{} × {}", plain(width), feet(length)),
        (Some(width), None) => format!("{} wide", feet(width)),
        (None, Some(length)) => format!("{} long", feet(length)),
        (None, None) => "nothing".to_owned(),
    }
}

fn feet(length: Length) -> String {
    length.write(System::FeetInch, Grid::SIXTEENTH)
}

/// What a header entry is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Order,
    Number,
    Family,
    Width,
    Length,
    Size,
    Spacing,
    Sender,
    Date,
    Shipment,
    Other,
}

/// Reads the lines above the table.
pub fn read(lines: &[Line]) -> Header {
    let mut header = Header::default();
    for line in lines {
        for (key, value) in entries(line) {
            take(&mut header, &key, value);
        }
        free_text(&mut header, &line.text());
    }
    header
}

/// Whether a line is an entry such as "Width: 24 ft", which a table's columns could swallow.
pub fn is_entry(line: &Line) -> bool {
    line.filled().count() <= 4
        && entries(line)
            .iter()
            .any(|(key, _)| key_of(key) != Key::Other)
}

/// "key: value" within a cell, or a key and its value in adjacent cells.
fn entries(line: &Line) -> Vec<(String, &str)> {
    let cells: Vec<&str> = line.filled().map(|(_, text)| text).collect();
    let mut found = Vec::new();
    let mut index = 0;
    while index < cells.len() {
        let cell = cells[index];
        let colon = cell
            .split_once(':')
            .filter(|(key, _)| key.len() <= 40 && key.chars().any(char::is_alphabetic));
        match (colon, cells.get(index + 1)) {
            (Some((key, value)), _) if !value.trim().is_empty() => {
                found.push((key.trim().to_owned(), value.trim()))
            }
            (Some((key, _)), Some(next)) if !next.contains(':') => {
                found.push((key.trim().to_owned(), next));
                index += 1;
            }
            (None, Some(next)) if key_of(cell) != Key::Other && !next.contains(':') => {
                found.push((cell.to_owned(), next));
                index += 1;
            }
            _ => {}
        }
        index += 1;
    }
    found
}

fn key_of(key: &str) -> Key {
    let lower = key
        .trim()
        .trim_end_matches([':', '.', '#'])
        .trim()
        .to_lowercase();
    match lower.as_str() {
        "order" | "order name" | "job" | "job name" | "project" | "customer" | "sold to"
        | "for" | "consignee" => Key::Order,
        "order no" | "order number" | "order #" | "po" | "po no" | "po number" | "p.o"
        | "sales order" | "so" | "so no" | "order id" | "invoice" | "invoice no" | "reference"
        | "ref" | "our ref" | "your ref" | "packing list" | "packing list no" | "packing slip" => {
            Key::Number
        }
        "family" | "model" | "house" | "building" | "style" | "type" | "kit" | "structure"
        | "product" | "tunnel" => Key::Family,
        "width" | "house width" | "w" | "building width" => Key::Width,
        "length" | "house length" | "l" | "building length" => Key::Length,
        "size" | "dimensions" | "house size" | "building size" | "dims" => Key::Size,
        "bow spacing" | "spacing" | "rafter spacing" | "hoop spacing" | "frame spacing"
        | "bows at" | "o.c" | "bay" | "bay spacing" => Key::Spacing,
        "from" | "sender" | "shipper" | "ship from" | "sold by" | "supplier" | "shipped by" => {
            Key::Sender
        }
        "date" | "ship date" | "shipped" | "date shipped" | "order date" => Key::Date,
        "shipment" | "load" | "delivery" | "truck" | "shipment no" => Key::Shipment,
        _ => Key::Other,
    }
}

fn take(header: &mut Header, key: &str, value: &str) {
    let text = || Some(cut(value, 256).to_owned());
    let length = || Length::read(value, Some(Unit::Foot)).ok();
    match key_of(key) {
        Key::Order if !value.contains(char::is_alphabetic) => {
            header.number = header.number.take().or_else(text)
        }
        Key::Order => header.order_name = header.order_name.take().or_else(text),
        // "Packing list | North garden" is a title, not a number.
        Key::Number if !value.contains(|c: char| c.is_ascii_digit()) => {}
        Key::Number => header.number = header.number.take().or_else(text),
        Key::Family => header.family = header.family.take().or_else(text),
        Key::Width => header.width = header.width.or_else(length),
        Key::Length => header.length = header.length.or_else(length),
        Key::Spacing => {
            header.spacing = header
                .spacing
                .or_else(|| Length::read_start(value, Some(Unit::Foot)).map(|(l, _)| l))
        }
        Key::Sender => header.sender = header.sender.take().or_else(text),
        Key::Date => header.date = header.date.take().or_else(text),
        Key::Shipment => header.shipment = header.shipment.take().or_else(text),
        Key::Size => {}
        Key::Other => {
            if header.options.len() < MOST_OPTIONS {
                header
                    .options
                    .entry(cut(key, 64).to_owned())
                    .or_insert_with(|| cut(value, 256).to_owned());
            }
        }
    }
}

/// Sizes and spacings in running text: "24 x 48 gothic", "bows 4 ft o.c.". A named entry wins over these.
fn free_text(header: &mut Header, text: &str) {
    let text = cut(text, 2_000);
    let lower = text.to_lowercase();
    if (header.width.is_none() || header.length.is_none())
        && let Some((width, length)) = size_in(text)
    {
        header.width = header.width.or(Some(width));
        header.length = header.length.or(Some(length));
    }
    if header.family.is_none()
        && ["gothic", "quonset", "hoop", "tunnel", "greenhouse"]
            .iter()
            .any(|shape| lower.contains(shape))
    {
        header.family = Some(cut(text, 256).to_owned());
    }
    header.number = header.number.take().or_else(|| order_number(text, &lower));
    let load = ["load ", "shipment ", "delivery ", "truck ", "ferry "]
        .iter()
        .any(|word| lower.starts_with(word));
    if load && lower.contains(|c: char| c.is_ascii_digit()) && header.shipment.is_none() {
        header.shipment = Some(cut(text, 256).to_owned());
    }
    if header.spacing.is_none() {
        header.spacing = [
            "spacing",
            "o.c.",
            "oc",
            "on center",
            "on centre",
            "centers",
            "centres",
            "bows at",
            "bows @",
            "bows every",
        ]
        .iter()
        .find_map(|mark| spacing_near(text, &lower, mark));
    }
}

/// "order 40117", "order no. A-17" in running text.
fn order_number(text: &str, lower: &str) -> Option<String> {
    let at = lower.find("order ").filter(|_| lower.len() == text.len())? + "order ".len();
    let mut rest = text.get(at..)?.trim_start();
    for word in ["number", "no.", "no", "#", ":"] {
        rest = rest.strip_prefix(word).map_or(rest, str::trim_start);
    }
    let end = rest
        .find(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '|'))
        .unwrap_or(rest.len());
    let number = &rest[..end];
    let is_number = number.len() >= 3 && number.chars().filter(|c| c.is_ascii_digit()).count() >= 2;
    (is_number && Length::read(number, None).is_err()).then(|| cut(number, 64).to_owned())
}

/// The first "a x b" that can be the size of a house: both from 6 to 1000 ft. Bare numbers are feet.
fn size_in(text: &str) -> Option<(Length, Length)> {
    let house = |length: &Length| (Length::feet(6)..=Length::feet(1_000)).contains(length);
    for (at, _) in text.char_indices().filter(|(_, c)| c.is_ascii_digit()) {
        if text[..at].ends_with(|c: char| c.is_alphanumeric() || matches!(c, '.' | '/' | '-' | ','))
        {
            continue;
        }
        let Some((first, len)) = Length::read_start(&text[at..], Some(Unit::Foot)) else {
            continue;
        };
        let after = text[at + len..].trim_start();
        let wide = ["wide", "W", "w"]
            .iter()
            .find_map(|word| after.strip_prefix(word))
            .map_or(after, str::trim_start);
        let Some(second) = wide
            .strip_prefix(['x', 'X', '×'])
            .or_else(|| wide.strip_prefix("by "))
        else {
            continue;
        };
        let Some((second, second_len)) =
            Length::read_start(second, Some(Unit::Foot)).map(|(l, n)| (l, &second[n..]))
        else {
            continue;
        };
        // "24 x 72 m": a bare width takes the unit of the length.
        let metric = |t: &str| t.trim_end().ends_with('m');
        let second_text = &text[..text.len() - second_len.len()];
        let first = if metric(second_text)
            && !metric(&text[at..at + len])
            && text[at..at + len].bytes().all(|b| b.is_ascii_digit())
        {
            Length::read(&format!("{} m", &text[at..at + len]), None).ok()?
        } else {
            first
        };
        if house(&first) && house(&second) {
            return Some((first, second));
        }
    }
    None
}

/// A length just before or just after a word of spacing.
fn spacing_near(text: &str, lower: &str, mark: &str) -> Option<Length> {
    // Lower case may change lengths of some letters; such a text has no spacing to offer.
    let at = lower.find(mark).filter(|_| lower.len() == text.len())?;
    let sane = |length: &Length| (Length::feet(2)..=Length::feet(12)).contains(length);
    if !text.is_char_boundary(at) || !text.is_char_boundary(at + mark.len()) {
        return None;
    }
    let after = text[at + mark.len()..].trim_start_matches([' ', ':', '=']);
    if let Some((length, _)) =
        Length::read_start(after, Some(Unit::Foot)).filter(|(length, _)| sane(length))
    {
        return Some(length);
    }
    let before = text[..at].trim_end();
    let number = before
        .char_indices()
        .rev()
        .take(16)
        .filter(|(_, c)| c.is_ascii_digit());
    number
        .filter_map(|(from, _)| {
            let whole =
                Length::read(before[from..].trim_end_matches(" bow"), Some(Unit::Foot)).ok()?;
            sane(&whole).then_some(whole)
        })
        .last()
}
