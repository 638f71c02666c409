//! Tests of pictures.

mod hostile;
mod look;
mod mutated;
mod samples;
mod share;
mod thumbnail;
