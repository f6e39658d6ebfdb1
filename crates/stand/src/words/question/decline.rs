//! A fall of the catch.

/// How the sentence begins.
pub const LABEL: &str = "Detect a fall";
/// Name of the number of the fall.
pub const CHANGE: &str = "fall in per cent";
/// Before the target.
pub const PER_CENT_IN: &str = " % in ";
/// Before the years.
pub const OVER: &str = " over ";
/// Name of their number.
pub const YEARS: &str = "years over which it falls";
/// Before the fall in a year.
pub const YEARS_AT: &str = " years (";
/// Before the results that count.
pub const A_YEAR_WHERE: &str = " % a year), where ";
/// Results that count.
pub const ONLY_A_FALL: &str = "only a fall counts";
