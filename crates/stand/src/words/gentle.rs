//! Catching less of each.

/// Begins the comparison.
pub const COMPARE: &str = "Compare light samples with heavy ones";
/// Name of the table of kinds of trap.
pub const TRAPS_TABLE: &str = "kinds of trap side by side";
/// Name of the table of lighter samples.
pub const LIGHTER_TABLE: &str = "lighter samples";
/// Name of the table of sub-sampling.
pub const SUB_SAMPLING_TABLE: &str = "sub-sampling: hours alone";
