//! What was received, taken from how a job stands. The numbers expected are those that the demo plants
//! (tally/tests/it/demo_job.rs) and sums done by hand.

use claim::received::HOW_COUNTED;
use tally::{Condition, Delivery, Freight, How, Outcome, What};

use crate::received_job::{Job, demo, issued, mark};

#[test]
fn the_demo_is_told_as_it_was_laid() {
    let received = demo().received();
    let header = &received.header;
    assert_eq!(header.job, "Osprey Island school garden house");
    assert_eq!(header.order_number, "SG-117");
    assert_eq!(header.sender, "the kit works on the mainland");
    let here: Vec<_> = (header.shipments.iter())
        .map(|s| (s.name.as_str(), s.arrived))
        .collect();
    assert_eq!(here, [("Load 1", Some(issued().date())), ("Load 2", None)]);
    // mark, ordered, received, good, short, over, bent, still to come
    for (name, ordered, seen, good, short, over, bent, to_come) in [
        ("P1", 26, Some(26), Some(26), 0, 0, 0, 0),
        ("B1", 26, Some(26), Some(25), 0, 0, 1, 0),
        ("R1", 15, Some(13), Some(13), 2, 0, 0, 0),
        ("S1", 8, Some(10), Some(10), 0, 2, 0, 0),
        ("C2", 16, Some(18), Some(18), 0, 2, 0, 0),
        ("X2", 26, Some(24), Some(24), 2, 0, 0, 0),
        ("F1", 1, None, None, 0, 0, 0, 1),
    ] {
        let of = mark(&received, name);
        assert_eq!(
            (
                of.ordered,
                of.received,
                of.good,
                of.short,
                of.over,
                of.bent,
                of.to_come
            ),
            (ordered, seen, good, short, over, bent, to_come),
            "{name}"
        );
        assert_eq!(
            of.sent,
            Some(ordered),
            "{name}: the demo's list fits the order"
        );
        assert_eq!(of.short_at_most, of.short, "{name}");
    }
    assert_eq!(received.notes[0], HOW_COUNTED);
    assert!(received.notes[1].starts_with("Not yet counted: "));
    assert!(received.strange.is_empty());
}

#[test]
fn the_sender_s_own_words_stand_beside_the_mark() {
    let received = demo().received();
    let of = mark(&received, "R1");
    assert_eq!(of.code(), "RT-126S");
    let [row] = of.rows.as_slice() else {
        panic!("one row names it: {:?}", of.rows)
    };
    assert_eq!(row.list, "packing-list.csv");
    assert_eq!(
        row.words,
        "Ridge tube 1-3/8\" 16 ga x 126-1/2\" one end swaged"
    );
    assert_eq!(row.quantity, Some(15));
    assert_eq!(row.shipment.as_deref(), Some("Load 1"));
    // The list has these in two sub-kits.
    let twice = (received.marks.iter()).filter(|of| of.rows.len() > 1);
    assert!(twice.clone().count() > 0);
    for of in twice {
        let sum: i64 = of.rows.iter().filter_map(|row| row.quantity).sum();
        assert_eq!(Some(sum), of.sent, "{}", of.mark);
    }
}

/// The sum that every file promises: what came, what is short and what is to come make up the order, but for what is
/// over it.
#[test]
fn received_short_and_to_come_make_up_the_order() {
    for counted in 0..32 {
        let mut job = Job::listed();
        for name in ["P1", "R1", "W1", "C1", "X1"] {
            job.counts(name, counted);
            job.finds(name, 1, Condition::Damaged);
            job.finds(name, 1, Condition::Wet);
        }
        let received = job.received();
        for name in ["P1", "R1", "W1", "C1", "X1"] {
            let of = mark(&received, name);
            let sum = counted + of.short + of.to_come;
            assert_eq!(
                sum,
                of.ordered.max(counted),
                "{name}, {counted} counted: {of:?}"
            );
            assert_eq!(of.over, (counted - of.supplied).max(0), "{name}");
            assert_eq!(
                of.good,
                Some((counted - 1).max(0)),
                "{name}: wet ones may serve"
            );
            assert_eq!(of.rejected(), 1, "{name}");
        }
    }
}

