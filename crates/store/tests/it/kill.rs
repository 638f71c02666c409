//! Kill -9 under a stream of events loses no acknowledged one.

use std::collections::BTreeSet;
use std::env;
use std::hint;
use std::io::{BufRead, BufReader, Write, stdout};
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use store::{Job, fresh_id};
use tally::{Digest, Draft, EventId};

use crate::samples::{Folder, counted, wrong};

const JOB: &str = "STORE_TEST_KILLED_JOB";
const SIGKILL: i32 = 9;

/// The process that is killed: this test binary, started anew with a job to write to. Without one
/// it has nothing to do. It says what was acknowledged, line by line.
#[test]
fn the_writer_that_is_killed() {
    let Some(path) = env::var_os(JOB) else { return };
    let mut job = Job::open(Path::new(&path)).unwrap();
    let device = job.writer().unwrap();
    for round in 0_u64.. {
        let (id, who) = (fresh_id(), "Ines".to_owned());
        let draft = Draft {
            id,
            device: device.clone(),
            at: 1,
            who,
            what: counted(1),
        };
        let event = job.append(draft).unwrap();
        writeln!(stdout(), "\nevent {}", event.id).unwrap();
        if round % 4 == 0 {
            let digest = job
                .put_document(event.id.to_string().repeat(300).as_bytes())
                .unwrap();
            writeln!(stdout(), "\ndocument {digest}").unwrap();
        }
    }
}

#[test]
fn kill_loses_nothing_that_was_acknowledged() {
    check(1, 14, 0x5EED_0001);
}

#[test]
fn kill_of_two_writers_loses_nothing_that_was_acknowledged() {
    check(2, 6, 0x5EED_0002);
}

/// Kills `writers` processes at once, `rounds` times on one and the same job, so that each round
/// begins with what the last one left.
fn check(writers: usize, rounds: usize, seed: u64) {
    let folder = Folder::new();
    let path = folder.path("garden.job");
    drop(folder.create("garden.job"));
    let mut dice = Dice(seed);
    let mut told = Told::default();
    for _ in 0..rounds {
        let running: Vec<Child> = (0..writers).map(|_| start(&path)).collect();
        for child in running {
            told.read_and_kill(child, &mut dice);
        }
        let job = Job::open(&path).unwrap();
        assert_eq!(wrong(&job), Vec::<String>::new());
        let log = job.events().unwrap();
        assert!(log.unread.is_empty());
        let kept: BTreeSet<EventId> = log.events.iter().map(|event| event.id).collect();
        let lost: Vec<_> = told.events.difference(&kept).collect();
        assert!(lost.is_empty(), "seed {seed:x}: lost {lost:?}");
        let documents: BTreeSet<Digest> = job
            .documents()
            .unwrap()
            .into_iter()
            .map(|(digest, _)| digest)
            .collect();
        assert!(told.documents.is_subset(&documents), "seed {seed:x}");
    }
    assert!(told.events.len() > rounds && !told.documents.is_empty());
}

fn start(path: &Path) -> Child {
    Command::new(env::current_exe().unwrap())
        .args(["--exact", "kill::the_writer_that_is_killed", "--nocapture"])
        .env(JOB, path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// What the writers said was acknowledged.
#[derive(Default)]
struct Told {
    events: BTreeSet<EventId>,
    documents: BTreeSet<Digest>,
}

impl Told {
    /// Reads up to a thrown number of acknowledgements, lets a thrown while pass, kills, and reads
    /// what was said until then.
    fn read_and_kill(&mut self, mut child: Child, dice: &mut Dice) {
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let enough = self.events.len() + 1 + dice.below(60);
        while self.events.len() < enough {
            let line = lines.next().expect("the writer goes on until it is killed");
            self.note(&line.unwrap());
        }
        (0..dice.below(200_000)).for_each(|_| hint::spin_loop());
        child.kill().unwrap();
        assert_eq!(child.wait().unwrap().signal(), Some(SIGKILL));
        for line in lines {
            self.note(&line.unwrap());
        }
    }

    fn note(&mut self, line: &str) {
        // A line that was cut off by the kill is no acknowledgement, nor is the harness's chatter.
        if let Some(id) = line.strip_prefix("event ").and_then(|id| id.parse().ok()) {
            self.events.insert(id);
        }
        if let Some(digest) = line
            .strip_prefix("document ")
            .and_then(|text| text.parse().ok())
        {
            self.documents.insert(digest);
        }
    }
}

/// A seeded source of numbers (xorshift64, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % bound as u64) as usize
    }
}
