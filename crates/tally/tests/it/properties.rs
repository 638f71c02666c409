//! What holds of every difference, whatever was listed, counted and said.

use proptest::collection::vec;
use proptest::prelude::*;
use tally::{Condition, Difference, Event, Listed, ListedRow, State, Verdict, What, difference};

use crate::job::{Job, arrived, conditioned, ordered};
use crate::samples::{counted, event};

const SHIPMENTS: [&str; 4] = ["Load 1", "load 1", "Load 2", "the back order"];

/// Marks of the demo's order, two look-alike pairs among them; and one that is not of it.
const MARKS: [&str; 6] = ["B1", "R1", "S1", "N1", "N2", "Z9"];

fn mark() -> impl Strategy<Value = &'static str> {
    prop::sample::select(&MARKS)
}

fn any_row() -> impl Strategy<Value = ListedRow> {
    let shipment = prop::option::of(prop::sample::select(&SHIPMENTS));
    (mark(), 0..40_i64, shipment, prop::bool::weighted(0.2)).prop_map(
        |(mark, quantity, shipment, unclear)| ListedRow {
            mark: mark.into(),
            quantity,
            unclear: unclear.then(|| "unclear".into()),
            description: String::new(),
            code: String::new(),
            sub_kit: String::new(),
            shipment: shipment.map(String::from),
            stands: "row 2".into(),
        },
    )
}

fn any_what() -> impl Strategy<Value = What> {
    let conditions = [
        Condition::Damaged,
        Condition::Bent,
        Condition::Wet,
        Condition::Wrong,
    ];
    prop_oneof![
        4 => (mark(), 0..60_i64).prop_map(|(mark, n)| counted(mark, n, &[])),
        2 => (mark(), 1..9_i64, prop::sample::select(conditions.to_vec()))
            .prop_map(|(mark, n, how)| conditioned(mark, n, how)),
        1 => prop::sample::select(&SHIPMENTS).prop_map(arrived),
    ]
}

fn numbered(whats: Vec<What>) -> Vec<Event> {
    (1..)
        .zip(whats)
        .map(|(seq, what)| event(seq, what))
        .collect()
}

fn found(rows: &[ListedRow], whole: bool, events: &[Event]) -> Difference {
    let ordered = ordered();
    let listed = Listed {
        rows: rows.to_vec(),
        whole,
    };
    difference(&ordered.parts, &listed, &State::fold(events))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_numbers_of_a_mark_agree(
        rows in vec(any_row(), 0..12),
        whats in vec(any_what(), 0..12),
        whole: bool,
    ) {
        for mark in found(&rows, whole, &numbered(whats)).marks {
            let (needed, coming, counted) = (mark.needed, mark.coming, mark.on_hand.counted);
            prop_assert!((0..=needed).contains(&coming), "{mark:?}");
            prop_assert!((0..=needed).contains(&mark.expected()), "{mark:?}");
            prop_assert!(mark.short() == 0 || mark.over() == 0, "{mark:?}");
            prop_assert!(mark.short() <= mark.expected(), "{mark:?}");
            let positive = |verdict: &Verdict| match verdict {
                Verdict::NotCounted(n) | Verdict::Short(n) | Verdict::Over(n) | Verdict::Unfit(n)
                | Verdict::Wet(n) | Verdict::Early(n) | Verdict::ListShort(n)
                | Verdict::ListOver(n) => *n > 0,
                Verdict::Comes { quantity, with } => *quantity > 0 && !with.is_empty(),
                Verdict::ListUnclear(rows) => !rows.is_empty(),
                Verdict::ShortBetween { least, most } => 0 < *least && least < most,
                Verdict::CouldBeShort(n) => *n > 0,
                Verdict::LooksDiffer(n) => *n > 0,
                Verdict::Fits | Verdict::Overdrawn => true,
            };
            prop_assert!(mark.verdicts.iter().all(positive), "{mark:?}");
            match mark.to_make_good() {
                Some(n) => prop_assert!(n >= mark.short(), "{mark:?}"),
                None => prop_assert!(!mark.on_hand.is_counted() && mark.short() == 0, "{mark:?}"),
            }
            if mark.on_hand.is_counted() {
                // Every piece is accounted for once.
                prop_assert_eq!(
                    counted - mark.over() + coming + mark.short(),
                    needed,
                    "{:?}", mark
                );
            }
            if mark.verdicts.contains(&Verdict::Fits) {
                prop_assert!(mark.is_well() && counted >= mark.expected(), "{mark:?}");
            }
        }
    }

    /// The arrival of everything makes nothing less than it was: all that is needed should then be here.
    #[test]
    fn when_all_is_here_nothing_comes(
        rows in vec(any_row(), 0..12),
        whats in vec(any_what(), 0..12),
    ) {
        let all = SHIPMENTS.map(arrived);
        for mark in found(&rows, true, &numbered(whats.into_iter().chain(all).collect())).marks {
            prop_assert_eq!((mark.coming, mark.expected()), (0, mark.needed));
        }
    }

    #[test]
    fn order_and_repetition_of_events_do_not_matter(
        (log, shuffled) in vec(any_what(), 0..10).prop_flat_map(|whats| {
            let log = numbered(whats);
            let mut twice = log.clone();
            twice.extend(log.iter().take(3).cloned());
            (Just(log), Just(twice).prop_shuffle())
        }),
    ) {
        let csv = "Code,Qty,Description,Load\nB1,20,Half bow,Load 1\nB1,6,Half bow,load 2\n";
        let stands = |events: Vec<Event>| {
            let mut job = Job::ordered();
            job.list(csv, None);
            // The order and the list come after the counts, by number.
            for (place, event) in job.events.iter_mut().enumerate() {
                event.seq = 1_000 + place as u64;
                event.id = crate::samples::id(event.seq.into());
            }
            job.events.splice(0..0, events);
            job.standing()
        };
        let (straight, other) = (stands(log), stands(shuffled));
        prop_assert_eq!(straight.difference, other.difference);
        prop_assert_eq!(straight.shipments, other.shipments);
    }
}
