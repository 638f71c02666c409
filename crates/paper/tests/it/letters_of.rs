//! Letters taken from how a job stands: the demo's order with what each test needs.
//!
//! What must come out is worked out by hand from the events, and read back out of the PDF or the plain data.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use claim::{Date, Facts, RuleSets, Start, Zone};
use paper::{
    LetterFacts, carrier_claim, claim_of, claimed_of, concealed_of, cost_field, damage_notice,
    harmed_field, hidden_field, lost_field, notice_of, osd, osd_of, replacement_of,
    replacement_order, return_list, returns_of, sender_notice,
};
use tally::{
    About, Answer, Answered, Condition, Currency, Delivery, Digest, Draft, Event, Freight, How,
    Known, Money, Outcome, Point, Priced, Shot, Standing, What, Written,
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
    /// When what follows is said, in milliseconds; from noon of the day of delivery on, if not said.
    at: Option<i64>,
}

/// 2026-03-06 12:00 UTC, a minute before the first event: `date -u -d '2026-03-06 12:00' +%s`.
const NOON: i64 = 1_772_798_400_000;
const DAY: i64 = 86_400_000;

static ZONE: LazyLock<Zone> = LazyLock::new(Zone::utc);
static US: LazyLock<BTreeSet<String>> =
    LazyLock::new(|| ["us-motor", "ucc"].map(String::from).into());

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
            at: self.at.unwrap_or(NOON) + 60_000 * seq as i64,
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

    fn writes(&mut self, field: &str, shipment: Option<&str>, words: &str) {
        self.says(What::Written(Written {
            field: field.into(),
            shipment: shipment.map(String::from),
            words: words.into(),
        }));
    }

    fn photo(&mut self, shot: Shot, mark: Option<&str>) {
        self.says(What::Photographed {
            photo: Digest::of(format!("{shot:?} {mark:?}").as_bytes()),
            shot,
            shipment: mark.is_none().then(|| LOAD.into()),
            mark: mark.map(String::from),
            of: None,
            words: String::new(),
        });
    }

    /// Who writes, and from where.
    fn introduces(&mut self) {
        self.writes("from-name", None, "Osprey Island School");
        self.writes("from-address", None, "1 Ferry Road");
        self.writes("from-contact", None, "Ines");
    }

    fn freight(&mut self, units: i64, counted: i64) {
        self.says(What::FreightSaid(Freight {
            shipment: LOAD.into(),
            rules: "us-motor".into(),
            carrier: "The island ferry".into(),
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

fn facts<'a>(dates: &'a [claim::Due<'a>]) -> LetterFacts<'a> {
    LetterFacts {
        date: "2026-03-09".into(),
        log_head: String::new(),
        sets: &US,
        dates,
        zone: &ZONE,
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

/// Delivered Fri 2026-03-06: the fifth business day is Fri 2026-03-13, reckoned by hand.
#[test]
fn harm_that_was_found_goes_to_the_carrier_with_its_day() {
    let mut job = Job::arrived();
    job.introduces();
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
    assert_eq!(notice.letter.to.name, "The island ferry");
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
    assert_eq!(standing.explanation().unwrap().short("B1"), 4);
    let claim = claim_of(&standing, LOAD, &facts(&[])).unwrap();
    // What was in the unit that did not come nobody has said: it is asked, and not yet claimed.
    assert!(claim.lines.is_empty(), "{:?}", claim.lines);
    let asked = claim.letter.missing.iter().find(|m| m.what.contains("B1"));
    assert!(
        asked.is_some_and(|asked| asked.must),
        "{:?}",
        claim.letter.missing
    );
    job.writes(&lost_field("B1"), Some(LOAD), "3");
    let claim = claim_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    let lines: Vec<(&str, i64)> = (claim.lines.iter())
        .map(|line| (line.mark.as_str(), line.quantity))
        .collect();
    assert_eq!(lines, [("B1", 3)]);
    assert!(
        claim.letter.missing.is_empty(),
        "{:?}",
        claim.letter.missing
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
    let paper = osd_of(&job.standing(), &facts(&[]), NOON).unwrap();
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

/// The island's two loads: both came, on the 6th and the 9th.
fn two_loads() -> Job {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.says(What::Delivered(Delivery {
        shipment: "Load 2".into(),
        on: "2026-03-09".into(),
        time: Some("09:00".into()),
        units: Some(1),
        outcome: Outcome::SignedClear,
        receipt_note: String::new(),
        driver_signed: Some(true),
        seals: String::new(),
    }));
    job
}

/// NMFC item 300135 (seen) is about harm that could not be seen at delivery; what a person must say is common practice.
#[test]
fn only_harm_that_was_hidden_is_called_hidden() {
    let mut job = Job::arrived();
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 1, Condition::Wet, "");
    let dates = [];
    assert!(
        concealed_of(&job.standing(), LOAD, &facts(&dates)).is_none(),
        "not handed over"
    );
    // Seen the day before, and named on the receipt: no hidden harm. Of the last nobody can say.
    job.at = Some(NOON - DAY);
    job.finds("R1", 1, Condition::Bent, "seen on the quay");
    job.at = None;
    job.says(What::Delivered(Delivery {
        shipment: LOAD.into(),
        on: "2026-03-06".into(),
        time: Some("09:15".into()),
        units: None,
        outcome: Outcome::Noted,
        receipt_note: "B1: kinked; one tube split, damaged".into(),
        driver_signed: None,
        seals: String::new(),
    }));
    job.finds("B1", 1, Condition::Bent, "");
    job.finds("S1", 2, Condition::Damaged, "");
    let hidden = |job: &Job| -> Vec<(String, i64)> {
        let notice = concealed_of(&job.standing(), LOAD, &facts(&[])).unwrap();
        let harm = notice.harm.into_iter();
        harm.map(|harm| (harm.mark, harm.quantity)).collect()
    };
    assert_eq!(hidden(&job), [("P1".to_owned(), 1)]);
    let notice = concealed_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    assert_eq!(
        notice.letter.missing.len(),
        1,
        "{:?}",
        notice.letter.missing
    );
    assert!(notice.letter.missing[0].what.contains("S1 (2 damaged)"));
    assert!(notice.letter.missing[0].must);
    job.writes(&hidden_field("S1"), Some(LOAD), "yes");
    assert_eq!(hidden(&job), [("P1".to_owned(), 1), ("S1".to_owned(), 2)]);
    job.writes(&hidden_field("S1"), Some(LOAD), "no");
    assert_eq!(hidden(&job), [("P1".to_owned(), 1)]);
    let notice = concealed_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    assert!(notice.letter.missing.is_empty());
    // Found after the hand-over, never before it.
    assert!(
        notice.found_on.starts_with("6 Mar 2026, 12:"),
        "{}",
        notice.found_on
    );
}

/// P1 is listed with the first load alone. A list without shipments leaves open which load a piece came with.
#[test]
fn no_money_is_demanded_of_two_carriers() {
    let mut job = two_loads();
    let listed: Vec<String> = (job
        .standing()
        .difference
        .unwrap()
        .mark("P1")
        .unwrap()
        .rows
        .iter())
    .filter_map(|row| row.shipment.clone())
    .collect();
    assert_eq!(listed, [LOAD]);
    job.counts("P1", job.needs("P1"));
    job.at = Some(NOON + 4 * DAY);
    job.finds("P1", 3, Condition::Bent, "");
    job.says(What::Priced(Priced {
        mark: None,
        words: "Freight for the replacement".into(),
        each: Some(sample_letters::usd(2_000)),
    }));
    let of = |job: &Job, shipment: &str| {
        let standing = job.standing();
        let claimed = claimed_of(&standing, shipment, &ZONE);
        let pieces: i64 = claimed.lines.iter().map(|line| line.quantity).sum();
        (pieces, claimed.costs.len(), claimed.open.len())
    };
    // Each has the cost standing open.
    assert_eq!(of(&job, LOAD), (3, 0, 1));
    assert_eq!(of(&job, "Load 2"), (0, 0, 1));
    job.writes(&cost_field("Freight for the replacement"), None, "Load 2");
    assert_eq!(of(&job, LOAD), (3, 0, 0));
    assert_eq!(of(&job, "Load 2"), (0, 1, 0));
    // The same without a word of shipments in the list.
    let list: String = (std::str::from_utf8(LIST).unwrap())
        .replace("Load 1", "")
        .replace("Load 2", "");
    let digest = Digest::of(list.as_bytes());
    job.documents.insert(digest, list.into_bytes());
    job.says(What::ListDropped {
        digest: Digest::of(LIST),
    });
    job.says(What::ListAdded {
        digest,
        name: "no-shipments.csv".into(),
        shipment: None,
    });
    assert_eq!(of(&job, LOAD), (0, 0, 1));
    assert_eq!(of(&job, "Load 2"), (0, 1, 1));
    let claim = claim_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    let pdf = Pdf::new(&carrier_claim(&claim, &sample::print()).unwrap());
    contains(
        &pdf,
        "how many of the 3 harmed pieces of P1 came with Load 1",
    );
    contains(&pdf, "Not complete");
    job.writes(&harmed_field("P1"), Some(LOAD), "1");
    job.writes(&harmed_field("P1"), Some("Load 2"), "2");
    assert_eq!((of(&job, LOAD).0, of(&job, "Load 2").0), (1, 2));
    // Four of three cannot be.
    job.writes(&harmed_field("P1"), Some("Load 2"), "3");
    assert_eq!(of(&job, LOAD), (0, 0, 1));
}

#[test]
fn what_the_sender_makes_good_is_not_claimed_again() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 3, Condition::Damaged, "");
    for answer in [
        Answer::Credits {
            quantity: 1,
            sum: None,
        },
        Answer::Sends {
            quantity: 1,
            on: None,
            shipment: None,
        },
    ] {
        job.says(What::Answered(Answered {
            point: Point::of(About::Unfit, "P1"),
            answer,
            words: String::new(),
        }));
    }
    let claim = claim_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    assert_eq!(claim.lines[0].quantity, 1);
    assert_eq!(
        claim.letter.remarks,
        ["P1: 2 not claimed here, for the sender sends or credits them."]
    );
}

/// 49 CFR 370.3(b) (seen) and 370.7 (from memory): with all of it there, the claim is complete and nothing is "better".
#[test]
fn a_claim_for_which_all_is_said_is_complete() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 3, Condition::Damaged, "split");
    job.says(What::Priced(Priced {
        mark: Some("P1".into()),
        words: String::new(),
        each: Some(sample_letters::usd(3_450)),
    }));
    let claim = |job: &Job| claim_of(&job.standing(), LOAD, &facts(&[])).unwrap();
    let missing = |job: &Job| claim(job).missing().unwrap().len();
    assert!(missing(&job) > 0);
    job.introduces();
    job.writes("price-source", None, "invoice 4711");
    job.writes("kept", Some(LOAD), "behind the school, as found");
    job.photo(Shot::Near, Some("P1"));
    let before = missing(&job);
    for shot in [
        Shot::BillOfLading,
        Shot::FreightBill,
        Shot::Invoice,
        Shot::Receipt,
        Shot::Inspection,
    ] {
        assert!(missing(&job) > 0);
        job.photo(shot, None);
    }
    assert_eq!((before, missing(&job)), (5, 0));
    let pdf = Pdf::new(&carrier_claim(&claim(&job), &sample::print()).unwrap());
    contains(&pdf, "Nothing that it must contain is missing.");
    contains(&pdf, "Price: invoice 4711");
    contains(&pdf, "behind the school, as found");
    assert!(
        !pdf.letters().contains(&squeeze("to be added")),
        "{}",
        pdf.text()
    );
    assert!(
        !pdf.letters().contains(&squeeze("Better with")),
        "{}",
        pdf.text()
    );
}

#[test]
fn the_other_letters_can_be_complete_too() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    for mark in ["P1", "S1"] {
        job.counts(mark, job.needs(mark));
    }
    job.finds("P1", 1, Condition::Damaged, "split");
    job.finds("S1", 2, Condition::Wrong, "thinner");
    let musts = |missing: Vec<paper::Missing>| missing.iter().filter(|m| m.must).count();
    let all = |job: &Job| {
        let standing = job.standing();
        let facts = facts(&[]);
        [
            musts(concealed_of(&standing, LOAD, &facts).unwrap().missing()),
            musts(notice_of(&standing, &facts).unwrap().missing()),
            musts(replacement_of(&standing, &facts).unwrap().missing()),
            musts(returns_of(&standing, &facts).unwrap().missing()),
        ]
    };
    // Who writes; and by when it is needed.
    assert_eq!(all(&job), [1, 1, 2, 1]);
    job.introduces();
    assert_eq!(all(&job), [0, 0, 1, 0]);
    job.writes("needed-by", None, "2026-05-18");
    job.writes("send-to", None, "the quay");
    job.writes("return-number", None, "R-9");
    assert_eq!(all(&job), [0; 4]);
    let facts = facts(&[]);
    let order = replacement_of(&job.standing(), &facts).unwrap();
    assert_eq!(
        (order.send_to.as_str(), order.needed_by.as_str()),
        ("the quay", "2026-05-18")
    );
    assert_eq!(
        returns_of(&job.standing(), &facts).unwrap().return_number,
        "R-9"
    );
}

/// Two of the ridge tubes are counted as studs: by the count R1 is short and S1 over, and neither is called so.
#[test]
fn what_is_likely_explained_is_not_called_short_nor_signed_for() {
    let mut job = Job::arrived();
    job.introduces();
    let (ridges, studs) = (job.needs("R1"), job.needs("S1"));
    job.counts("R1", ridges - 2);
    job.counts("S1", studs + 2);
    job.counts("P1", job.needs("P1") - 1);
    let standing = job.standing();
    let explanation = standing.explanation().unwrap();
    assert_eq!((explanation.short("R1"), explanation.over("S1")), (0, 0));
    let paper = osd_of(&standing, &facts(&[]), NOON).unwrap();
    let told = |rows: &[paper::OsdRow]| -> Vec<(String, i64)> {
        rows.iter()
            .map(|row| (row.mark.clone(), row.amount))
            .collect()
    };
    let notice = notice_of(&standing, &facts(&[])).unwrap();
    let noticed: Vec<(String, i64)> = notice
        .short
        .iter()
        .map(|r| (r.mark.clone(), r.amount))
        .collect();
    assert_eq!(
        told(&paper.short),
        noticed,
        "both papers of one minute say the same"
    );
    assert!(told(&paper.over).is_empty());
    let explained = told(&paper.explained);
    assert!(explained.contains(&("R1".into(), 2)), "{explained:?}");
    let pdf = Pdf::new(&osd(&paper, &sample::print()).unwrap());
    contains(&pdf, "Differs, and is likely explained");
    let short: i64 = noticed.iter().map(|(_, n)| n).sum();
    contains(&pdf, &format!("no more: {short} short, 0 over"));
}

/// 18:00 UTC is noon in Chicago before the clocks change (IANA: UTC-6 until the second Sunday of March).
#[test]
fn times_are_those_of_the_site_and_seals_and_photos_are_there() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.says(What::Delivered(Delivery {
        shipment: LOAD.into(),
        on: "2026-03-06".into(),
        time: None,
        units: Some(3),
        outcome: Outcome::SignedClear,
        receipt_note: String::new(),
        driver_signed: None,
        seals: "004417, whole".into(),
    }));
    job.counts("P1", job.needs("P1"));
    job.at = Some(NOON + 6 * 3_600_000);
    job.finds("P1", 1, Condition::Bent, "");
    job.photo(Shot::Near, Some("P1"));
    let chicago = Zone::named("America/Chicago").unwrap();
    let facts = LetterFacts {
        zone: &chicago,
        ..facts(&[])
    };
    let paper = osd_of(&job.standing(), &facts, NOON).unwrap();
    assert_eq!(paper.handed_in, "6 Mar 2026, 06:00");
    assert!(paper.damaged[0].seen[0].when.starts_with("6 Mar 2026, 12:"));
    assert_eq!(paper.photos.len(), 1);
    let pdf = Pdf::new(&osd(&paper, &sample::print()).unwrap());
    contains(&pdf, "America/Chicago");
    for there in ["the numbers of the seals", "a photo of P1"] {
        assert!(!pdf.letters().contains(&squeeze(there)), "{there}");
    }
}

/// CMR and CISG hold: neither a rule of the United States nor its sales law is what a letter rests on.
#[test]
fn a_letter_rests_on_the_rules_that_hold() {
    let mut job = Job::arrived();
    job.freight(3, 3);
    job.counts("P1", job.needs("P1"));
    job.finds("P1", 1, Condition::Damaged, "split");
    let sets: BTreeSet<String> = ["cmr", "cisg"].map(String::from).into();
    let facts = LetterFacts {
        sets: &sets,
        ..facts(&[])
    };
    let standing = job.standing();
    let of_carrier = concealed_of(&standing, LOAD, &facts)
        .unwrap()
        .letter
        .sources;
    let of_sender = notice_of(&standing, &facts).unwrap().letter.sources;
    assert!(
        of_carrier.iter().any(|source| source.cite.contains("CMR")),
        "{of_carrier:?}"
    );
    assert!(
        of_sender.iter().any(|source| source.cite.contains("CISG")),
        "{of_sender:?}"
    );
    for source in of_carrier.iter().chain(&of_sender) {
        let of_us = ["CFR", "UCC", "NMFC"]
            .iter()
            .any(|law| source.cite.contains(law));
        assert!(!of_us, "{}", source.cite);
    }
}
