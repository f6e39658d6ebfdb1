//! Tests across the crates: reference fits, calibration, parity, command line, browser. Helpers live here.

pub mod runs;
pub mod scenarios;
pub mod simulate;
pub mod size_study;
pub mod small;
pub mod variants;

use std::path::PathBuf;

/// A path inside this package.
pub fn path(inside: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(inside)
}

/// A path from the top of the project.
pub fn project(inside: &str) -> PathBuf {
    path("..").join(inside)
}

/// Whether `got` is within a relative `tolerance` of `want` (absolute below 1).
pub fn close(got: f64, want: f64, tolerance: f64) -> bool {
    (got - want).abs() <= tolerance * want.abs().max(1.0)
}
