//! What a power cut leaves: the main file, and the write-ahead log up to any byte.

use std::fs;

use proptest::prelude::*;
use store::Job;
use tally::EventId;

use crate::samples::{Folder, count, id, wrong};

/// The main file and the write-ahead log of a job with 30 events that was never closed.
fn torn() -> &'static (Vec<u8>, Vec<u8>) {
    static FILES: std::sync::OnceLock<(Vec<u8>, Vec<u8>)> = std::sync::OnceLock::new();
    FILES.get_or_init(|| {
        let folder = Folder::new();
        let mut job = folder.create("garden.job");
        (1..=30).for_each(|number| count(&mut job, number, "phone-1"));
        let files = ["garden.job", "garden.job-wal"].map(|name| fs::read(folder.path(name)));
        let [main, wal] = files.map(|bytes| bytes.expect("an open job has both"));
        (main, wal)
    })
}

/// Opens what is left and returns the ids in it.
fn left(main: &[u8], wal: &[u8]) -> Vec<EventId> {
    let folder = Folder::new();
    fs::write(folder.path("garden.job"), main).expect("written");
    fs::write(folder.path("garden.job-wal"), wal).expect("written");
    let job = Job::open(&folder.path("garden.job")).expect("it opens");
    assert_eq!(wrong(&job), Vec::<String>::new());
    let log = job.events().expect("it reads");
    assert!(log.unread.is_empty());
    log.events.into_iter().map(|event| event.id).collect()
}

fn is_a_beginning(ids: &[EventId]) -> bool {
    ids.iter()
        .eq((1..=ids.len() as u128).map(id).collect::<Vec<_>>().iter())
}

#[test]
fn all_of_it_is_there_when_all_was_written() {
    let (main, wal) = torn();
    assert_eq!(left(main, wal).len(), 30);
    // And it is the log that holds them, so that the cuts below cut something.
    assert!(left(main, &[]).is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Cut anywhere: the events that are left are the first ones, each whole.
    #[test]
    fn a_cut_leaves_a_beginning(cut in any::<prop::sample::Index>()) {
        let (main, wal) = torn();
        let ids = left(main, &wal[..cut.index(wal.len())]);
        prop_assert!(is_a_beginning(&ids), "{ids:?}");
    }

    /// The tail was allotted but never written: zeros, or what lay on the disk before.
    #[test]
    fn a_garbled_tail_leaves_a_beginning(cut in any::<prop::sample::Index>(), byte in any::<u8>()) {
        let (main, wal) = torn();
        let mut wal = wal.clone();
        let cut = cut.index(wal.len());
        wal[cut..].fill(byte);
        let ids = left(main, &wal);
        prop_assert!(is_a_beginning(&ids), "{ids:?}");
    }
}
