//! What was worked out before never shows: after any events, a job stands as it does when all is worked out anew.

use std::cell::Cell;

use proptest::collection::vec;
use proptest::prelude::*;
use tally::{Digest, Event, Known, Standing, What};

use crate::job::{ORDER, arrived};
use crate::samples::{corrected, counted, event};

const CSV: &[u8] = include_bytes!("../../../../demo/packing-list.csv");
const SHORT: &[u8] = b"Code,Qty,Description,Load\nP1,20,Ground post,load 1\nP1,6,Ground post,\n";
const NO_LIST: &[u8] = b"nothing that is a table";
const CODES: &[u8] = b"sender,code,means,said by\nThe office,GS-60,Ground post,a person\n";
/// Its file comes into the job only after some events.
const LATE: &[u8] = b"Code,Qty,Description\nC1,some,Rail channel\nC1,20,Rail channel\n";

fn document(digest: &Digest, late_is_here: bool) -> Result<Vec<u8>, String> {
    ([CSV, SHORT, NO_LIST, CODES].into_iter())
        .chain(late_is_here.then_some(LATE))
        .find(|bytes| Digest::of(bytes) == *digest)
        .map(<[u8]>::to_vec)
        .ok_or("its file is not in this copy of the job".into())
}

fn any_what() -> impl Strategy<Value = What> {
    let orders = [
        ORDER.to_string(),
        ORDER.replace("48 ft", "72 ft"),
        ORDER.replace("48 ft", "47 ft"),
        "no order".into(),
    ];
    let order = prop_oneof![3 => Just(0), 1 => 1..orders.len()];
    let file = prop::sample::select(vec![CSV, CSV, SHORT, NO_LIST, LATE]);
    let name = prop::sample::select(vec!["list.csv", "other.csv"]);
    let shipment = prop::sample::select(vec!["Load 1", "load 2", "LOAD 1 "]);
    let rows: Vec<String> = [CSV, SHORT]
        .into_iter()
        .flat_map(|bytes| list::read(bytes, "list.csv").expect("a list").rows)
        .map(|row| row.key.to_string())
        .collect();
    let mark = prop::sample::select(vec!["P1", "C1", "X2", "Z9"]);
    prop_oneof![
        2 => order.prop_map(move |n| What::OrderSet { toml: orders[n].clone(), family: None }),
        4 => (file.clone(), name, prop::option::of(shipment.clone())).prop_map(
            |(bytes, name, shipment)| What::ListAdded {
                digest: Digest::of(bytes),
                name: name.into(),
                shipment: shipment.map(String::from),
            }
        ),
        3 => (file.clone(), file.clone()).prop_map(|(old, new)| What::ListCorrected {
            old: Digest::of(old),
            digest: Digest::of(new),
            name: "again.csv".into(),
        }),
        1 => file.clone().prop_map(|bytes| What::ListSentBy {
            list: Digest::of(bytes),
            sender: "The office".into(),
        }),
        1 => Just(What::CodesTaken { digest: Digest::of(CODES), name: "codes.csv".into() }),
        1 => file.clone().prop_map(|bytes| What::ListDropped { digest: Digest::of(bytes) }),
        3 => (file, prop::sample::select(rows), prop::option::of(mark.clone())).prop_map(
            |(bytes, row, mark)| What::Overruled {
                list: Digest::of(bytes),
                row,
                mark: mark.map(String::from),
                words: None,
            }
        ),
        2 => (mark, 0..40_i64).prop_map(|(mark, n)| counted(mark, n, &[])),
        1 => shipment.prop_map(arrived),
        2 => (1..8_u128).prop_map(|n| corrected(&[n])),
    ]
}

