//! Planned looks.

/// No rule of futility.
pub const NEVER: &str = "never";
/// Over the choice of lines.
pub const LINES: &str = "lines";
/// What they are for.
pub const ABOUT: &str = "Looking at the catches before the last year, by lines written down beforehand, lets a survey stop early without raising more false alarms. Looking without lines does raise them.";
/// Plans them.
pub const PLAN: &str = "plan looks before the last year";
/// Where none can be planned.
pub const TOO_FEW_YEARS: &str = "the plan has too few years for a look before the last";
/// Over the years.
pub const AFTER: &str = "look after year";
/// Over the rule of futility.
pub const FUTILITY: &str = "stop for futility";
/// By conditional power.
pub const HARDLY: &str = "when the change will hardly be found any more";
/// By a line of its own.
pub const BY_A_LINE: &str = "by a line that spends a chance to miss the change";
/// Over what follows below that line.
pub const BELOW: &str = "below the futility line";
/// It does not bind.
pub const MAY: &str = "one may stop (not binding)";
/// It binds.
pub const MUST: &str = "one must stop (binding)";
/// Simulates them.
pub const SIMULATE: &str = "Simulate the looks";
/// Name of their table.
pub const TABLE: &str = "table of the looks";
/// Name of the table of the kill.
pub const TOLL_TABLE: &str = "animals killed with and without looks";
/// Name of the table of costs.
pub const COST_TABLE: &str = "costs with and without looks";
/// Before the digest of the results.
pub const DIGEST: &str = "Digest of the results of the looks: ";

/// The last year, after the others.
pub fn last(year: u32) -> String {
    format!("and after year {year}, the last")
}
