//! Tests of the whole.
