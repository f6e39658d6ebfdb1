//! An inventory.

/// How the sentence begins.
pub const LABEL: &str = "Make an inventory";
/// What stands below it.
pub const ASIDE: &str = "A survey answers when it has truly recorded the wanted share of the community that the pilot makes one believe in, completed for species not seen. The survey stands by itself: the pilot's own catch is not counted. Species have the same shares at all sites and weeks.";
/// Before the share.
pub const UNTIL: &str = " until ";
/// Name of its number.
pub const SHARE: &str = "share to be recorded in per cent";
/// Before what it is of.
pub const PER_CENT_OF: &str = " % of ";
/// Name of the choice of what it is of.
pub const SHARE_OF: &str = "what the share is of";
/// It is of the individuals.
pub const COVERAGE: &str = "the individuals belong to recorded species";
/// It is of the species.
pub const SPECIES: &str = "the species reckoned to be there are recorded";
/// Before the accepted false claims.
pub const ACCEPTING: &str = " %, accepting that ";
/// Ends the sentence.
pub const END: &str = " % of surveys claim it by their own estimate without having reached it.";
