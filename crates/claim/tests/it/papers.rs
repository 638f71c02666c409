//! What a paper must contain: 49 CFR 370.3(b) (S, in a reprint) for the claim; the rest is marked in the tables.

use claim::{
    Asked, Content, Known, KnownLine, Missing, Paper, Sure, Wrong, missing, missing_under,
};

const US: [&str; 2] = claim::WHILE_NOT_SAID;

fn line(mark: &str, wrong: Wrong) -> KnownLine {
    KnownLine {
        mark: mark.into(),
        wrong,
        quantity: 2,
        senders_words: "bow end 1.9".into(),
        harm: "bent".into(),
        photos: 1,
        reading: "1.66 in across".into(),
        priced: true,
    }
}

/// All there is, for every paper.
fn whole() -> Known {
    Known {
        from: "Osprey Island school garden".into(),
        contact: "garden@osprey.example".into(),
        carrier: "The carrier".into(),
        sender: "The sender".into(),
        day: true,
        bill_of_lading: "4417".into(),
        freight_bill: "F-20".into(),
        order: "O-1".into(),
        delivered: true,
        found: true,
        units_billed: Some(3),
        units_received: Some(3),
        seals: "none".into(),
        receipt_note: Some(String::new()),
        lines: vec![
            line("C2", Wrong::Short),
            line("R1", Wrong::Damaged),
            line("S1", Wrong::OtherPart),
            line("P1", Wrong::Over),
        ],
        holds_liable: true,
        sum_stated: false,
        with_bill_of_lading: true,
        with_freight_bill: true,
        with_proof_of_value: true,
        with_receipt: true,
        with_inspection: true,
        asks_to_inspect: true,
        kept: Some(false),
        wish: "send two".into(),
        send_to: "the dock".into(),
        needed_by: true,
        return_consent: "R-9".into(),
        lies_at: "pile C".into(),
    }
}

fn words(paper: Paper, known: &Known) -> Vec<String> {
    missing(paper, known).into_iter().map(|m| m.words).collect()
}

#[test]
fn nothing_is_missing_from_papers_that_have_it_all() {
    for paper in Paper::ALL {
        assert_eq!(missing(paper, &whole()), [], "{paper:?}");
    }
}

#[test]
fn all_is_missing_from_papers_that_have_nothing() {
    let about_lines = [
        Content::SendersWords,
        Content::Harm,
        Content::Photos,
        Content::Readings,
    ];
    for paper in Paper::ALL {
        let missing = missing(paper, &Known::default());
        let asks = paper.asks(&US);
        let expected = asks.iter().filter(|a| !about_lines.contains(&a.what));
        assert_eq!(missing.len(), expected.count(), "{paper:?}");
        assert!(missing.is_sorted_by_key(|m| !m.must), "{paper:?}");
        assert!(
            missing
                .iter()
                .all(|m| !m.words.is_empty() && !m.source.is_empty())
        );
    }
}

#[test]
fn a_claim_asks_for_the_three_of_370_3_b() {
    let three: Vec<Content> = Paper::Claim
        .asks(&US)
        .iter()
        .filter(|a| a.must && a.source == "49 CFR 370.3(b)")
        .inspect(|a| assert_eq!(a.sure, Sure::Seen))
        .map(|a| a.what)
        .collect();
    assert_eq!(three, [Content::Shipment, Content::Liability, Content::Sum]);
    let support: Vec<Content> = Paper::Claim
        .asks(&US)
        .iter()
        .filter(|a| a.source == "49 CFR 370.7")
        .map(|a| a.what)
        .collect();
    assert_eq!(
        support,
        [
            Content::CopyOfBill,
            Content::CopyOfFreightBill,
            Content::ProofOfValue
        ],
        "370.7, M"
    );
}

#[test]
fn a_price_that_was_not_said_is_named() {
    let mut known = whole();
    known.bill_of_lading.clear();
    known.lines[0].priced = false;
    known.lines[3].priced = false; // over: costs the carrier nothing
    assert_eq!(
        words(Paper::Claim, &known),
        [
            "a stated or determinable sum: price of C2 not said",
            // The rule asks that the shipment be identified; the carrier's own number does that too.
            "the bill of lading's number"
        ]
    );
    known.lines[1].priced = false;
    assert_eq!(
        words(Paper::Claim, &known)[0],
        "a stated or determinable sum: price of C2 and R1 not said"
    );
    known.sum_stated = true;
    assert_eq!(words(Paper::Claim, &known), ["the bill of lading's number"]);
    known.sum_stated = false;
    known.lines.clear();
    assert!(words(Paper::Claim, &known).contains(&"a stated or determinable sum".to_owned()));
}

