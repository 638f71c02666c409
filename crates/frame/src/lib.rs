//! The frame: a family and an order make a graph of members and joints; the parts list is read off it.

mod part;

pub use part::{End, Mark, Part, Section, SubKit};
