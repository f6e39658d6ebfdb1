//! The expected toll of a plan: no simulation needed for a mean.

use crate::generator::positions;
use crate::scenario::{Checked, Effect, Plan};
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
    let relative: f64 = match (&scenario.question.effect, &p.gradient) {
        (Effect::Decline(d), _) => {
            let slope = d.log_slope();
            let each = (0..years).map(|y| exp(slope * y as f64) * grown[y]);
            each.sum::<f64>() * f64::from(plan.sites)
        }
        (Effect::RangeShift(shift), Some(g)) => positions(plan)
            .iter()
            .flat_map(|x| {
                grown.iter().enumerate().map(move |(y, grown)| {
                    let moved = shift.distance_per_decade / 10.0 * y as f64;
                    let d = (x - g.optimum.value - moved) / g.tolerance.value;
                    exp(-0.5 * d * d) * grown
                })
            })
            .sum(),
        (Effect::RangeShift(_), None) => 0.0,
    };
    let spread = [
        t.site_sd.value,
        t.year_sd.value,
        t.site_year_sd.value,
        t.trap_sd.value,
        p.departures.shared_week_sd.value,
    ];
    let target = t.catch_per_trap_week.value
        * trap_weeks(t.season_peak_week.value, t.season_width_weeks.value)
        * relative
        * mean_factor(&spread);
    let bycatch = p
        .bycatch
        .iter()
        .map(|g| {
            g.catch_per_trap_week.value
                * trap_weeks(g.season_peak_week.value, g.season_width_weeks.value)
                * f64::from(plan.sites * plan.years)
                * mean_factor(&[g.site_sd.value, g.year_sd.value])
        })
        .collect();
    ExpectedToll { target, bycatch }
}
