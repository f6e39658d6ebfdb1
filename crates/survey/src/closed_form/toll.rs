//! The expected toll of a plan: no simulation needed for a mean.

use super::visits::open_share;
use crate::generator::{Response, occupied_shares, rate};
use crate::scenario::{Checked, Plan, Scenario};
use crate::season;
use numerics::maths::exp;

/// Mean kill of a plan over all its years.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct ExpectedToll {
    /// Target animals.
    pub target: f64,
    /// By-catch, in the scenario's order of groups.
    pub bycatch: Vec<f64>,
}

impl ExpectedToll {
    /// All animals.
    pub fn total(&self) -> f64 {
        self.target + self.bycatch.iter().sum::<f64>()
    }
}

/// Mean of the product of independent lognormal effects with these SDs: exp(sum s^2 / 2).
pub fn mean_factor(sds: &[f64]) -> f64 {
    exp(0.5 * sds.iter().map(|s| s * s).sum::<f64>())
}

/// SDs of all that makes a trap-week's expected catch differ from that of the median.
pub fn spread_of_catch(scenario: &Scenario) -> [f64; 5] {
    let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
    [
        t.site_sd.value,
        t.year_sd.value,
        t.site_year_sd.value,
        t.trap_sd.value,
        d.shared_week_sd.value,
    ]
}

/// Expected kill of a plan when the stated change happens; every trap-week that is set kills, counted or lost.
pub fn expected_toll(scenario: &Checked, plan: &Plan) -> ExpectedToll {
    let p = &scenario.premises;
    let t = &p.target;
    let trap_weeks = |peak: f64, width: f64| {
        let classes = season::classes(plan, peak, width);
        season::total(&classes) * f64::from(plan.traps_per_site) * plan.exposure_days / 7.0
    };
    let years = plan.years as usize;
    // What departures do to a year's mean: the traps' drift, and sites whose own slopes take them apart.
    let slope_sd = p.departures.site_slope_sd.value;
    let drift = p.departures.log_drift();
    let grown: Vec<f64> = (0..years)
        .map(|y| exp(drift * y as f64) * mean_factor(&[slope_sd * y as f64]))
        .collect();
    // Sum over sites and years of the relative catch.
    let response = Response::of(scenario, plan);
    let sites = plan.sites as usize;
    let occupied = occupied_shares(scenario, plan);
    let open = open_share(scenario, plan);
    let of_year = |y: usize| {
        let share = occupied.as_ref().map_or(1.0, |o| o[y]);
        response.sum(sites, y) * grown[y] * share * open.target
    };
    let relative: f64 = (0..years).map(of_year).sum();
    let target = rate(scenario)
        * trap_weeks(t.season_peak_week.value, t.season_width_weeks.value)
        * relative
        * mean_factor(&spread_of_catch(scenario));
    let bycatch = p
        .bycatch
        .iter()
        .enumerate()
        .map(|(i, g)| {
            g.catch_per_trap_week.value
                * trap_weeks(g.season_peak_week.value, g.season_width_weeks.value)
                * f64::from(plan.sites * plan.years)
                * mean_factor(&[g.site_sd.value, g.year_sd.value])
                * open.bycatch[i]
        })
        .collect();
    ExpectedToll { target, bycatch }
}
