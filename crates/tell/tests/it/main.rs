//! Tests of telling parts apart.
