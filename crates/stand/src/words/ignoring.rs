//! If the analysis is not told.

/// Begins the comparison.
pub const COMPUTE: &str = "Compute the costs";
/// Name of its table.
pub const TABLE: &str = "table of what ignoring costs";

/// What is compared.
pub fn about(of: &str) -> String {
    format!("Analyses the same simulated surveys twice for each: told of {of}, and not told.")
}

/// What is not.
pub fn not_compared(of: &str, why: &str) -> String {
    format!("Not compared: {of}: {why}")
}
