//! Weeks to months, years of trapping to calendar years.

use crate::scenario::{Checked, Effect, Seasons};

/// Weeks that a year is taken to have.
pub const WEEKS_A_YEAR: u32 = 52;

/// Months of a season's year and the next, for work that comes after the catch.
pub(super) const SLOTS: usize = 24;

/// The month, 1 to 12, of a week of the year, 1 to 53: the year is taken as 52 weeks of equal share.
pub fn month_of_week(week: u32) -> u32 {
    12 * (week.clamp(1, WEEKS_A_YEAR) - 1) / WEEKS_A_YEAR + 1
}

/// The month, from 0, of work so many weeks after a week of the year; 12 and above lie in the next year. At most 51
/// weeks, so that there is no year after the next.
pub(super) fn slot(week: u32, later: u32) -> usize {
    let since = week.clamp(1, WEEKS_A_YEAR) - 1 + later.min(WEEKS_A_YEAR - 1);
    (12 * since / WEEKS_A_YEAR) as usize
}

/// Calendar years in which there may be work: those of trapping, and after each the next.
#[derive(Clone, Debug)]
pub(super) struct Calendar {
    labels: Vec<u32>,
    rows: Vec<usize>,
}

impl Calendar {
    /// Of so many years of trapping.
    pub fn of(scenario: &Checked, years: u32) -> Self {
        let visits = scenario.plan.visits.as_ref().map(|v| v.seasons);
        let gap = match (&scenario.question.effect, visits) {
            (Effect::Occupancy(o), Some(Seasons::FirstAndLast)) => {
                (o.over_years.round() as u32).max(1)
            }
            _ => 1,
        };
        let trapped: Vec<u32> = (0..years).map(|y| 1 + y * gap).collect();
        let mut labels: Vec<u32> = trapped.iter().flat_map(|&y| [y, y + 1]).collect();
        labels.dedup();
        labels.sort_unstable();
        labels.dedup();
        let rows = trapped
            .iter()
            .filter_map(|y| labels.binary_search(y).ok())
            .collect();
        Self { labels, rows }
    }

    /// The calendar years, from 1.
    pub fn labels(&self) -> &[u32] {
        &self.labels
    }

    /// For each year of trapping its place among them; the next calendar year has the next place.
    pub fn trapped(&self) -> &[usize] {
        &self.rows
    }
}
