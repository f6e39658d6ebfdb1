//! The method sheet.

/// Fold-out of the sheet.
pub const TITLE: &str = "The method, and the false alarms of every test";
/// Name of the table of all tests.
pub const SUMMARY_TABLE: &str = "false alarms of every test, lowest and highest";
/// Fold-out of all worlds.
pub const WORLDS: &str = "All 144 worlds";
/// Over the choice of the dispersion.
pub const DISPERSION: &str = "dispersion k";
/// Name of their table.
pub const WORLDS_TABLE: &str = "false alarms in every world";
