//! When to trap.

/// What the picture shows.
pub const ABOUT: &str = "What each week catches, kills and tells, were its traps open. Choose weeks one by one, or have the best ones found; a number of weeks typed in the plan goes back to weeks in a row.";
/// Fold-out of its table.
pub const READ: &str = "Read the season as a table";
/// Name of its table.
pub const TABLE: &str = "table of the season by week";
/// How weeks are opened and closed.
pub const KEYS: &str =
    "Open weeks are pressed: click, or go with the arrow keys and press with the space bar.";
/// Name of the row of weeks.
pub const OPEN_WEEKS: &str = "open weeks of the year";
/// Heading of the best weeks.
pub const BEST: &str = "The best weeks, and a season that moves";
/// Over the number of weeks.
pub const HOW_MANY: &str = "how many weeks";
/// Unit of that number.
pub const A_YEAR: &str = "a year";
/// Name of the table of the best weeks.
pub const BEST_TABLE: &str = "table of the best weeks";
/// Name of the table of seasons that move.
pub const MOVES_TABLE: &str = "table of a season that moves";

/// Why a week cannot be closed.
pub fn stays_open(week: u32, fewest: usize) -> String {
    format!(
        "Week {week} stays open: a plan has at least {fewest} of them. Open another week first."
    )
}

/// Name of a week's button.
pub fn week(week: u32) -> String {
    format!("week {week}")
}

/// Name of the button that seeks the best weeks.
pub fn find(weeks: u32) -> String {
    format!("Find the best {weeks} weeks, and move the season")
}

/// Name of the button that takes them.
pub fn take(weeks: &str, goal: &str) -> String {
    format!("Take {weeks}: {goal}")
}
