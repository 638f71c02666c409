//! The schedules of the tally's tests, on real job files.

use std::borrow::Cow;
use std::cell::Cell;
use std::rc::Rc;

use store::Job;
use tally::{Draft, Event};

use crate::samples::Folder;
use crate::schedule::{self, Copy};

struct OnDisk {
    folder: Rc<Folder>,
    made: Rc<Cell<usize>>,
    job: Job,
}

impl Copy for OnDisk {
    fn log(&self) -> Cow<'_, [Event]> {
        Cow::Owned(self.job.events().expect("they read").events)
    }

    fn append(&mut self, draft: Draft) {
        self.job.append(draft).expect("a good event");
    }

    fn take_in(&mut self, other: &Self) {
        let merged = self.job.merge(&other.job).expect("copies of one job");
        assert_eq!(merged.problems, []);
    }

    fn copied(&self) -> Self {
        self.made.set(self.made.get() + 1);
        let name = format!("{}.tallyard", self.made.get());
        Self {
            folder: self.folder.clone(),
            made: self.made.clone(),
            job: self.folder.copy(&self.job, &name),
        }
    }
}

#[test]
fn schedules_on_disk_end_alike() {
    for seed in 0..25 {
        let folder = Rc::new(Folder::new());
        let job = folder.create("first.tallyard");
        let made = Rc::new(Cell::new(0));
        schedule::run(seed, OnDisk { folder, made, job });
    }
}
