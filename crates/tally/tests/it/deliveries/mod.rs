//! Deliveries, simulated forward from what is physically there, with errors planted of every kind: is what the
//! explanation says what truly happened?

mod alike;
mod delivery;
mod hands;
mod houses;
mod peer;
mod planted;
mod random;
mod sender;
mod site;

mod generator;
