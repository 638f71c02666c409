//! Facts of the trade.
