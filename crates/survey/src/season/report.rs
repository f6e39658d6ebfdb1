//! Everything about the choice of weeks.

use super::by_week::{Week, by_week, information};
use super::moved::{Moved, moved};
use super::sets::{Best, Found, best_sets};
use super::toll::Weights;
use crate::scenario::Checked;
use serde::Serialize;

/// The season by week, the best weeks of a number, and what becomes of them when the season moves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeasonReport {
    /// How animals are weighed.
    pub weights: Weights,
    /// Every week of the year.
    pub weeks: Vec<Week>,
    /// The plan's own weeks.
    pub plan: Found,
    /// How many weeks the best sets have.
    pub number: u32,
    /// The best sets.
    pub best: Vec<Best>,
    /// Moves of the season: the sets are the plan's own, then those of `best` that there are.
    pub robustness: Vec<Moved>,
}

/// The report for sets of `number` weeks.
pub fn season_report(scenario: &Checked, number: u32, weights: Weights) -> SeasonReport {
    let plan = own(scenario, &weights);
    let best = best_sets(scenario, number, &weights);
    let mut sets = vec![plan.clone()];
    sets.extend(best.iter().filter_map(|b| b.set.clone()));
    SeasonReport {
        weights,
        weeks: by_week(scenario, &weights),
        plan,
        number,
        robustness: moved(scenario, &sets, &weights),
        best,
    }
}

/// The plan's own weeks.
pub fn own(scenario: &Checked, weights: &Weights) -> Found {
    let information = information(scenario, &scenario.plan);
    Found::new(scenario, &scenario.plan.open_weeks(), information, weights)
}
