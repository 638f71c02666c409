//! Tests from outside: the program is run as people run it, its pages are asked for as browsers ask.

#![allow(
    clippy::unwrap_used,
    reason = "a test that meets an error is to stop there"
)]

mod browser;
mod cli;
mod demo;
mod driver;
mod escapes;
mod http;
mod inputs;
mod keeps;
mod own_family;
mod program;
mod refusals;
mod schema;
mod verify;
mod yard;