#[test]
fn two_looks_that_differ_leave_a_doubt_that_is_said() {
    let mut job = Job::listed();
    let first = job.counts("P1", 24);
    job.says(What::CountedAgain {
        mark: "P1".into(),
        pile: None,
        quantity: 20,
        checks: vec![first],
        how: How::Piece,
    });
    let received = job.received();
    let of = mark(&received, "P1");
    assert_eq!((of.short, of.short_at_most), (2, 6), "{}", of.says);
    assert!(
        received
            .notes
            .iter()
            .any(|note| note.starts_with("Not sure yet: P1: 2 to 6 short")),
        "{:?}",
        received.notes
    );
}

#[test]
fn what_was_not_ordered_stands_apart() {
    let mut job = Job::listed();
    job.counts("Q9", 4);
    let received = job.received();
    let strange: Vec<_> = (received.strange.iter())
        .map(|s| (s.mark.as_str(), s.received))
        .collect();
    assert_eq!(strange, [("Q9", 4)]);
}

/// A quantity that cannot be read is not passed on as a number.
#[test]
fn a_row_that_is_not_clear_has_no_number() {
    let mut job = Job::ordered();
    job.list(
        b"Code,Qty,Unit,Description\nGS-60,2 boxes,,Ground stake 1-5/8 x 14 ga x 60\"\nHB-24,26,ea,\"Bow half 1-5/8 14 ga, 16'-10\"\"\"\n",
        "unclear.csv",
    );
    job.counts("P1", 3);
    let received = job.received();
    let rows = &mark(&received, "P1").rows;
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert_eq!(rows[0].quantity, None);
}

/// Two stakes too few are nothing but short. Two ridge tubes too few and two studs too many, which look alike, are most
/// likely miscounted: the count says so, and nobody is told of a shortage that a second look may undo.
#[test]
fn what_another_story_explains_is_not_called_short() {
    let mut job = Job::listed();
    for (name, counted) in [("P1", 24), ("R1", 13), ("S1", 10)] {
        job.counts(name, counted);
    }
    let received = job.received();
    let told = |name: &str| {
        let of = mark(&received, name);
        (of.short, of.over, of.called_short, of.called_over)
    };
    assert_eq!(told("P1"), (2, 0, 2, 0), "{}", mark(&received, "P1").likely);
    assert_eq!(told("R1"), (2, 0, 0, 0), "{}", mark(&received, "R1").likely);
    assert_eq!(told("S1"), (0, 2, 0, 0), "{}", mark(&received, "S1").likely);
    let ridge = mark(&received, "R1");
    assert!(ridge.likely.contains("S1"), "{}", ridge.likely);
    assert!(!ridge.look.is_empty());
    let text = claim::ubl::write(&received).unwrap();
    assert_eq!(text.matches("<cbc:ShortQuantity").count(), 1);
    assert_eq!(text.matches("<cbc:OversupplyQuantity").count(), 0);
    assert!(text.contains("Most likely: "));
    assert!(text.contains("To settle it: "));
}

/// What was written down at the truck goes before the phone's clock (14:05 on 6 March here).
#[test]
fn a_shipment_has_its_carrier_its_bill_and_the_day_written_at_the_truck() {
    let mut job = Job::listed();
    job.says(What::FreightSaid(Freight {
        shipment: "load 1".into(),
        carrier: "Ferry and Cart".into(),
        bill: "4471".into(),
        ..Freight::default()
    }));
    for (shipment, outcome) in [("Load 1", Outcome::Noted), ("Load 2", Outcome::Refused)] {
        job.says(What::Delivered(Delivery {
            shipment: shipment.into(),
            on: "2026-03-05".into(),
            time: None,
            units: None,
            outcome,
            receipt_note: String::new(),
            driver_signed: None,
            seals: String::new(),
        }));
    }
    job.counts("P1", 26);
    let received = job.received();
    let words: Vec<String> = (received.header.shipments.iter())
        .map(|shipment| shipment.in_words())
        .collect();
    assert_eq!(
        words,
        [
            "Load 1 arrived 2026-03-05, carrier Ferry and Cart, bill of lading 4471",
            "Load 2 has not arrived"
        ]
    );
    let envelope = claim::x12::Envelope {
        from: "OSPREYSCHOOL".into(),
        to: "KITWORKS".into(),
        control: 1,
        trial: true,
    };
    let text = claim::x12::write(&received, &envelope).unwrap();
    assert!(text.contains("~REF*BM*4471~"), "{text}");
    assert!(text.contains("~DTM*050*20260305~"), "{text}");
}
