//! What an acknowledged event costs, held against the least that it could: one plain SQLite
//! insert with `synchronous=FULL` on the same disk, and one file write with `fdatasync`.
//!
//! The three are taken in turn, so that whatever else the disk does falls on all of them alike.
//! `cargo bench -p store`

use std::error::Error;
use std::fs::File;
use std::os::unix::fs::FileExt;
use std::path::Path;
use std::time::{Duration, Instant};

use rusqlite::{Connection, params};
use store::{Job, fresh_id, now};
use tally::{Draft, Event, What};

const RUNS: usize = 2_000;
/// Some weeks of a busy yard.
const LONG_LOG: u64 = 20_000;

fn main() -> Result<(), Box<dyn Error>> {
    println!(
        "{:<44}{:>10}{:>10}{:>10}",
        format!("{RUNS} runs each, ms"),
        "median",
        "p90",
        "p99"
    );
    compare("an empty log", 0)?;
    compare(&format!("a log of {LONG_LOG} events"), LONG_LOG)
}

fn compare(name: &str, events: u64) -> Result<(), Box<dyn Error>> {
    // The target directory, since /tmp may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let mut job = Job::create(&folder.path().join("garden.job"))?;
    fill(&job, events)?;
    let raw = raw(&folder.path().join("raw.sqlite"))?;
    let mut insert = raw.prepare("insert into line (text) values (?1)")?;
    let file = File::create(folder.path().join("file"))?;
    let line = sample(&job.writer()?).numbered(1)?.write()?;

    let (mut ours, mut plain, mut sync) = (Vec::new(), Vec::new(), Vec::new());
    for run in 0..RUNS {
        let draft = sample("phone-1");
        ours.push(timed(|| job.append(draft).map(drop))?);
        plain.push(timed(|| insert.execute([&line]).map(drop))?);
        sync.push(timed(|| {
            file.write_all_at(&[run as u8; 4096], run as u64 * 4096)?;
            file.sync_data()
        })?);
    }

    println!("{name}");
    let ours = row("  append an event", &mut ours);
    let plain = row("  plain SQLite insert, WAL, FULL", &mut plain);
    row("  write 4 KiB and fdatasync", &mut sync);
    println!(
        "  ratio append / plain insert (goal < 2)      {:>10.2}",
        ours / plain
    );
    Ok(())
}

fn sample(device: &str) -> Draft {
    let (mark, pile) = ("B1".to_owned(), Some("C".to_owned()));
    Draft {
        id: fresh_id(),
        device: device.to_owned(),
        at: now(),
        who: "Ines".to_owned(),
        what: What::Counted {
            mark,
            pile,
            quantity: 26,
            replaces: vec![fresh_id()],
            how: tally::How::Piece,
        },
    }
}

/// Puts events into the log in one transaction, past the store, which would take one for each.
fn fill(job: &Job, events: u64) -> Result<(), Box<dyn Error>> {
    let mut connection = Connection::open(job.path())?;
    let transaction = connection.transaction()?;
    for seq in 1..=events {
        let event: Event = sample("phone-2").numbered(seq)?;
        transaction.execute(
            "insert into event (id, device, seq, wire, chain) values (?1, ?2, ?3, ?4, zeroblob(32))",
            params![
                event.id.0.as_bytes(),
                event.device,
                seq as i64,
                event.write()?
            ],
        )?;
    }
    transaction.commit()?;
    Ok(())
}

fn raw(path: &Path) -> Result<Connection, rusqlite::Error> {
    let raw = Connection::open(path)?;
    raw.pragma_update(None, "journal_mode", "wal")?;
    raw.pragma_update(None, "synchronous", "full")?;
    raw.execute_batch("create table line (text text not null)")?;
    Ok(raw)
}

fn timed<E>(work: impl FnOnce() -> Result<(), E>) -> Result<Duration, E> {
    let start = Instant::now();
    work()?;
    Ok(start.elapsed())
}

/// Prints one row of the table and returns its median in milliseconds.
fn row(name: &str, times: &mut [Duration]) -> f64 {
    times.sort_unstable();
    let at = |percent: usize| times[(times.len() - 1) * percent / 100].as_secs_f64() * 1e3;
    println!("{name:<44}{:>10.3}{:>10.3}{:>10.3}", at(50), at(90), at(99));
    at(50)
}
