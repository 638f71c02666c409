//! Invented letters of the same job as in `sample.rs`.

use paper::{
    Carriage, CarrierClaim, ClaimCost, ClaimLine, DamageNotice, Document, DocumentKind, Due, Harm,
    Letter, NoticeRow, Party, Photo, ReplacementOrder, ReplacementRow, ReturnList, ReturnRow,
    SenderNotice, SenderWords, Sighting, Source,
};
use tally::{Currency, Money};

/// A picture that the `photo` crate is tested with.
pub const PICTURE: &[u8] = include_bytes!("../../../photo/tests/fixtures/rings-coins-scanned.jpg");

pub fn photo(mark: &str, shows: &str) -> Photo {
    Photo {
        bytes: PICTURE.to_vec(),
        mark: mark.into(),
        shows: shows.into(),
        who: "Wren".into(),
        when: "2026-05-04 10:05".into(),
        digest: "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08".into(),
    }
}

pub fn usd(minor: i64) -> Money {
    Money {
        minor,
        currency: Currency::USD,
    }
}

pub fn letter(to: Party) -> Letter {
    Letter {
        job: "School garden, Long Slough Island".into(),
        order: "SG-118: Gothic house, 24 ft wide, 48 ft long, bows 4 ft apart".into(),
        order_number: "SG-118".into(),
        site: "Behind the school, Long Slough Island".into(),
        from: Party {
            name: "Long Slough Island School".into(),
            address: "1 Ferry Road\nLong Slough Island".into(),
            contact: "Wren, garden@example.invalid".into(),
        },
        to,
        date: "2026-05-06".into(),
        reference: "LS-3".into(),
        ..Letter::default()
    }
}

pub fn carrier() -> Party {
    Party {
        name: "the island ferry".into(),
        address: "Claims desk\nPier 2, Slough Landing".into(),
        contact: "claims@example.invalid".into(),
    }
}

pub fn sender() -> Party {
    Party {
        name: "Field & Bow Kits (invented)".into(),
        address: "Packing bench\n12 Orchard Lane".into(),
        contact: String::new(),
    }
}

pub fn carriage() -> Carriage {
    Carriage {
        shipment: "First ferry load".into(),
        carrier: "the island ferry".into(),
        bill: "SF-20417".into(),
        carrier_number: "PRO 88-1203".into(),
        billed_on: "2026-05-02".into(),
        delivered: "2026-05-04 09:15".into(),
        units_billed: Some(3),
        units_are: "2 bundles, 1 crate".into(),
        units_counted: Some(3),
        handed_over: "taken, with a note on the receipt".into(),
        receipt_note: Some("1 of 2 bundles: band broken, two posts bent".into()),
        driver_signed: Some(true),
        seals: "004417, whole".into(),
    }
}

fn seen() -> Vec<Sighting> {
    vec![
        Sighting {
            pieces: Some(2),
            condition: "bent".into(),
            words: "Forklift mark at one third, flattened to about half".into(),
            who: "Wren".into(),
            when: "2026-05-04 10:05".into(),
        },
        Sighting {
            pieces: Some(1),
            condition: "damaged".into(),
            words: "Swage will not go in".into(),
            who: "Ash".into(),
            when: "2026-05-04 11:20".into(),
        },
    ]
}

pub fn notice_of_damage() -> DamageNotice {
    DamageNotice {
        letter: Letter {
            due: vec![Due {
                what: "Notice of concealed damage".into(),
                by: "2026-05-11".into(),
                rule: "custom (NMFC item 300135): 5 business days from delivery".into(),
            }],
            sources: vec![Source {
                says: "Harm that could not be seen at delivery is reported on discovery, with a request for inspection."
                    .into(),
                cite: "NMFC item 300135".into(),
                known: "seen in a reprint".into(),
            }],
            ..letter(carrier())
        },
        carriage: carriage(),
        found_on: "2026-05-04 10:05".into(),
        found_by: "Wren".into(),
        hidden_by: "inside a banded bundle, wrapped".into(),
        harm: vec![Harm {
            mark: "P1".into(),
            description: "Ground post, 1.90 in, 4 ft".into(),
            kind: "bent or damaged".into(),
            quantity: 3,
            seen: seen(),
        }],
        kept: "behind the school, bands and wrap as found".into(),
        told_before: "by telephone, 2026-05-04 12:10, Wren".into(),
        photos: vec![photo("P1", "ground post, forklift mark"), photo("P1", "the band of the bundle")],
    }
}

