//! The power curve.

/// Before the choice of what grows.
pub const OVER: &str = "Power and toll over ";
/// Fold-out of its table.
pub const READ: &str = "Read the curve as a table";
/// Name of its table.
pub const TABLE: &str = "table of the curve";
