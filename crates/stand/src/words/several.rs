//! All species of the list, and the other species of which the same is asked.

/// Computes them.
pub const COMPUTE: &str = "Compute all species";
/// Name of their table.
pub const TABLE: &str = "table of all species";
/// Before the digest of the results.
pub const DIGEST: &str = "Digest of the results of all species: ";
/// What is asked of other species.
pub const ASKED: &str = "The same is asked of each, under the same plan, losses, departures and analysis; each has premises of its own. All of them are killed, whichever is looked at.";
/// Where the question takes no other species.
pub const NOT_ASKED: &str = "This question is asked of one species.";
/// Adds a species.
pub const ADD: &str = "Add a species";

/// Name of a new species.
pub fn new_name(n: usize) -> String {
    format!("species {n}")
}
