//! yard
