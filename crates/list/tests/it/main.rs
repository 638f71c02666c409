//! One linked test binary for the crate.

mod assignment;
mod describe;
mod hands;
mod headers;
mod hostile;
mod large;
mod parts;
mod quantities;
mod reading;
mod tables;
