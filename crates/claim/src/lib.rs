//! What must be done by when, and what makes good what is wrong: notice periods and claim rules as cited data, dates,
//! what a claim must contain, and what was received in open formats.
//!
//! Nothing here is legal advice. Each rule names its source and how surely it is known, and the terms that a person
//! enters go before it.
//!
//! **Invariant:** this crate never reads a clock, a file or a source of randomness; days and times are handed in.

mod arrival;
mod calendar;
mod contents;
mod days;
mod due;
mod due_words;
mod facts;
mod holidays;
mod missing;
mod odd_days;
mod of_log;
mod reach;
mod receipt_note;
mod receipt_words;
pub mod received;
pub mod received_csv;
pub mod received_json;
mod received_table;
mod received_text;
pub mod received_xlsx;
mod rule;
mod rule_file;
mod rules;
mod tailgate;
pub mod ubl;
pub mod x12;

pub use arrival::{AfterHours, Arrival, Closing, NoMoment, NoZone, Zone};
pub use calendar::{Calendar, CalendarFile};
pub use contents::{Asked, Content, Paper};
pub use days::{Counted, OutOfReach, business_day_before, last_day};
pub use due::{Due, NO_ADVICE, State, due, unknown_terms};
pub use facts::{Agreed, Binds, Done, Facts, Term};
pub use holidays::{Holiday, Holidays, us_federal_of};
pub use jiff::civil::{Date, Time};
pub use missing::{Known, KnownLine, Missing, Wrong, missing, missing_under};
pub use odd_days::odd_days;
pub use of_log::{
    Sets, WHILE_NOT_SAID, facts_of, is_known, own_target, sets_of, start_name, terms_of,
    unknown_set,
};
pub use reach::day_in_words;
pub use receipt_note::{
    HarmKind, ReceiptNote, Seal, SealState, SeenAtTruck, UnitKind, receipt_note,
};
pub use receipt_words::{EMPTY_PHRASE, WordLists, WordTrouble, check_words, word_lists};
pub use rule::{Act, Basis, Force, Harm, Note, Party, Period, Rule, RuleSet, Start, Sure, Unit};
pub use rule_file::{RuleFault, read_rules};
pub use rules::RuleSets;
pub use tailgate::{CHOICES, Choice, Cited, TEN_MINUTES};