/// All that a page or a paper reads, written out.
fn shown(standing: &Standing) -> String {
    let lists: Vec<_> = (standing.lists.iter())
        .map(|list| {
            (
                &list.seen,
                &list.read,
                &list.matched,
                &list.rows,
                &list.troubles,
                (&list.corrected, &list.carried, &list.left, &list.codes),
            )
        })
        .collect();
    let order = standing.order.as_ref().map(|order| {
        let order = order.as_ref().as_ref();
        order.map(|ordered| (&ordered.order, &ordered.parts))
    });
    format!(
        "{order:?} {lists:?} {:?} {:?} {:?}",
        standing.difference, standing.shipments, standing.state
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn what_is_known_never_shows(
        whats in vec(any_what(), 1..8),
        late in 0..8_usize,
    ) {
        let first = What::OrderSet { toml: ORDER.into(), family: None };
        let log: Vec<Event> = (1..).zip([first].into_iter().chain(whats))
            .map(|(seq, what)| event(seq, what))
            .collect();
        let mut known = Known::default();
        for end in 0..=log.len() {
            let fetch = |digest: &Digest| document(digest, end > late);
            let kept = Standing::of(&log[..end], fetch, &mut known);
            let anew = Standing::of(&log[..end], fetch, &mut Known::default());
            prop_assert_eq!(shown(&kept), shown(&anew), "after {} events", end);
        }
    }
}

fn list_added(bytes: &[u8]) -> What {
    What::ListAdded {
        digest: Digest::of(bytes),
        name: "list.csv".into(),
        shipment: None,
    }
}

#[test]
fn a_count_asks_for_no_list_again_and_a_missing_file_is_asked_for_until_it_comes() {
    let mut log = vec![
        event(
            1,
            What::OrderSet {
                toml: ORDER.into(),
                family: None,
            },
        ),
        event(2, list_added(CSV)),
    ];
    let asked = Cell::new(0);
    let mut known = Known::default();
    let mut stands = |log: &[Event], late_is_here| {
        asked.set(0);
        let fetch = |digest: &Digest| {
            asked.set(asked.get() + 1);
            document(digest, late_is_here)
        };
        let read = Standing::of(log, fetch, &mut known);
        let unread = read.lists.iter().filter(|l| l.read.is_err()).count();
        (asked.get(), unread)
    };
    assert_eq!(stands(&log, false), (1, 0));
    log.push(event(3, counted("P1", 4, &[])));
    assert_eq!(stands(&log, false), (0, 0));
    log.push(event(4, list_added(LATE)));
    assert_eq!(stands(&log, false), (1, 1));
    assert_eq!(stands(&log, false), (1, 1));
    assert_eq!(stands(&log, true), (1, 0));
    assert_eq!(stands(&log, true), (0, 0));
}

#[test]
fn a_list_under_another_name_is_spoken_of_by_that_name() {
    let mut log = vec![event(1, list_added(NO_LIST))];
    let mut known = Known::default();
    let mut says = |log: &[Event]| {
        let standing = Standing::of(log, |digest| document(digest, true), &mut known);
        let read = standing.lists[0].read.as_ref().as_ref();
        read.expect_err("it holds no table").clone()
    };
    let first = says(&log);
    assert!(first.contains("list.csv"), "{first}");
    log.push(event(
        2,
        What::ListAdded {
            digest: Digest::of(NO_LIST),
            name: "other.csv".into(),
            shipment: None,
        },
    ));
    let second = says(&log);
    assert!(second.contains("other.csv"), "{second}");
}

#[test]
fn a_dropped_list_is_let_go() {
    let mut log = vec![event(1, list_added(CSV))];
    let mut known = Known::default();
    let fetch = |digest: &Digest| document(digest, true);
    let before = Standing::of(&log, fetch, &mut known);
    let read = std::sync::Arc::downgrade(&before.lists[0].read);
    drop(before);
    assert!(read.upgrade().is_some(), "kept while in use");
    let digest = Digest::of(CSV);
    log.push(event(2, What::ListDropped { digest }));
    Standing::of(&log, fetch, &mut known);
    assert!(read.upgrade().is_none(), "let go when dropped");
}
