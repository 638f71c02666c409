//! One test binary for the crate.

mod ways;
mod ways_case;
mod ways_cutting;
mod ways_least;
mod ways_stock;
