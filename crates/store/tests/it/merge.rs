//! The union of copies.

use proptest::collection::vec;
use proptest::prelude::*;
use store::{Fault, Job, Merged, Problem};
use tally::{Event, State, What};

use crate::samples::{Folder, count, counted, draft, forge, id, shared, wires, wrong};

/// What somebody does to a copy.
#[derive(Debug, Clone)]
enum Act {
    Count(i64),
    Undo(usize),
    Document(u8),
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        3 => (0..9_i64).prop_map(Act::Count),
        2 => (0..20_usize).prop_map(Act::Undo),
        1 => (0..6_u8).prop_map(Act::Document),
    ];
    vec(act, 0..5)
}

/// Does `acts` to a job; ids begin at `first`, so that each copy has its own.
fn act(job: &mut Job, acts: &[Act], first: u128) {
    let device = job.writer().expect("each copy has a writer");
    for (number, act) in (first..).zip(acts) {
        let what = match act {
            Act::Count(quantity) => counted(*quantity),
            Act::Document(byte) => {
                job.put_document(&[*byte; 100]).expect("a small document");
                continue;
            }
            Act::Undo(place) => {
                let events = job.events().expect("they read").events;
                let Some(event) = events.get(place % events.len().max(1)) else {
                    continue;
                };
                What::Corrected {
                    of: vec![event.id],
                    why: String::new(),
                }
            }
        };
        job.append(draft(number, &device, what))
            .expect("a good event");
    }
}

fn state(job: &Job) -> State {
    State::fold(&job.events().expect("they read").events)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]

    /// Three copies with a common beginning, part of one passed to another halfway; then merged in
    /// both directions, in every order and with repetitions: the same events to the byte, the same
    /// documents, the same state.
    #[test]
    fn union_is_the_same_in_any_order(
        before in acts(), first in acts(), second in acts(), third in acts(), late in acts()
    ) {
        let folder = Folder::new();
        let mut a = folder.create("a.job");
        act(&mut a, &before, 100);
        let (mut b, mut c) = (folder.copy(&a, "b.job"), folder.copy(&a, "c.job"));
        act(&mut a, &first, 200);
        act(&mut b, &second, 300);
        b.merge(&a).unwrap();
        act(&mut b, &late, 400);
        act(&mut c, &third, 500);

        // (a ∪ b) ∪ c
        let mut left = folder.copy(&a, "left.job");
        left.merge(&b).unwrap();
        left.merge(&c).unwrap();
        // a ∪ (b ∪ c)
        let mut bc = folder.copy(&b, "bc.job");
        bc.merge(&c).unwrap();
        let mut right = folder.copy(&a, "right.job");
        right.merge(&bc).unwrap();
        // c ∪ b ∪ a, and again
        let mut back = folder.copy(&c, "back.job");
        back.merge(&b).unwrap();
        back.merge(&a).unwrap();
        prop_assert_eq!(back.merge(&left).unwrap(), Merged::default());
        prop_assert_eq!(left.merge(&back).unwrap(), Merged::default());

        let union = shared(&left);
        prop_assert_eq!(&union, &shared(&right));
        prop_assert_eq!(&union, &shared(&back));
        prop_assert_eq!(state(&left), state(&right));
        prop_assert_eq!(state(&left), state(&back));
        // Nothing is lost and nothing comes from nowhere.
        let mut expected: Vec<String> =
            [&a, &b, &c].into_iter().flat_map(|job| wires(job.path())).collect();
        expected.sort();
        expected.dedup();
        prop_assert_eq!(union.0, expected);
        prop_assert_eq!(wrong(&left), Vec::<String>::new());
    }
}

#[test]
fn a_merge_says_what_came_in() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    count(&mut here, 1, "phone-1");
    let mut there = folder.copy(&here, "there.job");
    count(&mut there, 2, "phone-2");
    count(&mut there, 3, "phone-2");
    there.put_document(b"a list").unwrap();
    let merged = here.merge(&there).unwrap();
    assert_eq!(
        merged,
        Merged {
            events: 2,
            documents: 1,
            kept_out: 0,
            problems: vec![]
        }
    );
    assert_eq!(here.merge(&there).unwrap(), Merged::default());
    // What comes next has a number above all that was seen.
    assert_eq!(here.append(draft(4, "phone-1", counted(1))).unwrap().seq, 4);
}

