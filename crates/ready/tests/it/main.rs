//! One test binary for the crate.
