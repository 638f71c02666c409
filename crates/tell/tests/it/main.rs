//! Tests of telling parts apart.

mod calibration;
mod draw;
mod house;