#[test]
fn each_thing_taken_away_is_missed_by_some_paper_in_words() {
    type Away = (fn(&mut Known), Paper, &'static str);
    let table: [Away; 25] = [
        (
            |k| k.seals.clear(),
            Paper::Osd,
            "the numbers of the seals and how they were, or that there were none",
        ),
        (
            |k| k.from.clear(),
            Paper::Osd,
            "who sends it, and how to reach them",
        ),
        (
            |k| k.contact.clear(),
            Paper::Osd,
            "how to reach whoever sends it",
        ),
        (
            |k| k.carrier.clear(),
            Paper::HiddenHarm,
            "the carrier's name",
        ),
        (|k| k.sender.clear(), Paper::ToSender, "the sender's name"),
        (
            |k| k.day = false,
            Paper::Claim,
            "the day on which it was written",
        ),
        (
            |k| k.freight_bill.clear(),
            Paper::Claim,
            "the carrier's own number, on its freight bill",
        ),
        (
            |k| k.order.clear(),
            Paper::Replacement,
            "the order's number",
        ),
        (|k| k.delivered = false, Paper::Osd, "the day of delivery"),
        (
            |k| k.found = false,
            Paper::HiddenHarm,
            "the day on which the harm was found",
        ),
        (
            |k| k.units_received = None,
            Paper::Osd,
            "how many pallets, crates and bundles came off the truck",
        ),
        (
            |k| k.receipt_note = None,
            Paper::Osd,
            "the words on the delivery receipt, or that it was signed with nothing written",
        ),
        (
            |k| k.lines.clear(),
            Paper::Return,
            "what is wrong: which part, how many",
        ),
        (
            |k| k.lines[0].quantity = 0,
            Paper::Replacement,
            "how many of C2",
        ),
        (
            |k| k.lines[0].senders_words.clear(),
            Paper::Replacement,
            "the sender's own words for C2",
        ),
        (
            |k| k.lines[1].harm.clear(),
            Paper::Osd,
            "what happened to R1: bent, broken, crushed",
        ),
        (|k| k.lines[2].photos = 0, Paper::ToSender, "a photo of S1"),
        (
            |k| k.lines[2].reading.clear(),
            Paper::ToSender,
            "what was measured of S1",
        ),
        (
            |k| k.holds_liable = false,
            Paper::Claim,
            "the statement that the carrier is liable",
        ),
        (
            |k| k.with_proof_of_value = false,
            Paper::Claim,
            "the invoice, or another proof of value",
        ),
        (
            |k| k.asks_to_inspect = false,
            Paper::HiddenHarm,
            "the request that the carrier inspect",
        ),
        (
            |k| k.kept = None,
            Paper::HiddenHarm,
            "whether goods and packing were kept as they were found",
        ),
        (
            |k| k.needed_by = false,
            Paper::Replacement,
            "by when it is needed",
        ),
        (
            |k| k.return_consent.clear(),
            Paper::Return,
            "the sender's consent to the return, with its number",
        ),
        (
            |k| k.lies_at.clear(),
            Paper::Return,
            "where the goods lie, to be collected",
        ),
    ];
    for (take, paper, expected) in table {
        let mut known = whole();
        take(&mut known);
        assert_eq!(words(paper, &known), [expected], "{paper:?}");
    }
}

#[test]
fn many_marks_are_counted_not_listed() {
    let mut known = whole();
    known.lines = (1..=40)
        .map(|n| KnownLine {
            priced: false,
            ..line(&format!("M{n}"), Wrong::Short)
        })
        .collect();
    let sum: Vec<Missing> = missing(Paper::Claim, &known);
    assert_eq!(
        sum[0].words,
        "a stated or determinable sum: price of M1, M2, M3, M4, M5, M6 and 34 more not said"
    );
}

/// 370.3(b) (S, in a reprint) asks for what identifies the shipment, whichever number that is.
#[test]
fn either_number_identifies_the_shipment() {
    let mut known = whole();
    let musts = |known: &Known| -> Vec<Content> {
        let missing = missing(Paper::Claim, known).into_iter();
        missing.filter(|m| m.must).map(|m| m.what).collect()
    };
    known.bill_of_lading.clear();
    assert_eq!(musts(&known), []);
    known.freight_bill = " ".into();
    assert_eq!(musts(&known), [Content::Shipment]);
}

/// A rule of the United States is no reason for anything where its set does not hold.
#[test]
fn nothing_is_cited_that_does_not_hold() {
    let us = ["CFR", "NMFC", "UCC"];
    for paper in Paper::ALL {
        for (sets, never) in [
            (["cmr", "cisg"], &us[..]),
            (["us-motor", "cisg"], &us[2..]),
            (["cmr", "ucc"], &us[..2]),
            (US, &["CISG"]),
        ] {
            for asked in paper.asks(&sets) {
                let cited = never.iter().find(|name| asked.source.contains(**name));
                assert_eq!(cited, None, "{paper:?} {asked:?} under {sets:?}");
                let common = asked.source == "common practice, no source";
                assert!(!common || asked.sure == Sure::Memory, "{asked:?}");
            }
        }
        assert!(missing_under(paper, &whole(), &["cmr", "cisg"]).is_empty());
    }
    let sellers = |sets: &[&str]| {
        let asked = Paper::ToSender.asks(sets).into_iter();
        let lines = asked.filter(|asked| asked.what == Content::Lines);
        lines.map(|asked| asked.source).collect::<Vec<_>>()
    };
    assert_eq!(sellers(&["cmr", "cisg"]), ["CISG 39(1)"]);
    assert_eq!(sellers(&US), ["UCC 2-607(3)(a)"]);
}

/// Of hidden harm, NMFC 300135 (S, a reprint) has: told to the carrier on discovery, with a request to inspect, and kept as
/// found. Nothing else is its word.
#[test]
fn the_item_is_cited_for_what_it_says() {
    let cited = |asked: &Asked| asked.source == "NMFC item 300135";
    let of: Vec<Content> = (Paper::HiddenHarm.asks(&US).iter())
        .filter(|asked| cited(asked))
        .map(|asked| asked.what)
        .collect();
    assert_eq!(
        of,
        [Content::Addressee, Content::AskToInspect, Content::Kept]
    );
}
