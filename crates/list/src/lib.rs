//! list
