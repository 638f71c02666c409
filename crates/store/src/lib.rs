//! The job file: one SQLite file for one order on one site.
//!
//! What people share in it is two sets: the events of the [`tally`], by id, and documents, by the
//! SHA-256 of their bytes. So the union of two copies is the same in any order. What belongs to
//! this copy alone (join code, phones, thumbnails) lies in tables of its own and is never merged.
//! So is the order in which events came into this copy; the chain binds them in that order, so
//! that a later change shows.
//!
//! **Invariant:** an event or document that was acknowledged is on disk, and is never changed or
//! removed.

mod bundle;
mod bundle_form;
mod bundle_log;
mod bundle_names;
mod bundle_read;
mod bundle_verify;
mod chain;
mod derived;
mod document;
mod edge;
mod error;
mod file;
mod job;
mod local;
mod log;
mod merge;
mod schema;
mod verify;

pub use bundle::{Bundled, BundledPaper, Snapshot, write_bundle};
pub use bundle_verify::{BundleReport, verify_bundle};
pub use derived::MAX_THUMBNAIL;
pub use document::MAX_DOCUMENT;
pub use edge::{fresh_id, now};
pub use error::{Fault, StoreError};
pub use job::{Job, JobId};
pub use local::Device;
pub use log::{Log, UnreadEvent};
pub use merge::{MAX_PROBLEMS, Merged, Problem};
pub use verify::{Noted, Report};

/// Returns whether a file begins as a bundle does; any zip does.
pub fn is_bundle(path: &std::path::Path) -> bool {
    bundle_read::is_one(path)
}
