//! Tests of pictures.
