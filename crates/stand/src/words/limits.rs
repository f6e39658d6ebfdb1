//! How far the search may go.

/// What to type for a cap.
pub const ONE_NUMBER: &str = "one number, or nothing for no limit";
/// The trap of the premises.
pub const USUAL_TRAP: &str = "the trap of the premises";
/// Over the kinds of trap.
pub const TRAPS: &str = "kinds of trap to try (the plan's own alone when none is ticked)";
/// Over the cap on money.
pub const MONEY: &str = "most money, all years";
/// Over the cap on hours.
pub const HOURS: &str = "most person-hours, all years";
/// Over the cap on travel.
pub const TRAVEL_DAYS: &str = "most days with travel, all years";
/// Weeks around the plan's.
pub const AROUND: &str = "runs around the middle of the plan's weeks";
/// Weeks in a row.
pub const ANY_RUN: &str = "runs that begin anywhere";
/// Any weeks.
pub const CHOSEN: &str = "weeks chosen one by one";
/// Fold-out of the limits.
pub const TITLE: &str = "Limits: how far the search goes, what no plan may exceed";
/// Over the choice of weeks.
pub const WHICH_WEEKS: &str = "which weeks";
/// Over the numbers of years.
pub const YEARS: &str = "numbers of years to try (the plan's own when empty)";
/// What to type there.
pub const YEARS_BOUND: &str = "whole numbers with commas between them, such as 8, 10, 12";
/// Over the days a week.
pub const DAYS: &str = "days a week to try (the plan's own when empty)";
/// What to type there.
pub const DAYS_BOUND: &str = "numbers with commas between them, such as 2, 4, 7";
/// Below the caps.
pub const NOTE: &str = "Caps hold for expected numbers. Groups by name can be capped and weighted in the scenario's file.";

/// A cap on what is killed of a class.
pub fn most_killed(class: &str) -> String {
    format!("most {class} killed, all years")
}

/// The weight of a class.
pub fn weight(class: &str) -> String {
    format!("{class}: one counts as so many animals (1 when empty)")
}
