//! Letters taken from how a job stands: the demo's order with what each test needs.
//!
//! What must come out is worked out by hand from the events, and read back out of the PDF or the plain data.

use std::collections::BTreeMap;

use claim::{Date, Facts, RuleSets, Start};
use paper::{
    LetterFacts, Party, carrier_claim, claim_of, concealed_of, damage_notice, notice_of, osd,
    osd_of, replacement_of, replacement_order, return_list, returns_of, sender_notice,
};
use tally::{
    About, Answer, Answered, Condition, Currency, Delivery, Digest, Draft, Event, Freight, How,
    Known, Money, Outcome, Point, Priced, Shot, Standing, What,
};

use crate::pdf::{Pdf, squeeze};
use crate::{sample, sample_letters};

const ORDER: &str = include_str!("../../../../demo/order.toml");
const LIST: &[u8] = include_bytes!("../../../../demo/packing-list.csv");
const LOAD: &str = "Load 1";

#[derive(Default)]
struct Job {
    events: Vec<Event>,
    documents: BTreeMap<Digest, Vec<u8>>,
}

impl Job {
    /// The demo's order and list; the first load is here.
    fn arrived() -> Self {
        let mut job = Self::default();
        job.says(What::OrderSet {
            toml: ORDER.into(),
            family: None,
        });
        let digest = Digest::of(LIST);
        job.documents.insert(digest, LIST.into());
        job.says(What::ListAdded {
            digest,
            name: "packing-list.csv".into(),
            shipment: None,
        });
        job.says(What::ShipmentArrived {
            shipment: LOAD.into(),
        });
        job
    }

    fn says(&mut self, what: What) {
        let seq = self.events.len() as u64 + 1;
        let id = format!("00000000-0000-0000-0000-{seq:012}");
        let draft = Draft {
            id: id.parse().expect("an id"),
            device: "phone-1".into(),
            at: seq as i64,
            who: "Ines".into(),
            what,
        };
        self.events.push(draft.numbered(seq).expect("it can be"));
    }

    fn counts(&mut self, mark: &str, quantity: i64) {
        self.says(What::Counted {
            mark: mark.into(),
            pile: Some("C".into()),
            quantity,
            replaces: Vec::new(),
            how: How::Piece,
        });
    }

    fn finds(&mut self, mark: &str, quantity: i64, condition: Condition, words: &str) {
        self.says(What::Conditioned {
            mark: mark.into(),
            quantity,
            condition,
            words: words.into(),
        });
    }

    fn freight(&mut self, units: i64, counted: i64) {
        self.says(What::FreightSaid(Freight {
            shipment: LOAD.into(),
            rules: "us-motor".into(),
            carrier: "Slough Ferry & Cartage".into(),
            bill: "SF-20417".into(),
            carrier_number: "PRO 88-1203".into(),
            billed_on: Some("2026-03-04".into()),
            units: Some(units),
            units_are: "2 bundles, 1 crate".into(),
        }));
        self.says(What::Delivered(Delivery {
            shipment: LOAD.into(),
            on: "2026-03-06".into(),
            time: Some("09:15".into()),
            units: Some(counted),
            outcome: Outcome::Noted,
            receipt_note: "1 bundle: band broken".into(),
            driver_signed: Some(true),
            seals: String::new(),
        }));
    }

    fn standing(&self) -> Standing {
        let document = |digest: &Digest| self.documents.get(digest).cloned().ok_or("gone".into());
        Standing::of(&self.events, document, &mut Known::default())
    }

    /// How many of a mark the house needs.
    fn needs(&self, mark: &str) -> i64 {
        let difference = self.standing().difference.expect("an order");
        difference.mark(mark).expect("a mark of the order").needed
    }
}

fn local(at: i64) -> String {
    format!("2026-03-06 10:{at:02}")
}

