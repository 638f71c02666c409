//! However forms travel, and whatever copies are made of a job and merged: all end at the same state, with nothing lost
//! and nothing double.

use std::borrow::Cow;
use std::collections::BTreeSet;

use std::ops::Range;

use tally::{Draft, Event};

use crate::schedule::{self, Copy};

/// A copy in memory, which does what the job file promises.
#[derive(Default)]
struct InMemory(Vec<Event>);

impl Copy for InMemory {
    fn log(&self) -> Cow<'_, [Event]> {
        Cow::Borrowed(&self.0)
    }

    fn append(&mut self, draft: Draft) {
        match self.0.iter().find(|event| event.id == draft.id) {
            Some(known) => assert_eq!(known.what, draft.what, "one id, two things to say"),
            None => {
                let highest = self.0.iter().map(|event| event.seq).max().unwrap_or(0);
                let event = draft
                    .numbered(highest + 1)
                    .expect("what was decided can be written");
                self.0.push(event);
            }
        }
    }

    fn take_in(&mut self, other: &Self) {
        let known: BTreeSet<_> = self.0.iter().map(|event| event.id).collect();
        let new = other.0.iter().filter(|event| !known.contains(&event.id));
        self.0.extend(new.cloned());
    }

    fn copied(&self) -> Self {
        Self(self.0.clone())
    }
}

fn all_end_alike(seeds: Range<u64>) {
    for seed in seeds {
        schedule::run(seed, InMemory::default());
    }
}

// Ten thousand in two halves, so that two processors share them.

#[test]
fn schedules_end_alike() {
    all_end_alike(0..5_000);
}

#[test]
fn further_schedules_end_alike() {
    all_end_alike(5_000..10_000);
}
