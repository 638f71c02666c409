//! Many phones that count at once; `benches/load.rs` does it for a minute.

use std::collections::BTreeSet;
use std::fmt;
use std::path::Path;
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

use crate::yard::{Running, id};

const PHONES: u32 = 20;
/// Counts a second, of all phones together.
const RATE: u32 = 50;

/// How long the acknowledgements took, sorted.
pub struct Load {
    pub times: Vec<Duration>,
    pub lasted: Duration,
}

impl Load {
    fn at(&self, share: f64) -> Duration {
        self.times[((self.times.len() - 1) as f64 * share) as usize]
    }
}

impl fmt::Display for Load {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let millis = |time: Duration| time.as_secs_f64() * 1e3;
        write!(
            f,
            "{PHONES} phones, {RATE} counts a second: {} counts acknowledged in {:.1} s; \
             half within {:.1} ms, 99 % within {:.1} ms, all within {:.1} ms",
            self.times.len(),
            self.lasted.as_secs_f64(),
            millis(self.at(0.5)),
            millis(self.at(0.99)),
            millis(self.at(1.0)),
        )
    }
}

/// Has 20 phones count for so long, each in its own even beat; checks that all counts are in the file, once each.
pub fn run(program: &str, job: &Path, lasts: Duration) -> Load {
    let yard = Running::open(program, job);
    let before = yard.log().len();
    let beat = Duration::from_secs(1) * PHONES / RATE;
    let each = lasts.as_millis() as u32 / beat.as_millis() as u32;
    let (sends, times) = mpsc::channel();
    let phones: Vec<_> = (0..PHONES)
        .map(|n| yard.joined(&format!("Phone {n}")))
        .collect();
    let begun = Instant::now();
    for (n, phone) in (0..).zip(phones) {
        let sends = sends.clone();
        thread::spawn(move || {
            for k in 0..each {
                let due = begun + beat * k + beat * n / PHONES;
                thread::sleep(due.saturating_duration_since(Instant::now()));
                let form = id(u64::from(n * 1_000_000 + k));
                let answer = phone.post("/count/X3", &[("id", &form), ("quantity", "1")]);
                assert_eq!(answer.status, 303, "{}", answer.text());
                sends.send(due.elapsed()).unwrap();
            }
        });
    }
    drop(sends);
    let mut times: Vec<Duration> = times.iter().collect();
    times.sort_unstable();
    let lasted = begun.elapsed();
    assert_eq!(times.len(), (PHONES * each) as usize, "a phone gave up");
    // As a power cut would leave it.
    yard.kill();
    let log = store::Job::open(job).unwrap().events().unwrap().events;
    assert_eq!(log.len() - before, times.len());
    let ids: BTreeSet<String> = log.iter().map(|event| event.id.to_string()).collect();
    for n in 0..PHONES {
        for k in 0..each {
            assert!(
                ids.contains(&id(u64::from(n * 1_000_000 + k))),
                "count {k} of phone {n} is lost"
            );
        }
    }
    Load { times, lasted }
}