fn facts<'a>(dates: &'a [claim::Due<'a>]) -> LetterFacts<'a> {
    LetterFacts {
        from: Party {
            name: "Osprey Island School".into(),
            address: "1 Ferry Road".into(),
            contact: "Ines".into(),
        },
        to: Party::default(),
        date: "2026-03-09".into(),
        reference: String::new(),
        missing: vec![],
        remarks: vec![],
        log_head: String::new(),
        dates,
        local: &local,
        read: &|_| "1.66 in across".into(),
        picture: &|_| Some(sample_letters::PICTURE.to_vec()),
    }
}

fn contains(pdf: &Pdf, words: &str) {
    assert!(
        pdf.letters().contains(&squeeze(words)),
        "{words}\n{}",
        pdf.text()
    );
}

#[test]
fn without_an_order_there_is_no_letter() {
    let standing = Job::default().standing();
    let facts = facts(&[]);
    assert!(concealed_of(&standing, LOAD, &facts).is_none());
    assert!(claim_of(&standing, LOAD, &facts).is_none());
    assert!(notice_of(&standing, &facts).is_none());
    assert!(replacement_of(&standing, &facts).is_none());
    assert!(returns_of(&standing, &facts).is_none());
}

/// Delivered Fri 2026-03-06: the fifth business day is Fri 2026-03-13 (receiving.md 1.5, a computed check date).
#[test]
fn harm_that_was_found_goes_to_the_carrier_with_its_day() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 2, Condition::Bent, "forklift mark");
    job.finds("P1", 1, Condition::Damaged, "split");
    job.says(What::Photographed {
        photo: Digest::of(b"the picture"),
        shot: Shot::Near,
        shipment: None,
        mark: Some("P1".into()),
        of: None,
        words: "a tape beside it".into(),
    });
    let standing = job.standing();
    let day = |text: &str| text.parse::<Date>().unwrap();
    let mut known = Facts::default();
    known.sets.insert("us-motor".into());
    known.days.insert(Start::Delivery, day("2026-03-06"));
    let dates = claim::due(RuleSets::built_in(), &known, &[], day("2026-03-09"));
    let mut notice = concealed_of(&standing, LOAD, &facts(&dates)).unwrap();
    assert_eq!(notice.harm.len(), 1);
    assert_eq!(
        (notice.harm[0].mark.as_str(), notice.harm[0].quantity),
        ("P1", 3)
    );
    assert_eq!(notice.letter.to.name, "Slough Ferry & Cartage");
    let pdf = Pdf::new(&damage_notice(&notice, &sample::print()).unwrap());
    for words in [
        "SF-20417",
        "PRO 88-1203",
        "2026-03-06 09:15",
        "“1 bundle: band broken”",
        "2 bent: “forklift mark” — Ines",
        "Fri 13 Mar 2026",
        "NMFC item 300135",
        "seen in the text",
        "a tape beside it",
        // SHA-256 of "the picture", from `printf 'the picture' | sha256sum`.
        "SHA-256 begins 01064c082a57b792",
        // Only a person can say where goods are kept; the item asks that they are (S1).
        "whether goods and packing were kept as they were found",
    ] {
        contains(&pdf, words);
    }
    notice.kept = "behind the school".into();
    let pdf = Pdf::new(&damage_notice(&notice, &sample::print()).unwrap());
    assert!(!pdf.letters().contains("whethergoodsandpacking"));
    contains(&pdf, "Nothing that it must contain is missing.");
}

/// Three at 34.50 are 103.50; freight of 20.00 makes 123.50.
#[test]
fn the_claim_takes_prices_from_the_log() {
    let usd = |minor| Money {
        minor,
        currency: Currency::USD,
    };
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 3, Condition::Damaged, "split");
    let short = job.needs("B1") - 4;
    job.counts("B1", short);
    let standing = job.standing();
    let claim = claim_of(&standing, LOAD, &facts(&[])).unwrap();
    let pdf = Pdf::new(&carrier_claim(&claim, &sample::print()).unwrap());
    contains(&pdf, "price of P1 not said");
    contains(&pdf, "No sum is demanded yet.");

    job.says(What::Priced(Priced {
        mark: Some("P1".into()),
        words: String::new(),
        each: Some(usd(3_450)),
    }));
    job.says(What::Priced(Priced {
        mark: None,
        words: "Freight for the replacement".into(),
        each: Some(usd(2_000)),
    }));
    let standing = job.standing();
    let claim = claim_of(&standing, LOAD, &facts(&[])).unwrap();
    // Every unit came: what is short in the count is not the carrier's.
    let marks: Vec<&str> = claim.lines.iter().map(|line| line.mark.as_str()).collect();
    assert_eq!(marks, ["P1"]);
    assert!(claim.letter.remarks[0].contains("nothing says that the carrier had it"));
    let pdf = Pdf::new(&carrier_claim(&claim, &sample::print()).unwrap());
    contains(&pdf, "We demand payment of USD 123.50");
    contains(&pdf, "3 pieces came unfit for use.");
    // No one has said that any document goes along.
    contains(&pdf, "a copy of the paid freight bill");
}

#[test]
fn what_is_short_is_claimed_where_a_unit_did_not_come() {
    let mut job = Job::arrived();
    job.freight(3, 2);
    let needs = job.needs("B1");
    job.counts("B1", needs - 4);
    let standing = job.standing();
    let expected = standing.explanation().unwrap().short("B1");
    let claim = claim_of(&standing, LOAD, &facts(&[])).unwrap();
    let line = claim.lines.iter().find(|line| line.mark == "B1");
    assert_eq!(
        line.map(|line| line.quantity),
        (expected > 0).then_some(expected)
    );
    assert!(
        claim
            .happened
            .starts_with("2 of 3 handling units came off the truck.")
    );
}

