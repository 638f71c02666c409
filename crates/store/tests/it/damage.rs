//! Damaged files: said, never a panic.

use std::fs;
use std::os::unix::fs::FileExt;

use proptest::prelude::*;
use store::{Fault, Job};

use crate::samples::{Folder, count, tamper, wrong};

/// A job of some pages, closed, as bytes.
fn job_bytes() -> Vec<u8> {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    (1..=40).for_each(|number| count(&mut job, number, "phone-1"));
    job.put_document(&[7; 30_000]).unwrap();
    drop(job);
    fs::read(folder.path("garden.job")).unwrap()
}

#[test]
fn a_torn_file_is_reported() {
    let bytes = job_bytes();
    let folder = Folder::new();
    let path = folder.path("torn.job");
    fs::write(&path, &bytes[..bytes.len() / 2]).unwrap();
    let told = match Job::open(&path) {
        Err(refused) => matches!(refused.fault, Fault::Damaged(_)),
        Ok(job) => !wrong(&job).is_empty(),
    };
    assert!(told);
}

#[test]
fn overwritten_pages_are_reported() {
    let bytes = job_bytes();
    let folder = Folder::new();
    // Page 1 holds the schema; the others are spoiled, as by a bad disk.
    let path = folder.path("spoiled.job");
    let mut spoiled = bytes.clone();
    spoiled[4096..].fill(0xA5);
    fs::write(&path, spoiled).unwrap();
    let fault = Job::open(&path).unwrap_err().fault;
    assert!(matches!(fault, Fault::Damaged(_)), "{fault}");
}

/// A row whose wire text was lost is told apart from the rest, which is still read.
#[test]
fn one_bad_event_does_not_hide_the_others() {
    let folder = Folder::new();
    let mut job = folder.create("garden.job");
    (1..=3).for_each(|number| count(&mut job, number, "phone-1"));
    tamper(job.path(), "update event set wire = 'xx' where row = 2");
    let log = job.events().unwrap();
    assert_eq!(log.events.len(), 2);
    assert_eq!(log.unread.len(), 1);
    assert_eq!((log.unread[0].row, log.upto), (2, 3));
    let told = wrong(&job);
    assert!(
        told.len() == 2
            && told[0].starts_with("event row 2: from here on the chain no longer fits")
            && told[1].starts_with("event row 2: not an event"),
        "{told:?}"
    );
    tamper(job.path(), "update event set seq = 77 where row = 3");
    assert_eq!(
        wrong(&job)[2],
        "event row 3: its id, device or number was changed"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Bytes changed anywhere: opened or refused, read or refused, never a panic.
    #[test]
    fn flipped_bytes_never_panic(flips in prop::collection::vec((any::<u32>(), 1..=255_u8), 1..40)) {
        static BYTES: std::sync::OnceLock<Vec<u8>> = std::sync::OnceLock::new();
        let mut bytes = BYTES.get_or_init(job_bytes).clone();
        for (place, flip) in flips {
            let place = place as usize % bytes.len();
            bytes[place] ^= flip;
        }
        let folder = Folder::new();
        let path = folder.path("flipped.job");
        fs::write(&path, bytes).unwrap();
        if let Ok(mut job) = Job::open(&path) {
            let _ = job.verify(None);
            let _ = job.events();
            for (digest, _) in job.documents().unwrap_or_default() {
                let _ = job.document(&digest);
            }
            let mut other = Job::create_as(&folder.path("other.job"), job.id()).unwrap();
            let _ = other.merge(&job);
            prop_assert_eq!(wrong(&other), Vec::<String>::new());
            let _ = job.merge(&other);
            let _ = job.append(crate::samples::draft(99, "phone-2", crate::samples::counted(1)));
        }
    }
}

/// Damage that comes while the job is open is said when it is met.
#[test]
fn damage_under_an_open_job_is_met_as_damage() {
    let folder = Folder::new();
    let path = folder.path("garden.job");
    fs::write(&path, job_bytes()).unwrap();
    let job = Job::open(&path).unwrap();
    let file = fs::File::options().write(true).open(&path).unwrap();
    let length = usize::try_from(file.metadata().unwrap().len()).unwrap();
    file.write_all_at(&vec![0xA5; length - 4096], 4096).unwrap();
    let fault = job.events().unwrap_err().fault;
    assert!(matches!(fault, Fault::Damaged(_)), "{fault}");
}
