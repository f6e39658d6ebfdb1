//! How many are caught.

/// How the sentence begins.
pub const LABEL: &str = "Know how many are caught";
/// What stands below it.
pub const ASIDE: &str = "The mean catch of a trap-week over all sites of the region in the years trapped, good or bad as they are. Power is the share of surveys whose interval is as narrow as wanted; misses are intervals that do not hold the truth.";
/// Before the precision.
pub const TO_WITHIN: &str = " per trap-week, to within ";
/// Name of its number.
pub const WITHIN: &str = "half-width of the interval in per cent of the mean";
/// Before the accepted misses.
pub const MISSING: &str = " % of the mean, missing the truth in ";
/// Name of their number.
pub const MISSES: &str = "accepted intervals that miss the truth, in per cent";
/// Before the wanted power.
pub const AS_PRECISE: &str = " % of surveys, and as precise as that in ";
