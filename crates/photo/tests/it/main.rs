//! Tests of pictures.

mod hostile;
mod look;
mod mutated;
mod rings;
mod rings_bundle;
mod rings_scene;
mod rings_score;
mod samples;
mod share;
mod thumbnail;
