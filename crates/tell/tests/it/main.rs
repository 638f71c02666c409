//! Tests of telling parts apart.

mod calibration;
mod cases;
mod draw;
mod hostile;
mod house;
mod no_error;
mod policy;
mod published;
mod wire;
