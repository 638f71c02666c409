//! Tests from outside: the program is run as people run it, its pages are asked for as browsers ask.

mod browser;
mod cli;
mod demo;
mod driver;
mod escapes;
mod http;
mod inputs;
mod keeps;
mod program;
mod refusals;
mod schema;
mod yard;
