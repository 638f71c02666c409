//! Jobs for the tests: the demo's order, and what is seen as each test needs it; and what was received, made up by hand
//! to be as awkward as it can be.

use std::collections::BTreeMap;

use claim::received::{
    Header, MarkReceived, Received, RowReceived, Said, ShipmentReceived, Strange,
};
use jiff::civil::{DateTime, date};
use tally::{Condition, Digest, Draft, Event, How, Known, Standing, What};

const ORDER: &str = include_str!("../../../../demo/order.toml");
const LIST: &[u8] = include_bytes!("../../../../demo/packing-list.csv");

/// Events and documents, as a job file holds them.
#[derive(Default)]
pub struct Job {
    events: Vec<Event>,
    documents: BTreeMap<Digest, Vec<u8>>,
}

impl Job {
    pub fn ordered() -> Self {
        let mut job = Self::default();
        job.says(What::OrderSet {
            toml: ORDER.into(),
            family: None,
        });
        job
    }

    /// The demo's order and packing list; its first load is here.
    pub fn listed() -> Self {
        let mut job = Self::ordered();
        job.list(LIST, "packing-list.csv");
        job.says(What::ShipmentArrived {
            shipment: "Load 1".into(),
        });
        job
    }

    pub fn list(&mut self, list: &[u8], name: &str) {
        let digest = Digest::of(list);
        self.documents.insert(digest, list.into());
        self.says(What::ListAdded {
            digest,
            name: name.into(),
            shipment: None,
        });
    }

    pub fn says(&mut self, what: What) -> tally::EventId {
        let seq = self.events.len() as u64 + 1;
        let id = format!("00000000-0000-0000-0000-{seq:012}")
            .parse()
            .unwrap();
        let draft = Draft {
            id,
            device: "phone-1".into(),
            at: seq as i64,
            who: "Ines".into(),
            what,
        };
        self.events.push(draft.numbered(seq).unwrap());
        id
    }

    pub fn counts(&mut self, mark: &str, quantity: i64) -> tally::EventId {
        self.says(What::Counted {
            mark: mark.into(),
            pile: None,
            quantity,
            replaces: Vec::new(),
            how: How::Piece,
        })
    }

    pub fn finds(&mut self, mark: &str, quantity: i64, condition: Condition) {
        self.says(What::Conditioned {
            mark: mark.into(),
            quantity,
            condition,
            words: String::new(),
        });
    }

    pub fn received(&self) -> Received {
        let document = |digest: &Digest| self.documents.get(digest).cloned().ok_or("gone".into());
        let standing = Standing::of(&self.events, document, &mut Known::default());
        Received::of(&standing, said(), |_| issued()).unwrap()
    }
}

pub fn issued() -> DateTime {
    date(2026, 3, 6).at(14, 5, 9, 0)
}

pub fn said() -> Said {
    Said {
        document: "SG-117-R1".into(),
        issued: issued(),
        receiver: "Osprey Island School".into(),
        log_head: "ab12".into(),
    }
}

/// The demo as it is laid: two short, two over, one bent, something to come, most not counted.
pub fn demo() -> Job {
    let mut job = Job::listed();
    for (mark, quantity) in [
        ("P1", 26),
        ("B1", 26),
        ("R1", 13),
        ("S1", 10),
        ("C1", 20),
        ("C2", 18),
        ("X1", 13),
        ("X2", 24),
    ] {
        job.counts(mark, quantity);
    }
    job.finds("B1", 1, Condition::Bent);
    job
}

pub fn mark<'a>(received: &'a Received, mark: &str) -> &'a MarkReceived {
    received.marks.iter().find(|m| m.mark == mark).unwrap()
}

/// A worked line of our own, by the public page on segment RCD (S1): 97 of 100 received, of those 2 damaged; 3 short.
pub fn ninety_seven() -> MarkReceived {
    MarkReceived {
        mark: "B9".into(),
        description: "Bow".into(),
        ordered: 100,
        supplied: 100,
        received: Some(97),
        good: Some(95),
        short: 3,
        short_at_most: 3,
        called_short: 3,
        damaged: 2,
        says: "3 short; 2 not fit for use".into(),
        ..MarkReceived::default()
    }
}

/// One mark and nothing else.
pub fn only(marks: Vec<MarkReceived>) -> Received {
    Received {
        header: Header {
            document: "D-1".into(),
            issued: issued(),
            job: "House".into(),
            order_number: String::new(),
            sender: String::new(),
            receiver: String::new(),
            site: String::new(),
            shipments: Vec::new(),
            log_head: String::new(),
        },
        marks,
        strange: Vec::new(),
        notes: vec!["How it was counted.".into()],
    }
}

/// Texts that mean harm, or only trouble, in one format or another.
pub const AWKWARD: [&str; 14] = [
    "=HYPERLINK(\"http://x\",\"a\")",
    "+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1+1",
    "\r=1+1",
    "a;=1+1",
    "\u{202e}=1\u{202c}",
    "＝1+1",
    "~*:^>|\\",
    "<cac:Item>&amp;]]>",
    "\u{0}\u{b}\u{fffe}\u{feff}nul",
    "Bogen 1-5/8″ × 4½ mm – größer, 弓, 🏠",
    "two\r\nlines, \"quoted\"",
];

/// A document in which every text is awkward and every number is there.
pub fn awkward() -> Received {
    let marks = AWKWARD.iter().enumerate().map(|(i, text)| {
        let n = i as i64;
        MarkReceived {
            mark: format!("M{i}"),
            description: (*text).into(),
            ordered: 40,
            supplied: 42,
            sent: (n % 2 == 0).then_some(41),
            received: (n % 3 != 2).then_some(39),
            good: (n % 3 != 2).then_some(30),
            short: 1 + n % 2,
            short_at_most: 2,
            over: 0,
            called_short: 1 + n % 2,
            called_over: 0,
            likely: (*text).into(),
            look: (*text).into(),
            damaged: 3,
            bent: 2,
            wrong: 4,
            wet: 5,
            to_come: 1,
            says: (*text).into(),
            rows: vec![RowReceived {
                list: (*text).into(),
                place: format!("row {i}"),
                code: (*text).into(),
                words: (*text).into(),
                sub_kit: (*text).into(),
                shipment: Some((*text).into()),
                quantity: (n % 2 == 0).then_some(41),
            }],
        }
    });
    let mut received = only(marks.collect());
    let text = || AWKWARD.concat();
    received.header.job = text();
    received.header.sender = text();
    received.header.receiver = text();
    received.header.site = text();
    received.header.shipments = vec![
        ShipmentReceived {
            name: text(),
            arrived: Some(date(2026, 3, 5)),
            carrier: text(),
            bill: "PRO 4471".into(),
        },
        ShipmentReceived {
            name: "Load 2".into(),
            arrived: None,
            carrier: String::new(),
            bill: String::new(),
        },
    ];
    received.strange = vec![Strange {
        mark: "Z9".into(),
        received: 6,
    }];
    received.notes.push(text());
    received
}
