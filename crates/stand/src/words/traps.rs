//! Kinds of trap.

/// What an option is.
pub const ABOUT: &str = "The premises tell what the usual trap catches. Another kind, or a gentler way to use it, multiplies that: add one and compare.";
/// Over the trap of the plan.
pub const USED: &str = "trap that is used";
/// Fold-out of the kinds to add.
pub const ADD: &str = "Add a kind of trap";
/// Name of a new one.
pub const NEW_NAME: &str = "another trap";
/// Adds one of one's own.
pub const ADD_OWN: &str = "Add one of your own";
/// Before the name of a known one.
pub const ADD_PRESET: &str = "Add: ";
/// Takes out what an option does to a group.
pub const REMOVE_FACTOR: &str = "Remove";
/// Over the groups.
pub const CHANGES: &str = "changes the catch of";
/// Before one is chosen.
pub const CHOOSE: &str = "choose…";
/// Fold-out of an end of animals.
pub const END: &str = "An end of animals";
/// Beside the box for it.
pub const HAS_END: &str = "animals in reach of traps are not without end";
/// What it does.
pub const ABOUT_END: &str = "More traps and longer seasons then bring less and less. An empty share means that all have come back by the next year: an assumption.";

/// All animals of a class.
pub fn all(class: &str) -> String {
    format!("all {class}")
}

/// Name of the button that takes out what an option does to a group.
pub fn remove_factor(of: &str) -> String {
    format!("Remove the factor of {of}")
}
