//! Numbers as they are put beside each other, and what is said of those that do not fit.

/// An interval.
pub fn range(low: &str, high: &str) -> String {
    format!("{low} to {high}")
}

/// A number with its interval.
pub fn estimate(value: &str, low: &str, high: &str) -> String {
    format!("{value} ({low} to {high})")
}

/// What was typed and is refused, and why.
pub fn does_not_fit(typed: &str, bound: &str) -> String {
    format!("“{typed}” does not fit: give {bound}")
}

/// A number that is refused, and why.
pub fn number_does_not_fit(value: &str, bound: &str) -> String {
    format!("{value} does not fit: give {bound}")
}

/// The bound of a share.
pub fn share_bound(low: &str, high: &str) -> String {
    format!("a number from {low} to {high} %")
}

/// The bound of a whole number.
pub fn whole_bound(low: u64, high: u64) -> String {
    format!("a whole number from {low} to {high}")
}
