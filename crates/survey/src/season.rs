//! The season: the expected catch of each week as a share of the peak's; which weeks to choose; and what becomes of a
//! choice when the season moves.

mod by_week;
mod moved;
mod moving;
mod report;
mod reproductive;
mod sets;
mod toll;

pub use by_week::{Week, by_week};
pub use moved::{Kind, Move, Moved, UnderMove, moved};
pub use moving::Moving;
pub use report::{SeasonReport, own, season_report};
pub use reproductive::reproductive_shares;
pub use sets::{Best, Found, Goal, Method, best_sets};
pub use toll::{Classes, SetToll, Weights};

use crate::scenario::Plan;
use numerics::maths::exp;

/// Weeks of equal expected catch, taken together because they share one law.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeekClass {
    /// Expected catch as a share of the peak's, 0 to 1.
    pub weight: f64,
    /// How many weeks.
    pub weeks: u32,
}

/// Share of the peak's catch in a week: a bell curve with its SD in weeks.
pub fn weight(week: f64, peak: f64, width: f64) -> f64 {
    let d = (week - peak) / width;
    exp(-0.5 * d * d)
}

/// Share of the peak's catch in each of the plan's weeks.
pub fn weights(plan: &Plan, peak: f64, width: f64) -> Vec<f64> {
    plan.open_weeks()
        .into_iter()
        .map(|w| weight(f64::from(w), peak, width))
        .collect()
}

/// Weeks by their weight, heaviest first; of equal ones the earlier first.
pub fn heaviest_first(weights: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by(|&a, &b| weights[b].total_cmp(&weights[a]));
    order
}

/// The plan's weeks by their weight, heaviest first, so that a short run draws the same numbers as the middle of a
/// long one.
pub fn classes(plan: &Plan, peak: f64, width: f64) -> Vec<WeekClass> {
    let weights = weights(plan, peak, width);
    let mut classes: Vec<WeekClass> = Vec::new();
    for weight in heaviest_first(&weights).into_iter().map(|w| weights[w]) {
        match classes.last_mut() {
            Some(last) if last.weight - weight < 1e-12 * last.weight => last.weeks += 1,
            _ => classes.push(WeekClass { weight, weeks: 1 }),
        }
    }
    classes
}

/// Sum of the weights over the plan's weeks.
pub fn total(classes: &[WeekClass]) -> f64 {
    classes.iter().map(|c| c.weight * f64::from(c.weeks)).sum()
}

/// Number of weeks of equal catch that would scatter as much: (sum w)^2 / sum w^2.
pub fn effective_weeks(classes: &[WeekClass]) -> f64 {
    let squares: f64 = classes
        .iter()
        .map(|c| c.weight * c.weight * f64::from(c.weeks))
        .sum();
    let sum = total(classes);
    if squares > 0.0 {
        sum * sum / squares
    } else {
        f64::from(classes.iter().map(|c| c.weeks).sum::<u32>())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symmetric_weeks_share_a_class() {
        let plan = Plan {
            sites: 2,
            traps_per_site: 1,
            first_week: 20,
            weeks: 5,
            chosen_weeks: None,
            exposure_days: 7.0,
            years: 3,
            transect: None,
            groups: None,
            visits: None,
            stop_rule: None,
            looks: None,
            trap_points: crate::scenario::TrapPoints::Same,
            trap_option: None,
            places: Vec::new(),
            revisit: None,
            gap_years: Vec::new(),
        };
        let c = classes(&plan, 22.0, 3.0);
        assert_eq!(c.iter().map(|c| c.weeks).collect::<Vec<_>>(), [1, 2, 2]);
        assert_eq!(c[0].weight, 1.0);
        assert!(effective_weeks(&c) < 5.0 && effective_weeks(&c) > 4.0);
        assert!((effective_weeks(&classes(&plan, 22.0, 1e6)) - 5.0).abs() < 1e-9);
    }
}
