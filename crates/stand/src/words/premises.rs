//! What is believed of the target.

/// What the numbers are.
pub const ABOUT: &str = "Catches are those of a typical (median) site in a typical year, in the first year. Numbers marked “common practice” have no published source; replace them by your pilot's.";
/// Where the question states the catch.
pub const OF_QUESTION: &str = "The catch is the density of the question.";
/// Beside the box of reproductive animals.
pub const REPRODUCTIVES: &str = "tell reproductive animals apart, such as females with eggs";
