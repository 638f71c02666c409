//! Others' readers may panic and are caught at it, which is no finding. Ours may not, caught or not.

use std::sync::atomic::{AtomicBool, Ordering};

/// A panic began in our code.
static OURS: AtomicBool = AtomicBool::new(false);

/// From now on says where a panic of ours began, and is silent about others.
pub fn watch() {
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

/// Whether there was one.
pub fn were_ours() -> bool {
    OURS.load(Ordering::Relaxed)
}