#[test]
fn the_notice_calls_short_what_nothing_else_explains_and_no_more() {
    let mut job = Job::arrived();
    for mark in ["P1", "R1", "S1"] {
        job.counts(mark, job.needs(mark));
    }
    let needs = job.needs("B1");
    job.counts("B1", needs - 4);
    job.finds("S1", 2, Condition::Wrong, "these are thinner");
    let standing = job.standing();
    let explanation = standing.explanation().unwrap();
    let notice = notice_of(&standing, &facts(&[])).unwrap();
    for mark in &standing.difference.as_ref().unwrap().marks {
        let told = notice.short.iter().find(|row| row.mark == mark.mark);
        let short = explanation.short(&mark.mark);
        assert_eq!(
            told.map_or(0, |row| row.amount),
            short.max(0),
            "{}",
            mark.mark
        );
        // A shortage of the count is never dropped: it is a row, or a remark with its check.
        if mark.short() > short {
            let remark = |remark: &String| remark.starts_with(&format!("{}: ", mark.mark));
            assert!(notice.letter.remarks.iter().any(remark), "{}", mark.mark);
        }
    }
    let wrong: Vec<(&str, i64)> = (notice.wrong.iter())
        .map(|row| (row.mark.as_str(), row.amount))
        .collect();
    assert_eq!(wrong, [("S1", 2)]);
    let pdf = Pdf::new(&sender_notice(&notice, &sample::print()).unwrap());
    contains(&pdf, "2 wrong part: “these are thinner” — Ines");
    contains(&pdf, "UCC 2-607(3)(a)");
    // No rule of the UCC gives a day; none is printed as one.
    assert!(!pdf.letters().contains("By2026"));
}

/// Two damaged are two to send; the row is named as the list names it.
#[test]
fn the_replacement_is_in_the_lists_own_words() {
    let mut job = Job::arrived();
    let needs = job.needs("P1");
    job.counts("P1", needs);
    job.finds("P1", 2, Condition::Damaged, "");
    let standing = job.standing();
    let row = standing
        .difference
        .as_ref()
        .unwrap()
        .mark("P1")
        .unwrap()
        .rows[0]
        .clone();
    let order = replacement_of(&standing, &facts(&[])).unwrap();
    let ordered: Vec<(&str, i64)> = (order.rows.iter())
        .map(|row| (row.mark.as_str(), row.quantity))
        .collect();
    assert_eq!(ordered, [("P1", 2)]);
    // The words stand in the list's file, as they are.
    let list = std::str::from_utf8(LIST).unwrap();
    // A quotation mark is doubled in CSV (RFC 4180, 2.7).
    let in_file = order.rows[0].description.replace('"', "\"\"");
    assert!(list.contains(&in_file), "{in_file}");
    assert_eq!(order.rows[0].description, row.description);
    let pdf = Pdf::new(&replacement_order(&order, &sample::print()).unwrap());
    contains(&pdf, &row.description);
    contains(&pdf, &row.stands);
    contains(&pdf, "2 not fit for use");

    // What the sender sends is not ordered again.
    job.says(What::Answered(Answered {
        point: Point::of(About::Unfit, "P1"),
        answer: Answer::Sends {
            quantity: 2,
            on: Some("2026-03-12".into()),
            shipment: None,
        },
        words: String::new(),
    }));
    let order = replacement_of(&job.standing(), &facts(&[])).unwrap();
    assert!(order.rows.is_empty(), "{:?}", order.rows);
}

#[test]
fn the_return_list_has_wrong_parts_with_what_the_sender_said() {
    let mut job = Job::arrived();
    job.counts("S1", job.needs("S1"));
    job.finds("S1", 2, Condition::Wrong, "these are thinner");
    job.says(What::Answered(Answered {
        point: Point::of(About::Unfit, "S1"),
        answer: Answer::Return,
        words: "send them with the ferry".into(),
    }));
    let list = returns_of(&job.standing(), &facts(&[])).unwrap();
    let rows: Vec<(&str, i64)> = (list.rows.iter())
        .map(|row| (row.mark.as_str(), row.quantity))
        .collect();
    assert_eq!(rows, [("S1", 2)]);
    let pdf = Pdf::new(&return_list(&list, &sample::print()).unwrap());
    contains(&pdf, "is to go back, “send them with the ferry”");
    contains(&pdf, "Lies: pile C");
}

#[test]
fn the_osd_paper_has_freight_causes_and_what_is_missing() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    let needs = job.needs("B1");
    job.counts("B1", needs - 4);
    let paper = osd_of(&job.standing(), local, 9).unwrap();
    let pdf = Pdf::new(&osd(&paper, &sample::print()).unwrap());
    for words in [
        "SF-20417",
        "3: 2 bundles, 1 crate",
        "“1 bundle: band broken”",
        "Likely cause:",
        "Not complete:",
        "who sends it, and how to reach them",
        // Only one mark was counted.
        "what is not counted is not spoken of here",
    ] {
        contains(&pdf, words);
    }
}
