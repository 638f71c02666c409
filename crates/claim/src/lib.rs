//! What must be done by when, and what makes good what is wrong: notice periods and claim rules as cited data, dates,
//! what a claim must contain, and what was received in open formats.
//!
//! Nothing here is legal advice. Each rule names its source and how surely it is known, and the terms that a person
//! enters go before it.
//!
//! **Invariant:** this crate never reads a clock, a file or a source of randomness; days and times are handed in.

pub mod received;
pub mod received_csv;
pub mod received_json;
mod received_table;
mod received_text;
pub mod received_xlsx;
pub mod ubl;
pub mod x12;
