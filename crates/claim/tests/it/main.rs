//! The tests of this crate, linked once.
