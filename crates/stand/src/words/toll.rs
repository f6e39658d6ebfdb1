//! What it kills.

/// Name of the table of all years.
pub const REGION: &str = "toll over all years";
/// Its heading.
pub const CAPTION: &str = "Toll over all years";
/// Over the groups.
pub const GROUP: &str = "group";
/// Over the means.
pub const MEAN: &str = "mean";
/// Over the intervals.
pub const INTERVAL: &str = "90 % interval";
/// The class of the target.
pub const TARGET: &str = "target";
/// All of them together.
pub const ALL_ANIMALS: &str = "all animals";
/// Fold-out of the years.
pub const YEARS: &str = "Toll year by year";
/// Name of their table.
pub const YEARS_REGION: &str = "toll year by year";
/// Its heading.
pub const YEARS_CAPTION: &str = "Toll of each year: mean (90 % interval)";
/// Over the years.
pub const YEAR: &str = "year";

/// What the numbers are.
pub fn about(world: &str) -> String {
    format!(
        "Mean over simulated surveys ({world}), and the interval that holds 90 % of them (luck of the draw alone). Every trap-week that is set kills, whether its catch is counted or lost."
    )
}

/// What is not excluded, after an interval.
pub fn not_excluded(n: &str) -> String {
    format!("; up to {n} not excluded")
}

/// All animals in another world.
pub fn all_animals(world: &str) -> String {
    format!("{ALL_ANIMALS} {world}")
}
