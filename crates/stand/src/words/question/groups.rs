//! Two groups of sites.

/// How the sentence of a difference begins.
pub const DIFFERENCE: &str = "Detect a difference between two groups of sites";
/// What stands below it.
pub const DIFFERENCE_ASIDE: &str = "Treated are the sites of either group: mown late, with a flower strip, not sprayed. Sites that are not divided by lot may differ for other reasons than the treatment.";
/// How the sentence of a change begins.
pub const BEFORE_AFTER: &str =
    "Detect what a treatment changes, before and after, with control sites";
/// What stands below it.
pub const BEFORE_AFTER_ASIDE: &str = "The change of the treated sites against that of the control sites: what all sites have in common, good and bad years above all, drops out.";
/// Before the number.
pub const TREATED_CATCH: &str = ": treated sites catch ";
/// Name of the number of the difference.
pub const DIFFERENCE_NUMBER: &str = "difference in per cent, below 0 for fewer";
/// Before the target.
pub const PER_CENT_MORE: &str = " % more (below 0: fewer) ";
/// Before the results that count.
pub const THAN_OTHERS: &str = " than the others, where ";
/// Results that count.
pub const EITHER_DIFFERENCE: &str = "a difference either way counts";
/// Results that count.
pub const ONLY_THIS_WAY: &str = "only one this way counts";
/// Name of the number of the change.
pub const CHANGE_NUMBER: &str = "change in per cent, below 0 for fewer";
/// Before the years without the treatment.
pub const THAN_WITHOUT: &str = " than without the treatment, which begins after ";
/// Name of their number.
pub const YEARS_BEFORE: &str = "years before the treatment";
