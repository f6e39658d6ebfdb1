//! There are none.

/// How the sentence begins.
pub const LABEL: &str = "Show that there are none";
/// What stands below it.
pub const ASIDE: &str = "The density is the mean catch of a trap-week at the season's peak over all sites, were the target there. Finding none never proves absence: it excludes densities. Where animals must be reported by law, the authority decides how they are looked for.";
/// Before the density.
pub const AT_DENSITY: &str = " at a density of ";
/// Name of its number.
pub const DENSITY: &str = "density to exclude, animals a trap-week";
/// Before the confidence.
pub const WITH_CONFIDENCE: &str = " a trap-week or more, with a confidence of ";
/// Name of its number.
pub const CONFIDENCE: &str = "confidence in per cent";
