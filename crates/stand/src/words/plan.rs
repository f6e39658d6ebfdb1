//! The plan.

/// Over where traps stand.
pub const TRAP_POINTS: &str = "trap points";
/// Every year there.
pub const SAME_POINTS: &str = "the same every year";
/// Elsewhere each year.
pub const NEW_POINTS: &str = "new every year (they add to the scatter)";
/// Fold-out of the analysis.
pub const ANALYSIS: &str = "Analysis";
/// Over where sites stand.
pub const PLACING: &str = "sites stand";
/// Over how treated sites stand.
pub const TREATED: &str = "treated sites";
/// By themselves.
pub const ALONE: &str = "by themselves";
/// In pairs.
pub const PAIRED: &str = "each beside a neighbour without the treatment";
/// Over the weeks of a visit.
pub const SCHEME: &str = "weeks that are trapped";
/// All weeks.
pub const STANDARD: &str = "all of them at all sites";
/// Until the first catch.
pub const REMOVAL: &str = "until the first catch, then the site is closed";
/// By what the first week shows.
pub const CONDITIONAL: &str = "all where there is a catch in the first, else that one only";
/// Over the years that are trapped.
pub const SEASONS: &str = "years that are trapped";
/// Two of them.
pub const FIRST_AND_LAST: &str = "the first and the last";
/// All of them.
pub const EVERY_YEAR: &str = "every year";
