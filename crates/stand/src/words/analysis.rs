//! How the catches are analysed.

/// Over the choice of a likelihood.
pub const LIKELIHOOD: &str = "likelihood";
/// One of them.
pub const RESTRICTED: &str = "restricted";
/// The other.
pub const MAXIMUM: &str = "maximum";
/// Over the choice of a test.
pub const TEST: &str = "test";
/// Of a claim of absence.
pub const OF_ABSENCE: &str =
    "The survey answers by whether anything is caught; there is nothing to be fitted.";
/// Of an inventory.
pub const OF_INVENTORY: &str =
    "The survey answers by what it records; there is nothing to be fitted.";
/// Over how an edge is seen.
pub const EDGE: &str = "the edge is seen by";
/// By what is caught.
pub const BY_PRESENCE: &str = "whether a site shows the target in a year";
/// By what is there.
pub const BY_DETECTION: &str = "occupied sites and the chance of detection";
/// Of an edge seen by what is caught.
pub const OF_PRESENCE: &str = "Mixed model of yes and no with sites and years as random effects, fitted by Laplace's approximation; the edge is where an even chance is.";
/// Of occupied sites.
pub const OF_OCCUPANCY: &str = "Occupied sites and the chance of detection, fitted together by maximum likelihood to the weeks with and without a catch.";
/// Over the law of detection.
pub const DETECTION: &str = "the chance of detection";
/// A chance for each year.
pub const EACH_YEAR: &str = "is each year's own";
/// One chance.
pub const CONSTANT: &str = "is the same in all years";
/// A chance for each site and year.
pub const VARYING: &str = "is each year's own and varies between sites";
/// Of counts.
pub const OF_COUNTS: &str = "Mixed model of the counts with sites and years as random effects and log trap-weeks as offset, fitted by Laplace's approximation.";
/// Over the law of the counts.
pub const COUNTS: &str = "law of the counts";
/// One of them.
pub const NEGATIVE_BINOMIAL: &str = "negative binomial";
/// The other.
pub const POISSON: &str = "Poisson";
/// Over what a row is.
pub const ROWS: &str = "rows of the analysis";
/// A year of a site.
pub const SITE_YEARS: &str = "site-year totals";
/// A week of a site.
pub const WEEKS: &str = "weekly counts of a site";
/// Over what the analysis is told.
pub const TOLD: &str = "The analysis is told of";

/// Something the analysis may be told, and how.
pub fn told(of: &str, how: &str) -> String {
    format!("{of}: {how}")
}
