//! Running a program within bounds: no shell, so much time, so much said; it never outlives the call.

use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

/// The most time for one page.
pub const MOST_TIME: Duration = Duration::from_secs(90);

/// The most bytes that are taken from it.
const MOST_SAID: u64 = 16 << 20;
/// Of its complaints, enough to tell what is wrong.
const MOST_COMPLAINTS: u64 = 16 << 10;
/// How often it is looked at.
const LOOK: Duration = Duration::from_millis(10);

/// Why a run gave nothing.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Failed {
    /// It could not be started.
    #[error("it cannot be started: {0}")]
    NotStarted(String),
    /// It took too long, and was ended.
    #[error("it was ended after {0} seconds")]
    TookTooLong(u64),
    /// It said more than is taken.
    #[error("it said more than {} MiB", MOST_SAID >> 20)]
    SaidTooMuch,
    /// It gave up.
    #[error("it gave up: {0}")]
    GaveUp(String),
}

/// A program that is ended when it is no longer wanted.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        // Both fail where it has ended already, which is what is wanted.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Runs a program with `given` on its standard input, and returns what it writes to its standard output.
pub(crate) fn run(
    program: &Path,
    arguments: &[&str],
    given: &[u8],
    most: Duration,
) -> Result<Vec<u8>, Failed> {
    let started = Instant::now();
    let not_started = |error: std::io::Error| Failed::NotStarted(error.to_string());
    let mut command = Command::new(program);
    command
        .args(arguments)
        // One thread: on two cores it is no slower with one, and the server goes on answering.
        .env("OMP_THREAD_LIMIT", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut running = Running(command.spawn().map_err(not_started)?);
    let pipes = (
        running.0.stdin.take(),
        running.0.stdout.take(),
        running.0.stderr.take(),
    );
    let (Some(mut to), Some(said), Some(complaints)) = pipes else {
        return Err(Failed::NotStarted("it has no pipes".into()));
    };
    thread::scope(|scope| {
        let (sender, receiver) = mpsc::channel();
        scope.spawn(move || {
            let mut bytes = Vec::new();
            let read = said.take(MOST_SAID + 1).read_to_end(&mut bytes);
            // Nobody listens any more where the time is up.
            let _ = sender.send(read.map(|_| bytes));
        });
        let complained = scope.spawn(move || {
            let mut bytes = Vec::new();
            let mut complaints = complaints;
            let _ = complaints
                .by_ref()
                .take(MOST_COMPLAINTS)
                .read_to_end(&mut bytes);
            // The rest is read and forgotten, or the program would wait for it to be taken.
            let _ = std::io::copy(&mut complaints, &mut std::io::sink());
            String::from_utf8_lossy(&bytes).into_owned()
        });
        // A program that wants no picture closes the pipe early, which is no fault.
        scope.spawn(move || to.write_all(given));

        let said = said_in_time(&receiver, started, most);
        let ended = said.and_then(|bytes| Ok((bytes, ended(&mut running.0, started, most)?)));
        // Ends it, so that the pipes close and the threads come back.
        drop(running);
        let (bytes, well) = ended?;
        if well {
            return Ok(bytes);
        }
        let complaint = complained.join().unwrap_or_default();
        let last = complaint.lines().rev().find(|line| !line.trim().is_empty());
        let last: String = last
            .unwrap_or("it did not say why")
            .chars()
            .take(200)
            .collect();
        Err(Failed::GaveUp(last))
    })
}

fn said_in_time(
    receiver: &mpsc::Receiver<std::io::Result<Vec<u8>>>,
    started: Instant,
    most: Duration,
) -> Result<Vec<u8>, Failed> {
    let left = most.saturating_sub(started.elapsed());
    match receiver.recv_timeout(left) {
        Ok(Ok(bytes)) if bytes.len() as u64 > MOST_SAID => Err(Failed::SaidTooMuch),
        Ok(Ok(bytes)) => Ok(bytes),
        Ok(Err(error)) => Err(Failed::GaveUp(error.to_string())),
        Err(_) => Err(Failed::TookTooLong(most.as_secs())),
    }
}

/// Whether it ended well, within its time.
fn ended(child: &mut Child, started: Instant, most: Duration) -> Result<bool, Failed> {
    loop {
        match child.try_wait() {
            Ok(Some(status)) => return Ok(status.success()),
            Ok(None) if started.elapsed() >= most => {
                return Err(Failed::TookTooLong(most.as_secs()));
            }
            Ok(None) => thread::sleep(LOOK),
            Err(error) => return Err(Failed::GaveUp(error.to_string())),
        }
    }
}
