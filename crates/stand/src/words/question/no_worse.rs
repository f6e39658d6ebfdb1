//! No worse fall.

/// How the sentence begins.
pub const LABEL: &str = "Show that there is no worse fall";
/// What stands below it.
pub const ASIDE: &str = "A test of non-inferiority. To find no significant fall is not this claim: a poor survey finds none either. Written afterwards it would read: “with the stated confidence, the fall is less than the margin”.";
/// Before the margin.
pub const THAN: &str = " than ";
/// Name of its number.
pub const MARGIN: &str = "margin: fall in per cent";
/// Name of the number of its years.
pub const YEARS: &str = "years of the margin";
/// Before the fall believed in.
pub const IN_TRUTH: &str = " years, when in truth they fall by ";
/// Name of its number.
pub const FALL: &str = "fall believed in, in per cent";
/// Before the accepted false claims.
pub const CLAIM: &str = " %, making the claim falsely in ";
/// Before the wanted power.
pub const RIGHTLY: &str = " % of surveys when the fall is just the margin, and rightly in ";
