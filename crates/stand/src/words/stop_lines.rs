//! When to stop in the field.

/// Over the choice of a rule.
pub const RULE: &str = "rule";
/// No rule.
pub const NONE: &str = "none";
/// What such a line is.
pub const ABOUT: &str = "Instead of a number of samples fixed beforehand: visit sites in random order, add up the catch, and stop as soon as the total is at the line.";
/// Green's line.
pub const GREEN: &str = "a precision: Green's line, on Taylor's power law";
/// Kuno's line.
pub const KUNO: &str = "a precision: Kuno's line, on the premises' clumping";
/// Wald's test.
pub const PROBABILITY_RATIO: &str = "low or high: Wald's probability ratio test";
/// Saves the card.
pub const CARD: &str = "Save the card for the field (HTML, to be printed)";
/// Name of the table of true means.
pub const MEANS_TABLE: &str = "what the rule does at a range of true means";
/// Name of the table of fixed numbers.
pub const FIXED_TABLE: &str = "samples fixed beforehand";
/// Fold-out of the lines as a table.
pub const READ: &str = "Read the lines as a table";
/// Name of that table.
pub const TOTALS_TABLE: &str = "totals at which one stops";

/// Why a number is missing.
pub fn not_exact(why: &str) -> String {
    format!("Where a dash stands the exact form takes too long ({why}).")
}
