//! What the crate promises, in one binary.

mod length_read;
