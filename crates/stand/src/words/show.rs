//! The show for an audience.

/// Name of the button that begins it.
pub const BEGIN: &str = "Begin the show";
/// Name of the whole.
pub const NAME: &str = "the survey, one picture at a time";
/// To the picture before.
pub const BACK: &str = "Back";
/// To the next one.
pub const NEXT: &str = "Next";
/// The whole screen.
pub const FULL: &str = "Full screen";
/// Ends it.
pub const END: &str = "End the show";
/// How to go by keyboard.
pub const KEYS: &str = "Arrow keys go back and forth, Escape ends.";
/// While surveys are still simulated.
pub const COUNTING: &str = "Still counting: the pictures fill as surveys are simulated.";

/// Where the show is.
pub fn place(now: usize, of: usize) -> String {
    format!("{now} of {of}")
}
