//! What holds of every explanation, whatever was listed and counted. What each cause does to a number is written down here
//! once more, from the words of the cause and not from the program.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use proptest::collection::vec;
use proptest::prelude::*;
use tally::{
    Cause, CauseKind, Condition, Digest, Event, Explanation, How, Known, Standing, Story, What,
};

use crate::job::{Job, conditioned, ordered};
use crate::samples::event;

/// Marks of the demo's order: look-alikes (R1 and S1, N1 and N2, N5 and N6), and some that are like nothing.
const MARKS: [&str; 9] = ["R1", "S1", "N1", "N2", "N5", "N6", "C1", "X2", "B1"];

#[derive(Debug, Clone)]
enum Said {
    Counted(&'static str, &'static str, i64, usize),
    Bundles(&'static str, i64, i64),
    Bent(&'static str, i64),
    Load2,
}

fn any_said() -> impl Strategy<Value = Said> {
    let mark = || prop::sample::select(&MARKS);
    prop_oneof![
        8 => (mark(), prop::sample::select(&["A", "B"]), 1..60_i64, 0..2_usize)
            .prop_map(|(mark, pile, n, who)| Said::Counted(mark, pile, n, who)),
        1 => (mark(), 1..4_i64, 2..6_i64).prop_map(|(mark, n, of)| Said::Bundles(mark, n, of)),
        1 => (mark(), 1..4_i64).prop_map(|(mark, n)| Said::Bent(mark, n)),
        1 => Just(Said::Load2),
    ]
}

fn what(said: &Said) -> (String, What) {
    let counted = |mark: &str, pile: &str, quantity, how| What::Counted {
        mark: mark.into(),
        pile: Some(pile.into()),
        quantity,
        replaces: Vec::new(),
        how,
    };
    let who = match said {
        Said::Counted(.., 1) => "Theo",
        _ => "Ines",
    };
    let what = match *said {
        Said::Counted(mark, pile, n, _) => counted(mark, pile, n, How::Piece),
        Said::Bundles(mark, bundles, of) => {
            let how = How::Bundle {
                bundles,
                of,
                rest: 0,
                closed: true,
            };
            counted(mark, "A", bundles * of, how)
        }
        Said::Bent(mark, n) => conditioned(mark, n, Condition::Bent),
        Said::Load2 => What::ShipmentNamed {
            shipment: "Load 2".into(),
            due: None,
        },
    };
    (who.into(), what)
}

/// What the demo's order needs.
static NEEDED: LazyLock<Vec<(String, i64)>> = LazyLock::new(|| {
    let lines = ordered().parts.lines.into_iter();
    lines
        .map(|line| (line.part.mark.0, line.quantity))
        .collect()
});

/// A list that has what the order needs, but for some marks.
fn any_list() -> impl Strategy<Value = Option<String>> {
    let slip = (prop::sample::select(&MARKS), -4..5_i64);
    prop::option::of(vec(slip, 0..4).prop_map(|slips| {
        let rows = NEEDED.iter().map(|(mark, needed)| {
            let off = slips.iter().find(|(of, _)| of == mark);
            let n = (needed + off.map_or(0, |slip| slip.1)).max(0);
            format!("{mark},{n},ea,Part {mark}\n")
        });
        format!("Code,Qty,Unit,Description\n{}", rows.collect::<String>())
    }))
}

fn job(list: &Option<String>, said: &[Said]) -> Job {
    let mut job = Job::ordered();
    if let Some(csv) = list {
        job.list(csv, None);
    }
    for said in said {
        let seq = job.events.len() as u64 + 1;
        let (who, what) = what(said);
        job.events.push(Event {
            who,
            ..event(seq, what)
        });
    }
    job
}

/// What a cause makes of the count of a mark, and of what the lists say of it.
fn moves(cause: &Cause, mark: &str, unlisted: bool) -> [i64; 2] {
    let n = cause.quantity;
    let (is_it, is_other) = (
        cause.mark == mark,
        cause.other_mark.as_deref() == Some(mark),
    );
    match cause.kind {
        CauseKind::CountedAsLookAlike | CauseKind::SentLookAlike => match (is_it, is_other) {
            (true, _) => [-n, 0],
            (_, true) => [n, 0],
            _ => [0, 0],
        },
        CauseKind::RowMisread => match (is_it, is_other, cause.other_mark.is_some()) {
            (true, _, true) => [0, n],
            (_, true, _) => [0, -n],
            (true, _, false) => [0, -n],
            _ => [0, 0],
        },
        _ if !is_it => [0, 0],
        CauseKind::BundleAsOne
        | CauseKind::PileNotCounted
        | CauseKind::InAnotherBag
        | CauseKind::DamagedNotCounted
        | CauseKind::WrongSent
        | CauseKind::Short
        | CauseKind::FewerSpares => [-n, 0],
        CauseKind::LeftForLater if unlisted => [-n, -n],
        CauseKind::LeftForLater => [-n, 0],
        CauseKind::CountedTwice | CauseKind::Extra => [n, 0],
        CauseKind::WeighingDoubt | CauseKind::LooksDiffer | CauseKind::Miscounted => [n, 0],
        CauseKind::RowTwice => [0, n],
        // No list is brought in twice here.
        CauseKind::ListTwice => [0, 0],
        CauseKind::RowForTwoUses => [0, -n],
        CauseKind::PackedForOneUse => [-n, -n],
        CauseKind::ListTypo | CauseKind::ListForOtherOrder => [0, n],
        CauseKind::PackedByList | CauseKind::SentForOtherOrder => [n, n],
    }
}

/// Each number less all that the stories say of it is what the order needs, spares at the most on top.
fn adds_up(standing: &Standing, stories: &[&Story]) -> Result<(), TestCaseError> {
    let difference = standing.difference.as_ref().expect("an order");
    let causes: Vec<&Cause> = stories.iter().flat_map(|story| &story.causes).collect();
    for mark in &difference.marks {
        // A shipment without a list may bring what the list lacks: then both numbers lack it, or the count alone does.
        let ways = [false, true].map(|unlisted| {
            let each = causes
                .iter()
                .map(|cause| moves(cause, &mark.mark, unlisted));
            let [yard, list] =
                each.fold([0, 0], |sum, moved| [sum[0] + moved[0], sum[1] + moved[1]]);
            let fits = |number: i64| (mark.needed..=mark.supplied).contains(&number);
            let yard = mark.on_hand.counted - yard;
            let yard_fits = !mark.on_hand.is_counted() || fits(yard);
            let list_fits = mark.listed.is_none_or(|listed| fits(listed - list));
            yard_fits && list_fits
        });
        prop_assert!(ways[0] || ways[1], "{mark:?}\n{causes:#?}");
    }
    Ok(())
}

thread_local! {
    /// The order is read once a thread.
    static KNOWN: RefCell<Known> = RefCell::default();
}

fn standing(job: &Job) -> Standing {
    let document = |digest: &Digest| job.documents.get(digest).cloned().ok_or("gone".into());
    KNOWN.with_borrow_mut(|known| Standing::of(&job.events, document, known))
}

fn explained(stands: &Standing) -> &Explanation {
    stands.explanation().expect("an order")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn every_number_adds_up(list in any_list(), said in vec(any_said(), 0..14)) {
        let stands = standing(&job(&list, &said));
        let explained = explained(&stands);
        prop_assert!(explained.proven);
        let best: Vec<&Story> = explained.matters.iter().map(|matter| &matter.best).collect();
        adds_up(&stands, &best)?;
        // What is not explained fits.
        for mark in &stands.difference.as_ref().expect("an order").marks {
            if mark.short() > 0 || mark.over() > 0 {
                prop_assert!(explained.matter(&mark.mark).is_some(), "{mark:?}");
            }
        }
    }

    #[test]
    fn no_shortage_is_explained_away_without_a_check(
        list in any_list(),
        said in vec(any_said(), 1..14),
    ) {
        let stands = standing(&job(&list, &said));
        let explained = explained(&stands);
        for mark in &stands.difference.as_ref().expect("an order").marks {
            let called = explained.short(&mark.mark);
            let matters: Vec<_> = (explained.matters.iter())
                .filter(|matter| matter.marks.contains(&mark.mark))
                .collect();
            let checked = matters.iter().any(|matter| matter.check.is_some());
            prop_assert!(called >= mark.short() || checked, "{mark:?}");
        }
        for matter in &explained.matters {
            prop_assert!(matter.odds >= 1.0 - 1e-9, "{matter:?}");
            let check = matter.check.as_ref();
            if matter.best.causes.iter().any(Cause::hides_a_shortage) {
                prop_assert!(check.is_some(), "{matter:?}");
            }
            if let Some(check) = check {
                prop_assert!(check.seconds > 0.0 && (0.0..=1.0).contains(&check.settles));
                prop_assert!(!check.words.is_empty());
            }
        }
    }

    #[test]
    fn the_next_story_does_without_something(list in any_list(), said in vec(any_said(), 1..14)) {
        let stands = standing(&job(&list, &said));
        for matter in &explained(&stands).matters {
            let Some(other) = &matter.other else { continue };
            prop_assert!(other.cost >= matter.best.cost, "{matter:?}");
            let kinds = |story: &Story| -> BTreeMap<(CauseKind, String), i64> {
                let causes = story.causes.iter();
                let causes = causes.filter(|cause| cause.kind != CauseKind::FewerSpares);
                causes.map(|c| ((c.kind, format!("{c:?}")), c.quantity)).collect()
            };
            prop_assert!(kinds(&matter.best) != kinds(other), "{matter:?}");
        }
    }

    #[test]
    fn the_order_of_the_log_does_not_matter(
        list in any_list(),
        (said, turn) in (vec(any_said(), 1..12), 0..12_usize),
    ) {
        let job = job(&list, &said);
        let mut turned = Job { events: job.events.clone(), documents: job.documents.clone() };
        let places = turned.events.len();
        turned.events.rotate_left(turn % places);
        turned.events.reverse();
        let (one, other) = (standing(&job), standing(&turned));
        prop_assert_eq!(explained(&one), explained(&other));
    }
}
