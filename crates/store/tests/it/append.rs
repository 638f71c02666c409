//! Appending and reading back.

use std::thread;

use store::{Fault, Job, fresh_id, now};
use tally::{Draft, Refusal, State};

use crate::samples::{Folder, count, counted, draft, id, wires, wrong};

#[test]
fn events_are_numbered_and_stay() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let first = job.append(draft(7, "phone-1", counted(26))).unwrap();
    let second = job.append(draft(3, "phone-2", counted(4))).unwrap();
    assert_eq!((first.seq, second.seq), (1, 2));
    drop(job);
    let job = Job::open(&folder.path("garden.job")).unwrap();
    let log = job.events().unwrap();
    assert_eq!(log.events, [first, second]);
    assert!(log.unread.is_empty());
    assert_eq!(State::fold(&log.events).on_hand("B1").good(), 30);
    assert_eq!(wrong(&job), Vec::<String>::new());
}

#[test]
fn a_retry_is_the_event_that_is_there() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let first = job.append(draft(1, "phone-1", counted(26))).unwrap();
    // The phone has joined anew meanwhile, and its clock was put right.
    let again = Draft {
        at: 2_000,
        ..draft(1, "phone-9", counted(26))
    };
    assert_eq!(job.append(again).unwrap(), first);
    let other = job.append(draft(1, "phone-1", counted(27))).unwrap_err();
    assert!(matches!(other.fault, Fault::IdTaken(taken) if taken == id(1)));
    assert_eq!(job.events().unwrap().events, [first]);
}

#[test]
fn nonsense_is_refused_and_takes_no_number() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    let refused = job.append(draft(1, "phone-1", counted(-1))).unwrap_err();
    assert!(matches!(
        &refused.fault,
        Fault::Refused(Refusal::Range {
            field: "quantity",
            ..
        })
    ));
    let message = refused.to_string();
    assert!(
        message.ends_with("garden.job: quantity is -1; it must be from 0 to 1000000"),
        "{message}"
    );
    assert_eq!(job.append(draft(1, "phone-1", counted(1))).unwrap().seq, 1);
}

#[test]
fn reading_goes_on_from_where_it_stopped() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    (1..=3).for_each(|number| count(&mut job, number, "phone-1"));
    let log = job.events().unwrap();
    assert_eq!(log.events.len(), 3);
    let none = job.events_since(log.upto).unwrap();
    assert!(none.events.is_empty());
    assert_eq!(none.upto, log.upto);
    count(&mut job, 4, "phone-1");
    let rest = job.events_since(none.upto).unwrap();
    assert_eq!(
        rest.events.iter().map(|event| event.id).collect::<Vec<_>>(),
        [id(4)]
    );
}

/// Two openings of one file, one device name, at once: no slot is given twice, none is lost.
#[test]
fn two_writers_never_share_a_slot() {
    let folder = Folder::new();
    let path = folder.path("garden.job");
    drop(folder.create("garden.job"));
    thread::scope(|scope| {
        for half in 0..2 {
            let path = &path;
            scope.spawn(move || {
                let mut job = Job::open(path).unwrap();
                (0..50).for_each(|n| count(&mut job, 1 + half * 50 + n, "phone-1"));
            });
        }
    });
    let events = Job::open(&path).unwrap().events().unwrap().events;
    let mut numbers: Vec<u64> = events.iter().map(|event| event.seq).collect();
    numbers.sort_unstable();
    assert_eq!(numbers, (1..=100).collect::<Vec<_>>());
    assert_eq!(wires(&path).len(), 100);
}

/// Two who open a job at the same first moment agree on its writer.
#[test]
fn opening_at_once_settles_one_writer() {
    let folder = Folder::new();
    drop(folder.create("garden.job"));
    crate::samples::tamper(&folder.path("garden.job"), "delete from local");
    let path = &folder.path("garden.job");
    let writers: Vec<String> = thread::scope(|scope| {
        let open = || scope.spawn(|| Job::open(path).unwrap().writer().unwrap());
        let opened: Vec<_> = (0..4).map(|_| open()).collect();
        opened
            .into_iter()
            .map(|thread| thread.join().unwrap())
            .collect()
    });
    assert!(
        writers.iter().all(|writer| *writer == writers[0]),
        "{writers:?}"
    );
}

/// 2026-01-01 is 1767225600000 ms after the epoch (derived, D: 20454 days of 86400000 ms).
#[test]
fn the_edge_gives_new_ids_and_the_time() {
    assert_ne!(fresh_id(), fresh_id());
    assert_eq!(fresh_id().0.get_version_num(), 7);
    assert!(now() > 20_454 * 86_400_000);
}
