//! Twenty possible surveys.

/// What they are.
pub const ABOUT: &str = "The same twenty surveys under a smaller plan, under yours and under a larger or the least one: the truth and the luck are the same, only the plan differs. In the last row nothing is happening, so that false alarms are seen too.";
/// Name of the button that simulates them.
pub const BEGIN: &str = "Show twenty surveys";
/// Name of the button that shows them one after the other.
pub const PLAY: &str = "Play";
/// Name of the button that holds them.
pub const PAUSE: &str = "Pause";
/// One back.
pub const BACK: &str = "One back";
/// One further.
pub const NEXT: &str = "One more";
/// All at once.
pub const ALL: &str = "All twenty";
/// Name of the buttons.
pub const PLAYER: &str = "surveys one by one";
/// Fold-out of their table.
pub const READ: &str = "Read the surveys as a table";
/// Name of their table.
pub const TABLE: &str = "table of simulated surveys";

/// How many are shown.
pub fn shown(n: usize, of: usize) -> String {
    format!("{n} of {of} shown")
}
