//! A change of the share of occupied sites.

/// How the sentence begins.
pub const LABEL: &str = "Detect a change of the share of sites";
/// What stands below it.
pub const ASIDE: &str = "A site where the target lives may show none: how easily it is caught there follows from the premises of the catch, which are those of occupied sites here. A visit is a week of trapping with all traps of a site.";
/// Before the target.
pub const WITH: &str = " with ";
/// Before the first share.
pub const FROM: &str = " from ";
/// Name of its number.
pub const FIRST_SHARE: &str = "share of sites occupied at first, in per cent";
/// Before the last share.
pub const PER_CENT_TO: &str = " % to ";
/// Name of its number.
pub const LAST_SHARE: &str = "share of sites occupied at the end, in per cent";
/// Name of the number of years.
pub const YEARS: &str = "years over which it changes";
/// Results that count.
pub const ONLY_THIS_WAY: &str = "only a change this way counts";
