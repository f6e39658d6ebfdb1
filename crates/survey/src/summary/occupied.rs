//! What an answer about occupied sites tells besides.

use crate::closed_form::{self, Detection, expected_toll};
use crate::frontier::resized;
use crate::scenario::{Checked, Plan, Scenario, Scheme, Visits};
use serde::Serialize;

/// Detection at an occupied site, what closing sites spares, and how else the effort could be split.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OccupancyTold {
    /// Chance that one week of trapping at an occupied site catches the target, the mean over weeks.
    pub detection_per_visit: f64,
    /// Chance that a year of it does.
    pub detection_per_year: f64,
    /// Expected animals killed in all years if every week were trapped at every site.
    pub toll_of_all_weeks: f64,
    /// Expected animals spared by closing sites early; `null` when no site is.
    pub spared: Option<f64>,
    /// Of all splits of the plan's site-weeks between sites and weeks the one with the most power by closed form; `null`
    /// when there is none.
    pub best_split: Option<Split>,
}

/// A split of site-weeks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Split {
    /// Sites.
    pub sites: u32,
    /// Weeks at each of them a year.
    pub weeks: u32,
    /// Power by closed form.
    pub preview_power: f64,
}

impl OccupancyTold {
    /// Of the question of occupancy; `None` of any other.
    pub(super) fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let visits = plan.visits.as_ref()?;
        let d = Detection::new(scenario, plan);
        let all_weeks = Plan {
            visits: Some(Visits {
                scheme: Scheme::Standard,
                ..visits.clone()
            }),
            ..plan.clone()
        };
        let whole = expected_toll(scenario, &all_weeks).total();
        let here = expected_toll(scenario, plan).total();
        Some(Self {
            detection_per_visit: d.of_a_visit(),
            detection_per_year: d.of_a_year(),
            toll_of_all_weeks: whole,
            spared: (visits.scheme != Scheme::Standard).then_some(whole - here),
            best_split: best_split(scenario, plan),
        })
    }
}

/// The best of all splits into whole weeks and the nearest whole number of sites.
fn best_split(scenario: &Checked, plan: &Plan) -> Option<Split> {
    let effort = f64::from(plan.sites) * f64::from(plan.weeks);
    let mut best: Option<Split> = None;
    for weeks in 2..=plan.weeks.max(scenario.limits.weeks) {
        let sites = (effort / f64::from(weeks)).round() as u32;
        let other = if weeks == plan.weeks {
            plan.clone()
        } else {
            resized(plan, sites.max(1), plan.traps_per_site, weeks)
        };
        let sound = Scenario {
            plan: other.clone(),
            ..(**scenario).clone()
        };
        if sound.check().is_err() {
            continue;
        }
        let preview_power = closed_form::power_at_stated(scenario, &other);
        if best.is_none_or(|b| preview_power > b.preview_power + 1e-9) {
            best = Some(Split {
                sites: other.sites,
                weeks,
                preview_power,
            });
        }
    }
    best
}
