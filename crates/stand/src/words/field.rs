//! Words beside a number that can be edited.

/// How to tell where a number is published.
pub const CITATION: &str = "author, year, journal";

/// A number's name with its unit.
pub fn with_unit(label: &str, unit: &str) -> String {
    format!("{label}, {unit}")
}

/// Name of the choice of where a number comes from.
pub fn source_of(label: &str) -> String {
    format!("source of {label}")
}

/// Name of the field for where a number is published.
pub fn publication_of(label: &str) -> String {
    format!("publication of {label}")
}
