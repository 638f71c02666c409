//! Tests of pictures.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod hostile;
mod look;
mod mutated;
mod rings;
mod rings_bundle;
mod rings_scene;
mod rings_score;
mod samples;
mod share;
mod sheet;
mod thumbnail;
