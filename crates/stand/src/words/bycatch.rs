//! Groups of by-catch.

/// Adds a group.
pub const ADD: &str = "Add a group";

/// Name of a new group.
pub fn new_name(n: usize) -> String {
    format!("group {n}")
}
