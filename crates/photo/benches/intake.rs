//! later
fn main() {}
