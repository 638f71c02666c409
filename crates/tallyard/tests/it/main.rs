//! Tests from outside: the program is run as people run it, its pages are asked for as browsers ask.

#![allow(
    clippy::unwrap_used,
    reason = "a test that meets an error is to stop there"
)]

mod accessible;
mod at_the_pile;
mod browser;
mod bundle;
mod cli;
mod dates;
mod demo;
mod driver;
mod escapes;
mod explained;
mod http;
mod inputs;
mod keeps;
mod laydown;
mod lists;
mod live;
mod load;
mod out_of_reach;
mod own_family;
mod phones;
mod photos;
mod points;
mod program;
mod ready;
mod received;
mod refusals;
mod relay;
mod schema;
mod setting_out;
mod tailgate;
mod tell_afar;
mod tell_walks;
mod trust;
mod verify;
mod waiting;
mod walker;
mod weight;
mod yard;
