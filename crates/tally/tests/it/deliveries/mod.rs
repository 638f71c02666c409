//! Deliveries, simulated forward from what is physically there, with errors planted of every kind. The tests ask whether
//! what the explanation says is what truly happened; the bench takes its log from here as well.
//!
//! Nothing here knows of the explanation, its causes or its chances.

pub mod alike;
pub mod delivery;
pub mod habits;
pub mod hands;
pub mod houses;
pub mod planted;
pub mod random;
pub mod sender;
pub mod site;
