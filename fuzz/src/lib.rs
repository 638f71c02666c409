//! What each target does with its input. The same files are compiled into the tests of `list`, which replay the corpus.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use cpu_time::ThreadTime;

mod harness;
mod shells;

/// Longest that an input of a few kilobytes may keep a processor. That of the clock says little on a busy machine.
const LONG: Duration = Duration::from_secs(1);

/// Has the reader of this name read an input, in time.
pub fn read(reader: &str, input: &[u8]) {
    let start = ThreadTime::now();
    harness::read(reader, input);
    let took = start.elapsed();
    assert!(took < LONG, "{took:?}");
    assert!(
        !OURS.load(Ordering::Relaxed),
        "a panic of our own was caught"
    );
}

/// A panic began in our code.
static OURS: AtomicBool = AtomicBool::new(false);

/// Others' readers may panic and are caught at it, which is no finding; ours may not, caught or not, and say where.
pub fn quiet() {
    std::panic::set_hook(Box::new(|panic| {
        let ours = |file: &str| file.contains("crates/") || file.starts_with("src/");
        if panic
            .location()
            .is_some_and(|place| ours(place.file()) && !place.file().contains("registry"))
        {
            eprintln!("{panic}");
            OURS.store(true, Ordering::Relaxed);
        }
    }));
}
