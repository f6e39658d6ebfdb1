//! When a plan's toll is taken: its shares by week of the season and by year.

use super::toll::{Sums, grown, moved, relative_by_year};
use super::visits::closed_weeks;
use crate::generator::{World, occupied_shares};
use crate::scenario::{Checked, Plan};
use crate::season;

/// Shares of one expected toll.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shares {
    /// By week of the plan; they add to 1.
    pub weeks: Vec<f64>,
    /// By year of the plan; they add to 1.
    pub years: Vec<f64>,
}

/// When the toll of [`expected_toll`](super::expected_toll) is taken. Weeks are those of a season that stays where it is,
/// whatever moves it from year to year. Schemes that close sites do so alike in every
/// year: as at the mean share of occupied sites.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Timing {
    /// Sites that are expected to be visited in each year, by the plan and by who dropped out.
    pub sites: Vec<f64>,
    /// Share of these that are trapped in each week.
    pub open: Vec<f64>,
    /// Of the target.
    pub target: Shares,
    /// Of by-catch and of other species that are asked about, in the order of the toll.
    pub besides: Vec<Shares>,
}

/// Scaled to add to 1; evenly where all are 0.
fn shares(of: Vec<f64>) -> Vec<f64> {
    let total: f64 = of.iter().sum();
    if total > 0.0 {
        of.iter().map(|v| v / total).collect()
    } else {
        vec![1.0 / of.len() as f64; of.len()]
    }
}

impl Timing {
    /// Of a plan.
    pub fn of(scenario: &Checked, plan: &Plan) -> Self {
        let closed = closed_weeks(scenario, plan);
        let open = closed
            .as_ref()
            .map_or_else(|| vec![1.0; plan.weeks as usize], |c| c.open.clone());
        let t = &scenario.premises.target;
        let season = |peak, width| season::weights(plan, peak, width);
        let target = closed.map_or_else(
            || season(t.season_peak_week.value, t.season_width_weeks.value),
            |c| c.target,
        );
        let sums = Sums::of(scenario, plan);
        let grown = grown(scenario, plan.years);
        let occupied = occupied_shares(scenario, plan);
        let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
        let moved_target = moved(scenario, plan, peak, width);
        let of_year = |y: usize| {
            let share = occupied.as_ref().map_or(1.0, |o| o[y]);
            let (sum, caught) = sums.of_target(y);
            sum * grown[y] * share * caught * moved_target[y]
        };
        let besides = scenario.premises.killed_besides();
        let besides = besides.iter().map(|killed| {
            let g = &killed.group;
            let (peak, width) = (g.season_peak_week.value, g.season_width_weeks.value);
            let weeks = season(peak, width);
            let moved = moved(scenario, plan, peak, width);
            Shares {
                weeks: shares(weeks.iter().zip(&open).map(|(s, o)| s * o).collect()),
                years: shares(if killed.asked_about {
                    relative_by_year(scenario, plan, World::Change, &moved)
                } else if sums.is_even() {
                    moved
                } else {
                    let each = moved.iter().enumerate();
                    each.map(|(y, m)| sums.sites(y) * m).collect()
                }),
            }
        });
        Self {
            target: Shares {
                weeks: shares(target),
                years: shares((0..plan.years as usize).map(of_year).collect()),
            },
            besides: besides.collect(),
            sites: (0..plan.years as usize).map(|y| sums.sites(y)).collect(),
            open,
        }
    }
}
