//! Tests across the crates.