#[test]
fn a_job_merged_with_itself_is_itself() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    count(&mut job, 1, "phone-1");
    let twin = Job::open(job.path()).unwrap();
    assert_eq!(job.merge(&twin).unwrap(), Merged::default());
}

#[test]
fn two_jobs_are_not_mixed() {
    let folder = Folder::new();
    let (mut one, mut two) = (folder.create("one.job"), folder.create("two.job"));
    count(&mut two, 1, "phone-1");
    let refused = one.merge(&two).unwrap_err();
    assert!(
        matches!(refused.fault, Fault::AnotherJob { .. }),
        "{refused}"
    );
    assert!(one.events().unwrap().events.is_empty());
}

/// A device that writes on under one name in two copies: both keep their own, and both say so.
#[test]
fn a_slot_clash_is_reported_and_the_rest_comes_in() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let mut there = folder.copy(&here, "there.job");
    count(&mut here, 1, "phone-1");
    count(&mut there, 2, "phone-1");
    count(&mut there, 3, "phone-1");
    let merged = here.merge(&there).unwrap();
    let (device, seq) = ("phone-1".to_owned(), 1);
    let clash = Problem::SlotTaken {
        device,
        seq,
        here: id(1),
        there: id(2),
    };
    assert_eq!(
        clash.to_string(),
        format!(
            "event {} claims number 1 of device `phone-1`, which is event {} here",
            id(2),
            id(1)
        )
    );
    assert_eq!(
        merged,
        Merged {
            events: 1,
            documents: 0,
            kept_out: 1,
            problems: vec![clash]
        }
    );
    let ids: Vec<_> = here
        .events()
        .unwrap()
        .events
        .iter()
        .map(|event| event.id)
        .collect();
    assert_eq!(ids, [id(1), id(3)]);
    // The other copy still has its own.
    assert_eq!(there.events().unwrap().events.len(), 2);
}

/// Kinds, versions and spellings that this build does not know pass through it unharmed.
#[test]
fn what_a_newer_build_wrote_survives_to_the_byte() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let there = folder.copy(&here, "there.job");
    let head = |number: u128, v: u32, seq: u32| {
        format!(
            r#"{{ "v":{v}, "chain":"q", "id":"{}","device":"x","seq":{seq},"at":5,"who":"Ben","kind":"#,
            id(number)
        )
    };
    let texts = [
        format!(
            r#"{}"weighed","body":{{"z":1.50,"a":[1e3,  "\u00fc"],"z":2}} }}"#,
            head(1, 1, 1)
        ),
        format!(r#"{}"counted","body":[4, "B1"]}}"#, head(2, 2, 2)),
        format!(
            r#"{}"counted","body":{{"photo":"n.jpg","mark":"B1","pile":null,"quantity":2,"replaces":[]}}}}"#,
            head(3, 1, 3)
        ),
    ];
    for (number, text) in (1..).zip(&texts) {
        forge(&there, number, "x", number as i64, text);
    }
    let mut expected = texts.to_vec();
    expected.sort();
    assert_eq!(here.merge(&there).unwrap().events, 3);
    assert_eq!(wires(here.path()), expected);
    let onward = folder.copy(&here, "onward.job");
    assert_eq!(wires(onward.path()), expected);
    let state = state(&onward);
    assert_eq!((state.unknown, state.on_hand("B1").good()), (2, 2));
    assert_eq!(wrong(&onward), Vec::<String>::new());
}

/// A merge that fails leaves everything as it was.
#[test]
fn a_merge_is_all_or_nothing() {
    let folder = Folder::new();
    let mut here = folder.create("here.job");
    let mut there = folder.copy(&here, "there.job");
    (1..=400).for_each(|number| count(&mut there, number, "phone-1"));
    let path = there.path().to_owned();
    drop(there);
    // Spoil the leaf pages at the end of the file, which come late in the reading.
    let mut bytes = std::fs::read(&path).unwrap();
    let pages = bytes.len() / 4096;
    for page in pages / 2..pages {
        bytes[page * 4096..(page + 1) * 4096].fill(0xA5);
    }
    std::fs::write(&path, bytes).unwrap();
    let there = Job::open(&path).unwrap();
    let refused = here.merge(&there).unwrap_err();
    assert!(matches!(refused.fault, Fault::InOther(_)), "{refused}");
    assert_eq!(here.events().unwrap().events, Vec::<Event>::new());
}
