//! Words of what limits the plan and of the map of years and sites.

/// What they answer.
pub const LIMITING_ASIDE: &str =
    "Where the doubt of this plan comes from, and what helps against it. By closed form, at once.";
/// While they are worked out.
pub const WORKING: &str = "Being worked out…";
/// When the scenario cannot stand.
pub const NO_PLAN: &str =
    "The plan cannot be worked out as it stands: see the messages beside its numbers.";
/// The table of the bars.
pub const READ_LIMITING: &str = "Read the parts as a table";
/// The floor year by year.
pub const READ_FLOOR: &str = "What unlimited traps and sites would find, by years";

/// What it shows.
pub const MAP_ASIDE: &str = "The smallest change that each number of sites and years finds. Point at a cell, touch it, or go with the arrow keys: what it says stands beneath. Enter, or the button beneath, takes the plan of a cell.";
/// The name of the map for those who do not see it.
pub const MAP_NAME: &str = "smallest change by sites and years";
/// Beneath the map before a cell is chosen.
pub const NO_CELL: &str = "No cell is chosen.";
/// The plan's own cell.
pub const OWN: &str = "this plan";
/// The table of the map.
pub const READ_MAP: &str = "Read the map in full as a table";

/// How far the map has come.
pub fn progress(done: usize, all: usize) -> String {
    format!("{done} of {all} cells worked out…")
}

/// The button that takes a cell's plan.
pub fn take(years: u32, sites: u32) -> String {
    format!("Take {years} years and {sites} sites")
}

/// Name of the table of the floor.
pub const FLOOR_TABLE: &str = "table of the floor by years";
/// Name of the table of the bars.
pub const LIMITING_TABLE: &str = "table of what limits the plan";
/// Name of the region of the map.
pub const MAP_REGION: &str = "map of years and sites";
/// Name of the table of the map.
pub const MAP_TABLE: &str = "table of the map";
