//! What the crate promises, in one binary.

mod gauge;
mod length_properties;
mod length_read;
mod length_write;
mod mass;
mod mil;
mod tolerance;
mod tube;
mod units;
