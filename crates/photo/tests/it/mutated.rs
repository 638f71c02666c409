//! Good files with bytes changed at random: whatever comes, an answer comes, soon.

use std::cell::Cell;
use std::time::{Duration, Instant};

use photo::{look, thumbnail, without_place};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::samples::fixture;

const FILES: [&str; 9] = [
    "turned-6.jpg",
    "place.jpg",
    "progressive.jpg",
    "grey.jpg",
    "place.png",
    "place.webp",
    "plain.webp",
    "preview.heic",
    "place.avif",
];

/// Changes to a file: a place in it as a share of its length, and what to do there.
#[derive(Debug, Clone)]
enum Change {
    Set(u16, u8),
    Flip(u16, u8),
    Cut(u16),
    Repeat(u16, u16),
    Insert(u16, Vec<u8>),
}

fn change() -> impl Strategy<Value = Change> {
    let telling = prop_oneof![
        Just(0),
        Just(0xff),
        Just(0xd8),
        Just(0xda),
        Just(0x7f),
        any::<u8>()
    ];
    prop_oneof![
        6 => (any::<u16>(), telling).prop_map(|(at, byte)| Change::Set(at, byte)),
        4 => (any::<u16>(), 0..8_u8).prop_map(|(at, bit)| Change::Flip(at, bit)),
        1 => any::<u16>().prop_map(Change::Cut),
        1 => (any::<u16>(), any::<u16>()).prop_map(|(from, to)| Change::Repeat(from, to)),
        1 => (any::<u16>(), prop::collection::vec(any::<u8>(), 0..40))
            .prop_map(|(at, bytes)| Change::Insert(at, bytes)),
    ]
}

fn changed(mut bytes: Vec<u8>, changes: &[Change]) -> Vec<u8> {
    for change in changes {
        let place = |share: &u16| usize::from(*share) * bytes.len() / 65_536;
        match change {
            _ if bytes.is_empty() => {}
            Change::Set(at, byte) => {
                let at = place(at);
                bytes[at] = *byte;
            }
            Change::Flip(at, bit) => {
                let at = place(at);
                bytes[at] ^= 1 << bit;
            }
            Change::Cut(at) => bytes.truncate(place(at)),
            Change::Repeat(from, to) => {
                let (from, to) = (place(from.min(to)), place(from.max(to)));
                let part = bytes[from..to].to_vec();
                bytes.splice(to..to, part);
            }
            Change::Insert(at, part) => {
                let at = place(at);
                bytes.splice(at..at, part.iter().copied());
            }
        }
    }
    bytes
}

#[test]
fn every_changed_file_gets_an_answer() {
    let seed = TestRng::from_seed(RngAlgorithm::ChaCha, &[4; 32]);
    let config = Config {
        cases: 6000,
        failure_persistence: None,
        ..Config::default()
    };
    // How many were shown small, and how many were not.
    let (shown, refused) = (Cell::new(0), Cell::new(0));
    let cases = (0..FILES.len(), prop::collection::vec(change(), 1..6));
    TestRunner::new_with_rng(config, seed)
        .run(&cases, |(file, changes)| {
            let bytes = changed(fixture(FILES[file]), &changes);
            let start = Instant::now();
            let looked = look(&bytes);
            let small = thumbnail(&bytes, 32);
            let shared = without_place(&bytes);
            let counted = if small.is_ok() { &shown } else { &refused };
            counted.set(counted.get() + 1);
            in_time(&start)?;
            prop_assert!(looked.is_ok() || small.is_err() && shared.is_err());
            if let Ok(shared) = shared {
                let after = look(&shared);
                prop_assert!(after.is_ok_and(|after| !after.place && after.taken.is_none()));
                // What is clean stays as it is.
                prop_assert_eq!(without_place(&shared).unwrap(), shared);
            }
            Ok(())
        })
        .unwrap();
    assert!(
        shown.get() > 1000 && refused.get() > 1000,
        "{shown:?} {refused:?}"
    );
}

/// A changed size may make a file claim 64 million pixels, which are then decoded; that too is bounded.
fn in_time(start: &Instant) -> Result<(), TestCaseError> {
    prop_assert!(
        start.elapsed() < Duration::from_secs(20),
        "{:?}",
        start.elapsed()
    );
    Ok(())
}
