//! The demo job as `tallyard demo` lays it: the difference is what was planted in it, and nothing else.

use tally::{CauseKind, Condition, Digest, What};

use crate::job::{Job, conditioned, words};

const LISTS: [(&[u8], &str); 2] = [
    (
        include_bytes!("../../../../demo/packing-list.csv"),
        "packing-list.csv",
    ),
    (
        include_bytes!("../../../../demo/packing-list.xlsx"),
        "packing-list.xlsx",
    ),
];

fn demo(list: &[u8], name: &str) -> Job {
    let mut job = Job::ordered();
    let digest = Digest::of(list);
    job.documents.insert(digest, list.into());
    job.says(What::ListAdded {
        digest,
        name: name.into(),
        shipment: None,
    });
    job.says(What::ShipmentNamed {
        shipment: "Load 2".into(),
        due: None,
    });
    job.arrives("Load 1");
    for (mark, quantity) in [
        ("P1", 26),
        ("B1", 20),
        ("B1", 6),
        ("R1", 13),
        ("S1", 10),
        ("C1", 20),
        ("C2", 18),
        ("X1", 13),
        ("X2", 24),
    ] {
        job.counts(mark, quantity);
    }
    job.says(conditioned("B1", 1, Condition::Bent));
    job
}

#[test]
fn what_was_planted_is_found() {
    for (list, name) in LISTS {
        let standing = demo(list, name).standing();
        let difference = standing
            .difference
            .as_ref()
            .expect("the demo's order can be built");
        let said: Vec<(&str, String)> = (difference.marks.iter())
            .filter(|mark| mark.on_hand.is_counted() || mark.coming > 0)
            .map(|mark| (mark.mark.as_str(), words(mark)))
            .collect();
        let expected = [
            ("P1", "fits"),
            ("B1", "1 not fit for use"),
            ("R1", "2 short"),
            ("S1", "2 over"),
            ("C1", "fits"),
            ("C2", "2 over"),
            ("W1", "55 to come with Load 2"),
            ("F1", "1 to come with Load 2"),
            ("F2", "2 to come with Load 2"),
            ("X1", "fits"),
            ("X2", "2 short"),
        ];
        let expected: Vec<(&str, String)> = expected.map(|(m, w)| (m, w.to_string())).to_vec();
        assert_eq!(said, expected, "{name}");
        // Whatever else there is waits to be counted, and the list agrees with the order throughout.
        for mark in &difference.marks {
            assert_eq!(mark.listed, Some(mark.needed), "{}", mark.mark);
            if !said.iter().any(|(known, _)| *known == mark.mark) {
                let waits = format!("not counted, {} should be here", mark.needed);
                assert_eq!(words(mark), waits, "{}", mark.mark);
            }
        }
        assert_eq!(difference.counted(), 8);
        let explained = standing.explanation().expect("the demo has an order");
        let matter = explained.matter("R1").expect("R1 lacks two");
        let [swap] = matter.best.causes.as_slice() else {
            panic!("{matter:?}");
        };
        assert_eq!(swap.kind, CauseKind::CountedAsLookAlike);
        assert_eq!((swap.mark.as_str(), swap.quantity), ("R1", 2));
        assert_eq!(swap.other_mark.as_deref(), Some("S1"));
        assert!(difference.strange.is_empty());
        // The short screws stand in three bags, and X2 under another name.
        let screws = difference.mark("N5").expect("a mark of the order");
        assert_eq!(screws.rows.len(), 3);
        let brackets = difference.mark("X2").expect("a mark of the order");
        assert_eq!(brackets.rows[0].description, "Purlin bracket 1-3/8");
        let shipments: Vec<(String, bool)> = standing.shipments.into_iter().collect();
        assert_eq!(
            shipments,
            [("Load 1".into(), true), ("Load 2".into(), false)]
        );
    }
}

#[test]
fn the_second_load_makes_the_rest_due() {
    let (list, name) = LISTS[0];
    let mut job = demo(list, name);
    job.arrives("load 2");
    assert_eq!(job.says_of("F1"), "not counted, 1 should be here");
    job.counts("W1", 54);
    assert_eq!(job.says_of("W1"), "1 short");
}
