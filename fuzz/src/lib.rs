//! What each target does with its input. The same files are compiled into the tests of `list`, which replay the corpus.

use std::time::Duration;

use cpu_time::ThreadTime;

mod harness;
mod panics;
mod shells;

pub use panics::watch;

/// Longest that an input of a few kilobytes may keep a processor. That of the clock says little on a busy machine.
const LONG: Duration = Duration::from_secs(1);

/// Has the reader of this name read an input, in time.
pub fn read(reader: &str, input: &[u8]) {
    let start = ThreadTime::now();
    harness::read(reader, input);
    let took = start.elapsed();
    assert!(took < LONG, "{took:?}");
    assert!(!panics::were_ours(), "a panic of our own was caught");
}