pub fn claim() -> CarrierClaim {
    CarrierClaim {
        letter: letter(carrier()),
        carriage: carriage(),
        happened: "Three ground posts came bent or damaged, and five purlin tubes did not come."
            .into(),
        lines: vec![
            ClaimLine {
                mark: "P1".into(),
                description: "Ground post, 1.90 in, 4 ft".into(),
                damaged: true,
                kind: "bent".into(),
                quantity: 3,
                each: Some(usd(3_450)),
                price_from: "invoice 4711, line 2".into(),
            },
            ClaimLine {
                mark: "R2".into(),
                description: "Ridge and purlin tube, swaged, 10 ft 6 in".into(),
                damaged: false,
                kind: "lost".into(),
                quantity: 5,
                each: Some(usd(123_456)),
                price_from: String::new(),
            },
        ],
        costs: vec![ClaimCost {
            words: "Freight for the replacement".into(),
            sum: usd(8_999),
        }],
        documents: vec![
            document(DocumentKind::BillOfLading, "SF-20417"),
            document(DocumentKind::FreightBill, "SF-20417, paid 2026-05-05"),
            document(DocumentKind::ProofOfValue, "invoice 4711"),
            document(DocumentKind::Receipt, "with the note on it"),
            document(DocumentKind::Inspection, "own findings, 2026-05-06"),
        ],
        kept: "behind the school, dry".into(),
        photos: vec![photo("P1", "ground post, forklift mark")],
    }
}

fn document(kind: DocumentKind, words: &str) -> Document {
    Document {
        kind,
        attached: true,
        words: words.into(),
    }
}

fn purlin() -> SenderWords {
    SenderWords {
        code: "HD-0166-22".into(),
        description: "PURLIN TUBE 1.66 X 10'6\" SWAGED".into(),
        place: "list 1, row 14".into(),
    }
}

pub fn notice_to_sender() -> SenderNotice {
    let row = |mark: &str, description: &str, numbers: [i64; 3], amount: i64| NoticeRow {
        mark: mark.into(),
        description: description.into(),
        needed: Some(numbers[0]),
        listed: Some(numbers[1]),
        counted: Some(numbers[2]),
        amount,
        ..NoticeRow::default()
    };
    SenderNotice {
        letter: letter(sender()),
        shipments: vec!["First ferry load, came 2026-05-04 09:15".into()],
        short: vec![NoticeRow {
            sender: Some(purlin()),
            cause: "5 R2 were left out of the bundle".into(),
            check: "measure any 3 in pile C".into(),
            asks: "send 5".into(),
            ..row(
                "R2",
                "Ridge and purlin tube, swaged, 10 ft 6 in",
                [26, 26, 21],
                5,
            )
        }],
        over: vec![NoticeRow {
            asks: "say whether it may be kept".into(),
            ..row("B4", "Bow half, gothic, 24 ft", [26, 26, 28], 2)
        }],
        wrong: vec![NoticeRow {
            readings: vec!["across 1.66 in with a caliper (Wren, 2026-05-04 10:30)".into()],
            ..row("S1", "Strut, 1.315 in, 5 ft", [12, 12, 12], 4)
        }],
        damaged: vec![NoticeRow {
            seen: seen(),
            ..row("P1", "Ground post, 1.90 in, 4 ft", [26, 26, 26], 3)
        }],
        to_come: vec![row("F1", "Film, 40 x 55 ft, 6 mil", [1, 1, 0], 1)],
        uncounted: vec![],
        photos: vec![photo("S1", "strut beside a caliper")],
    }
}

pub fn replacement() -> ReplacementOrder {
    ReplacementOrder {
        letter: letter(sender()),
        send_to: "Behind the school, Long Slough Island".into(),
        needed_by: "2026-05-18, before the purlins go up".into(),
        rows: vec![
            ReplacementRow {
                code: "HD-0166-22".into(),
                description: "PURLIN TUBE 1.66 X 10'6\" SWAGED".into(),
                stood: "list 1, row 14".into(),
                sub_kit: "bundle 2".into(),
                quantity: 5,
                mark: "R2".into(),
                ours: "Ridge and purlin tube, swaged, 10 ft 6 in".into(),
                why: "5 short".into(),
            },
            ReplacementRow {
                code: "GP-190-4".into(),
                description: "GROUND POST 1.90 X 4'".into(),
                stood: "list 1, row 3".into(),
                quantity: 3,
                mark: "P1".into(),
                ours: "Ground post, 1.90 in, 4 ft".into(),
                why: "3 damaged".into(),
                ..ReplacementRow::default()
            },
        ],
    }
}

pub fn returns() -> ReturnList {
    ReturnList {
        letter: letter(sender()),
        return_number: "RT-77".into(),
        send_to: "Packing bench, 12 Orchard Lane".into(),
        freight: "the sender".into(),
        rows: vec![
            ReturnRow {
                mark: "B4".into(),
                description: "Bow half, gothic, 24 ft".into(),
                quantity: 2,
                why: "over".into(),
                condition: "as it came".into(),
                lies: "pile A".into(),
                sender_said: "to go back, 2026-05-05".into(),
                ..ReturnRow::default()
            },
            ReturnRow {
                mark: "S1".into(),
                description: "Strut, 1.315 in, 5 ft".into(),
                sender: Some(SenderWords {
                    code: "ST-131".into(),
                    description: "STRUT 1-5/16 X 5'".into(),
                    place: "list 1, row 20".into(),
                }),
                quantity: 4,
                why: "wrong: another part came in its place".into(),
                condition: "as it came".into(),
                lies: "pile C".into(),
                sender_said: "may be kept, 2026-05-05".into(),
            },
        ],
        photos: vec![photo("S1", "strut beside a caliper")],
    }
}
