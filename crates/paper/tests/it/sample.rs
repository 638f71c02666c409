//! Invented papers: a school garden on an island gets its gothic house in two ferry loads.

use paper::{
    Carriage, Counting, Moment, OsdPaper, OsdRow, Party, Print, SenderWords, Sheet, Shipment,
    Sighting, TallyGroup, TallyRow, TallySheet,
};

pub fn print() -> Print {
    Print {
        sheet: Sheet::Letter,
        made_at: Moment {
            year: 2026,
            month: 5,
            day: 4,
            hour: 17,
            minute: 40,
            second: 0,
            utc_offset: -420,
        },
        id: "osd-7f3a-0001".into(),
        language: "en-US".into(),
    }
}

pub fn row(mark: &str, description: &str, numbers: [i64; 4], amount: i64) -> OsdRow {
    let [needed, listed, counted, good] = numbers.map(Some);
    OsdRow {
        mark: mark.into(),
        description: description.into(),
        needed,
        listed,
        counted,
        good,
        amount,
        ..OsdRow::default()
    }
}

pub fn paper() -> OsdPaper {
    OsdPaper {
        explained: Vec::new(),
        rules: Vec::new(),
        zone: String::new(),
        log_head: "5c3a".repeat(16),
        job: "School garden, Long Slough Island".into(),
        order:
            "Gothic house, 24 ft wide, 48 ft long, bows 4 ft apart; hip channel, one sliding door"
                .into(),
        site: "Behind the school, Long Slough Island".into(),
        sender: "Field & Bow Kits (invented)".into(),
        handed_in: "2026-05-04 17:40".into(),
        units: "feet and inches".into(),
        shipments: vec![
            Shipment {
                name: "First ferry load".into(),
                packing_list: "list 1, 2 pages".into(),
                arrived: true,
                when: "2026-05-04 09:15".into(),
                carrier: "the island ferry".into(),
                freight_bill: "SF-20417".into(),
                handling_units: "2 bundles, 1 crate, as listed".into(),
            },
            Shipment {
                name: "Second ferry load".into(),
                packing_list: "list 2, 1 page".into(),
                arrived: false,
                when: "expected 2026-05-11".into(),
                ..Shipment::default()
            },
        ],
        short: vec![
            OsdRow {
                says: "5 short: 26 needed, 26 listed, 21 counted in three piles.".into(),
                cause: "2 R2 lie in pile C and were counted as S1; 3 R2 did not come.".into(),
                check: "measure any 3 in pile C".into(),
                sender: Some(SenderWords {
                    code: "HD-0166-22".into(),
                    description: "PURLIN TUBE 1.66 X 10'6\" SWAGED".into(),
                    place: "list 1, row 14".into(),
                }),
                ..row(
                    "R2",
                    "Ridge and purlin tube, swaged, 10 ft 6 in",
                    [26, 26, 21, 21],
                    5,
                )
            },
            OsdRow {
                says: "12 short: a bag of 60 holds 48.".into(),
                unit: "screws".into(),
                ..row("T-14", "Tek screw, 1/4 x 1 in", [240, 240, 228, 228], 12)
            },
        ],
        over: vec![OsdRow {
            says: "2 over: 26 needed, 28 counted.".into(),
            ..row("B4", "Bow half, gothic, 24 ft", [26, 26, 28, 28], 2)
        }],
        damaged: vec![OsdRow {
            says: "3 of 26 not fit to use.".into(),
            seen: vec![
                Sighting {
                    pieces: Some(2),
                    condition: "bent".into(),
                    words: "Forklift mark at one third, flattened to about half".into(),
                    who: "Wren".into(),
                    when: "2026-05-04 10:05".into(),
                },
                Sighting {
                    pieces: Some(1),
                    condition: "crushed end".into(),
                    words: "Swage will not go in".into(),
                    who: "Ash".into(),
                    when: "2026-05-04 11:20".into(),
                },
            ],
            ..row("P1", "Ground post, 1.90 in, 4 ft", [26, 26, 26, 23], 3)
        }],
        wrong: vec![],
        to_come: vec![OsdRow {
            listed: None,
            counted: None,
            good: None,
            unit: "roll".into(),
            shipment: "Second ferry load".into(),
            ..row("F1", "Film, 40 x 55 ft, 6 mil, four-year", [1, 0, 0, 0], 1)
        }],
        uncounted: vec![OsdRow {
            counted: None,
            good: None,
            ..row("W6", "Spring wire, 6 ft 6 in", [40, 40, 0, 0], 40)
        }],
        countings: vec![
            Counting {
                who: "Wren".into(),
                when: "2026-05-04 09:40 to 11:30".into(),
                how: "piles A to D on a phone, each piece by hand".into(),
            },
            Counting {
                who: "Ash".into(),
                when: "2026-05-04 13:00 to 14:10".into(),
                how: "piles A to D again, on a tally sheet, blind".into(),
            },
        ],
        receiver: Party {
            name: "Long Slough Island School".into(),
            contact: "Wren, garden@example.invalid".into(),
            ..Party::default()
        },
        carriages: vec![Carriage {
            shipment: "First ferry load".into(),
            carrier: "the island ferry".into(),
            bill: "SF-20417".into(),
            delivered: "2026-05-04 09:15".into(),
            units_billed: Some(3),
            units_are: "2 bundles, 1 crate".into(),
            units_counted: Some(3),
            handed_over: "taken, receipt signed clear".into(),
            receipt_note: Some(String::new()),
            driver_signed: Some(true),
            seals: "004417, whole".into(),
            ..Carriage::default()
        }],
        kept: "behind the school, dry".into(),
        missing: vec![],
        photos: vec![],
        notes: vec![
            "Seal 004417 whole when the truck was opened.".into(),
            "Photos of both damaged bundles are in the job file.".into(),
        ],
    }
}

pub fn tally() -> TallySheet {
    let row = |mark: &str, description: &str, should_be: i64| TallyRow {
        mark: mark.into(),
        description: description.into(),
        should_be: Some(should_be),
        ..TallyRow::default()
    };
    TallySheet {
        job: "School garden, Long Slough Island".into(),
        order: "Gothic house, 24 ft wide, 48 ft long, bows 4 ft apart".into(),
        blind: true,
        groups: vec![
            TallyGroup {
                name: "Ground posts and bows".into(),
                rows: vec![
                    row("P1", "Ground post, 1.90 in, 4 ft", 26),
                    row("B4", "Bow half, gothic, 24 ft", 26),
                    row("R2", "Ridge and purlin tube, swaged, 10 ft 6 in", 25),
                    row("RX", "Cross connector, 1.66 to 1.90 in", 39),
                ],
            },
            TallyGroup {
                name: "Film and channel".into(),
                rows: vec![
                    TallyRow {
                        unit: "rolls".into(),
                        ..row("F1", "Film, 40 x 55 ft, 6 mil, four-year", 1)
                    },
                    row("C8", "Channel, double, 8 ft", 48),
                    row("W6", "Spring wire, 6 ft 6 in", 64),
                    row("T-14", "Tek screw, 1/4 x 1 in", 240),
                ],
            },
        ],
    }
}
