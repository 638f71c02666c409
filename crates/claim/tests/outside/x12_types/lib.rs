//! Nothing here but the test.
