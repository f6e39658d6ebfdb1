//! A move along a gradient.

/// A part of the range.
pub const OPTIMUM: &str = "optimum";
/// How the sentence begins.
pub const LABEL: &str = "Detect a range shift";
/// What stands below it.
pub const ASIDE: &str = "The optimum is the place of the highest catch along the gradient; the catch falls off as a bell curve on both sides. An edge is where half of the sites are occupied.";
/// A part of the range.
pub const UPPER_EDGE: &str = "upper edge";
/// A part of the range.
pub const LOWER_EDGE: &str = "lower edge";
/// Before the part.
pub const OF_THE: &str = " of the ";
/// Name of the choice of the part.
pub const PART: &str = "part of the range";
/// Before the distance.
pub const BY: &str = " by ";
/// Name of its number.
pub const SHIFT: &str = "shift a decade";
/// Name of the choice of the gradient.
pub const GRADIENT: &str = "gradient";
/// A gradient.
pub const UPWARDS: &str = "m upwards";
/// A gradient.
pub const NORTHWARDS: &str = "km northwards";
/// Before the results that count.
pub const A_DECADE: &str = " a decade, where ";
/// Results that count.
pub const EITHER_MOVE: &str = "a move either way counts";
/// Results that count.
pub const ONLY_THIS_WAY: &str = "only a move this way counts";
